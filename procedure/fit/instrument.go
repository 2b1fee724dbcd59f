package fit

// An Instrument is what a figure was taken with, and how far it may be off
// either way. The zero Instrument is refused: a figure without the tool that
// took it can't be judged.
type Instrument struct {
	Name  string
	Error Length // largest error either way, 0 to 10 mm
}

// The instruments of the bench. Their errors are common practice, no source.

// Caliper is a vernier caliper in daily shop use: 0.1 mm either way.
func Caliper() Instrument { return Instrument{"vernier caliper", 100 * Micrometer} }

// CarefulCaliper is a vernier caliper that is clean, zeroed and read twice:
// 0.05 mm either way.
func CarefulCaliper() Instrument {
	return Instrument{"vernier caliper, zeroed and read twice", 50 * Micrometer}
}

// BoreGauge is a gauge for bores set against a ring: 0.01 mm either way.
func BoreGauge() Instrument { return Instrument{"bore gauge", 10 * Micrometer} }

// SteelRule is a graduated steel rule: 0.5 mm either way.
func SteelRule() Instrument { return Instrument{"steel rule", 500 * Micrometer} }

// Tape is a tape measure: 1 mm either way.
func Tape() Instrument { return Instrument{"tape measure", Millimeter} }

// ThreadGauge is a set of pitch leaves: one fits or it does not.
func ThreadGauge() Instrument { return Instrument{"thread pitch gauge", 0} }

// Count is counting teeth, splines or holes: exact.
func Count() Instrument { return Instrument{"counted", 0} }

// Marked is a figure printed on the part or in its maker's papers: taken as it
// stands.
func Marked() Instrument { return Instrument{"read off the part", 0} }

// Instruments lists the instruments above, for a screen to choose from.
func Instruments() []Instrument {
	return []Instrument{Caliper(), CarefulCaliper(), BoreGauge(), SteelRule(), Tape(), ThreadGauge(), Count(), Marked()}
}

// A NamedInstrument is an instrument for lengths with the short name by which a
// command or a request asks for it.
type NamedInstrument struct {
	Short string
	Instrument
}

// Measuring lists the instruments for lengths by their short names.
func Measuring() []NamedInstrument {
	return []NamedInstrument{
		{"caliper", Caliper()}, {"careful-caliper", CarefulCaliper()}, {"bore-gauge", BoreGauge()},
		{"steel-rule", SteelRule()}, {"tape", Tape()},
	}
}

// InstrumentNamed finds an instrument by its name in [Instruments] or by the
// short name it has in the shop ("caliper", "depth rod", "tape") or in
// [Measuring], in any case.
// A caliper's depth rod is as good as the caliper. It reports false for any
// other name.
func InstrumentNamed(name string) (Instrument, bool) {
	switch {
	case sameName(name, "caliper"), sameName(name, "depth rod"), sameName(name, "caliper with depth rod"):
		return Caliper(), true
	case sameName(name, "tape"):
		return Tape(), true
	case sameName(name, "thread gauge"), sameName(name, "caliper and thread gauge"):
		return ThreadGauge(), true
	}
	for _, m := range Measuring() {
		if sameName(m.Short, name) {
			return m.Instrument, true
		}
	}
	for _, i := range Instruments() {
		if sameName(i.Name, name) {
			return i, true
		}
	}
	return Instrument{}, false
}
