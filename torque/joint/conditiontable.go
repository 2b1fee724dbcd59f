package joint

// A conditionRow is one figure of friction: with a class it is a published µ,
// else the workshop's K.
type conditionRow struct {
	surface            Surface
	prep               Prep
	low, nominal, high float64
	class              string // friction class of VDI 2230 and what it covers
}

// conditions lists the friction of surfaces with preps.
//
// With a class: VDI 2230 table A5, friction classes, as quoted in public
// manufacturer tables. The nominal figure is the middle of use, not the middle
// of the band.
//
// Without: nut factors as workshops use them, from memory, no source. They are
// kept apart: a change of prep is worked out from two coefficients or from two
// nut factors, never from one of each.
var conditions = [...]conditionRow{
	{PlainSteel, Dry, 0.14, 0.18, 0.24, "C: bare or phosphated, as delivered, slightly oiled"},
	{PlainSteel, Dry, 0.18, 0.20, 0.25, ""},
	{PlainSteel, Grease, 0.08, 0.12, 0.16, "B: grease or oil"},
	{PlainSteel, Grease, 0.13, 0.15, 0.17, ""},
	{PlainSteel, AntiSeize, 0.04, 0.07, 0.10, "A: solid lubricant in paste"},
	{PlainSteel, AntiSeize, 0.11, 0.14, 0.17, ""},
	{PlainSteel, Threadlocker, 0.15, 0.18, 0.20, ""},
	{ZincPlated, Dry, 0.14, 0.18, 0.24, "C: galvanic zinc, nothing added"},
	{ZincPlated, Dry, 0.16, 0.18, 0.22, ""},
	{ZincPlated, Grease, 0.08, 0.12, 0.16, "B: grease or oil"},
	{ZincPlated, Grease, 0.13, 0.15, 0.17, ""},
	{ZincPlated, AntiSeize, 0.04, 0.07, 0.10, "A: solid lubricant in paste"},
	{ZincPlated, AntiSeize, 0.11, 0.14, 0.17, ""},
	{ZincPlated, Threadlocker, 0.14, 0.18, 0.24, "C: galvanic zinc, adhesive"},
	{ZincPlated, Threadlocker, 0.15, 0.18, 0.20, ""},
	{StainlessSteel, Grease, 0.13, 0.16, 0.20, ""},
	{StainlessSteel, AntiSeize, 0.08, 0.12, 0.16, "B: pastes on austenitic steel"},
	{StainlessSteel, AntiSeize, 0.11, 0.14, 0.17, ""},
	{AluminumAlloy, Grease, 0.08, 0.12, 0.16, "B: grease on aluminum and magnesium alloys"},
	{AluminumAlloy, AntiSeize, 0.08, 0.12, 0.16, "B: solid lubricant on aluminum and magnesium alloys"},
}

func (r conditionRow) condition() Condition {
	band := Band{r.low, r.nominal, r.high}
	if r.class == "" {
		return Condition{
			Prep: r.prep, NutFactor: NutFactor{band}, Confidence: CommonPractice,
			Source: "workshop figures, from memory",
		}
	}
	return Condition{
		Prep: r.prep, Friction: Friction{band}, Confidence: Published,
		Source: "VDI 2230 table A5, friction classes, as quoted in public manufacturer tables; class " + r.class,
	}
}
