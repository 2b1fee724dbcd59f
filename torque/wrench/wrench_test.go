package wrench_test

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
	"github.com/tightwright/tightwright/torque/wrench"
)

var (
	monday   = time.Date(2025, time.March, 3, 9, 0, 0, 0, time.UTC)
	lastYear = monday.AddDate(-1, 1, 0)
)

// calibrated is a calibration both ways that is good on monday.
func calibrated() *wrench.Calibration {
	return &wrench.Calibration{At: lastYear, Directions: []wrench.Direction{
		{Hand: joint.RightHand, DeviationPercent: "-1.5"}, {Hand: joint.LeftHand},
	}}
}

func TestNewTellsAllMistakesAtOnce(t *testing.T) {
	good := wrench.Description{Kind: wrench.Setting, Min: "2", Max: "25", Graduation: "0.1"}
	for _, tt := range []struct {
		name  string
		spoil func(*wrench.Description)
		want  []string
	}{
		{"nothing", func(*wrench.Description) {}, nil},
		{"everything", func(d *wrench.Description) { *d = wrench.Description{ID: "No 1", Unit: 99} },
			[]string{"id malformed-id", "kind missing", "unit unknown-word", "min missing", "max missing", "graduation missing"}},
		{"id with a hyphen at the end", func(d *wrench.Description) { d.ID = "a-" }, []string{"id malformed-id"}},
		{"unknown kind", func(d *wrench.Description) { d.Kind = 9 }, []string{"kind missing"}},
		{"class of another kind", func(d *wrench.Description) { d.Class = wrench.IB }, []string{"class contradiction"}},
		{"unknown class", func(d *wrench.Description) { d.Class = 99 }, []string{"class unknown-word"}},
		{"exponent", func(d *wrench.Description) { d.Max = "2e1" }, []string{"max malformed-number"}},
		{"comma", func(d *wrench.Description) { d.Graduation = "0,1" }, []string{"graduation malformed-number"}},
		{"point alone", func(d *wrench.Description) { d.Min = "2." }, []string{"min malformed-number"}},
		{"not a number", func(d *wrench.Description) { d.Min = "NaN" }, []string{"min malformed-number"}},
		{"many digits", func(d *wrench.Description) { d.Max = "1234567890123456" }, []string{"max malformed-number"}},
		{"negative", func(d *wrench.Description) { d.Min = "-2" }, []string{"min outside-range"}},
		{"many decimals", func(d *wrench.Description) { d.Graduation = "0.0000001" }, []string{"graduation outside-range"}},
		{"too much for a torque", func(d *wrench.Description) { d.Max = "1000001" }, []string{"max outside-range"}},
		{"reversed", func(d *wrench.Description) { d.Min = "26" }, []string{"max reversed-range"}},
		{"no scale", func(d *wrench.Description) { d.Min, d.Max = "0", "0" }, []string{"max reversed-range", "graduation reversed-range"}},
		{"no step", func(d *wrench.Description) { d.Graduation = "0.0" }, []string{"graduation outside-range"}},
		{"step below what a torque holds", func(d *wrench.Description) {
			d.Unit, d.Graduation = torque.GramForceCentimeters, "0.000001"
		}, []string{"graduation outside-range"}},
		{"step beyond the scale", func(d *wrench.Description) { d.Graduation = "30" }, []string{"graduation reversed-range"}},
		{"no mark in use", func(d *wrench.Description) { d.Graduation = "24" }, []string{"graduation contradiction"}},
		{"fixed at two torques", func(d *wrench.Description) { d.Kind, d.Graduation = wrench.Fixed, "" }, []string{"max contradiction"}},
		{"fixed with marks", func(d *wrench.Description) { d.Kind, d.Min = wrench.Fixed, "25" }, []string{"graduation contradiction"}},
		{"deviation of nothing", func(d *wrench.Description) { d.DeviationPercent = "0" }, []string{"deviation_percent outside-range"}},
		{"deviation beyond half", func(d *wrench.Description) { d.DeviationPercent = "50.1" }, []string{"deviation_percent malformed-number"}},
		{"empty calibration", func(d *wrench.Description) { d.Calibration = &wrench.Calibration{} },
			[]string{"calibration.at missing", "calibration.directions missing"}},
		{"due before it was made", func(d *wrench.Description) {
			d.Calibration = calibrated()
			d.Calibration.Due = d.Calibration.At
		}, []string{"calibration.due reversed-range"}},
		{"directions", func(d *wrench.Description) {
			d.Calibration = calibrated()
			d.Calibration.DeviationPercent = "-4"
			d.Calibration.Directions = []wrench.Direction{{Hand: 7}, {}, {Hand: joint.RightHand}, {Hand: joint.LeftHand, DeviationPercent: "4 %"}}
		}, []string{"calibration.directions[0].hand unknown-word", "calibration.directions[2].hand duplicate",
			"calibration.directions[3].deviation_percent malformed-number", "calibration.deviation_percent outside-range"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d := good
			tt.spoil(&d)
			w, err := wrench.New(d)
			require.Equal(t, tt.want, rules(err))
			require.Equal(t, tt.want == nil, w != nil)
		})
	}
}

// rules lists the field errors in err as "path rule".
func rules(err error) []string {
	var found []string
	for _, fe := range wrench.FieldErrors(err) {
		found = append(found, fe.Path+" "+fe.Rule)
	}
	return found
}

func TestPermittedDeviationAndWhereItComesFrom(t *testing.T) {
	for _, tt := range []struct {
		name  string
		d     wrench.Description
		want  wrench.Deviation
		basis string
	}{
		{"10 N·m counts as small", wrench.Description{Kind: wrench.Setting, Min: "2", Max: "10", Graduation: "0.1"},
			6 * wrench.Percent, wrench.BasisTakenOver},
		{"just over it does not", wrench.Description{Kind: wrench.Setting, Min: "2", Max: "10.1", Graduation: "0.1"},
			4 * wrench.Percent, wrench.BasisTakenOver},
		{"89 lbf·in is over it", wrench.Description{Kind: wrench.Setting, Class: wrench.IIA, Unit: torque.PoundForceInches, Min: "20", Max: "89", Graduation: "1"},
			4 * wrench.Percent, wrench.BasisRead},
		{"88 lbf·in is not", wrench.Description{Kind: wrench.Setting, Class: wrench.IIA, Unit: torque.PoundForceInches, Min: "20", Max: "88", Graduation: "1"},
			6 * wrench.Percent, wrench.BasisRead},
		{"class", wrench.Description{Kind: wrench.Indicating, Class: wrench.IA, Min: "0", Max: "60", Graduation: "1"},
			6 * wrench.Percent, wrench.BasisRecalled},
		{"declared", wrench.Description{Kind: wrench.Fixed, Min: "5", Max: "5", DeviationPercent: "3.5"},
			35_000, wrench.BasisDeclared},
		{"calibrated", wrench.Description{Kind: wrench.Fixed, Min: "5", Max: "5", DeviationPercent: "3.5",
			Calibration: &wrench.Calibration{At: monday, Directions: []wrench.Direction{{}}, DeviationPercent: "2.25"}},
			22_500, wrench.BasisCalibrated},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d, basis := tool(t, tt.d).Permitted()
			require.Equal(t, tt.want, d)
			require.Equal(t, tt.basis, basis)
		})
	}
}

func TestUseRange(t *testing.T) {
	stated := ofType(t, vectors(t, "tools"), "topic", "range of use")[0]
	require.Equal(t, decimal(wrench.LeastUsePercent, 0)+"-100", stated["value"], stated["source"])
	for _, tt := range []struct {
		name, lowest, highest string
		d                     wrench.Description
	}{
		{"a fifth of the maximum", "5", "25", wrench.Description{Kind: wrench.Setting, Min: "2", Max: "25", Graduation: "0.1"}},
		{"the first mark above that", "6", "25", wrench.Description{Kind: wrench.Setting, Min: "6", Max: "25", Graduation: "0.1"}},
		{"a fifth that is no mark", "2.02", "10.1", wrench.Description{Kind: wrench.Indicating, Min: "0", Max: "10.1"}},
		{"fixed", "0.5", "0.5", wrench.Description{Kind: wrench.Fixed, Min: "0.5", Max: "0.5"}},
		{"another unit, to the nearest", "5.423271793", "27.116358967",
			wrench.Description{Kind: wrench.Setting, Unit: torque.PoundForceInches, Min: "20", Max: "240", Graduation: "1"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			lowest, highest := tool(t, tt.d).UseRange()
			require.Equal(t, newtonMeters(t, tt.lowest), lowest)
			require.Equal(t, newtonMeters(t, tt.highest), highest)
		})
	}
}

func TestWhatAToolTells(t *testing.T) {
	w := tool(t, wrench.Description{ID: "blue-1", Kind: wrench.Indicating, Min: "0", Max: "12", Calibration: calibrated()})
	require.Equal(t, "blue-1, 0.00 N·m to 12.00 N·m, ± 4 %", w.String())
	require.Equal(t, "the tool, fixed at 5 N·m, ± 6 %", tool(t, wrench.Description{Kind: wrench.Fixed, Min: "5", Max: "5"}).String())
	require.Equal(t, []any{"blue-1", wrench.Indicating, torque.NewtonMeters, true}, []any{w.ID(), w.Kind(), w.Unit(), w.HasAssumedGraduation()})

	found, known := w.Found(joint.RightHand)
	require.True(t, known)
	require.Equal(t, "-1.5 %", found.String())
	_, known = w.Found(joint.LeftHand)
	require.False(t, known)
	_, known = w.Found(9)
	require.False(t, known)
}

// W040 of wrench_tools.csv: 12 months where the owner has no other procedure.
func TestCalibrationIsDueAfterTwelveMonths(t *testing.T) {
	months := ofType(t, vectors(t, "tools"), "id", "W040")[0]
	require.Equal(t, number(t, months["value"]), float64(wrench.DefaultIntervalMonths))
	cycles := ofType(t, vectors(t, "tools"), "id", "W041")[0]
	require.Equal(t, number(t, cycles["value"]), float64(wrench.DefaultIntervalCycles))

	w := tool(t, wrench.Description{Kind: wrench.Fixed, Min: "5", Max: "5",
		Calibration: &wrench.Calibration{At: monday, Directions: []wrench.Direction{{}}}})
	require.Equal(t, monday.AddDate(1, 0, 0), w.Due())
	require.Zero(t, setting(t, "2", "20", "0.1").Due())
}

func TestDescriptionJSON(t *testing.T) {
	const text = `{"id":"blue-1","kind":"setting","class":"II-A","unit":"[lbf_av].[in_i]","min":"20","max":"240",` +
		`"graduation":"1","calibration":{"at":"2025-03-03T09:00:00Z","directions":[{"hand":"left-hand","deviation_percent":"1.25"}]}}`
	var d wrench.Description
	require.NoError(t, json.Unmarshal([]byte(text), &d))
	_, err := wrench.New(d)
	require.NoError(t, err)
	again, err := json.Marshal(d)
	require.NoError(t, err)
	require.JSONEq(t, text, string(again))
}

func TestPassMarks(t *testing.T) {
	low := setting(t, "2", "20", "0.5")
	fixed := tool(t, wrench.Description{Kind: wrench.Fixed, Min: "5", Max: "5"})
	fromZero := tool(t, wrench.Description{Kind: wrench.Indicating, Min: "0", Max: "20", Graduation: "5"})
	for _, tt := range []struct {
		name     string
		w        *wrench.Wrench
		full     string
		percents []int
		want     []string
		err      string
	}{
		{"down to a mark", low, "13", []int{50, 75, 100}, []string{"6.5", "9.5", "13.0"}, ""},
		{"not off the scale", low, "5.0", []int{30, 60, 100}, []string{"2.0", "3.0", "5.0"}, ""},
		{"not nothing", fromZero, "15", []int{10, 100}, []string{"5", "15"}, ""},
		{"fixed", fixed, "5", []int{100}, []string{"5"}, ""},
		{"fixed in two", fixed, "5", []int{50, 100}, nil, "percents[0] contradiction"},
		{"no mark", low, "5.1", []int{100}, nil, "full outside-range"},
		{"too fine", low, "5.00001", []int{100}, nil, "full outside-range"},
		{"far off the scale", low, "999999999999999", []int{100}, nil, "full outside-range"},
		{"off the scale", low, "20.5", []int{100}, nil, "full outside-range"},
		{"no share", low, "5", []int{0}, nil, "percents[0] outside-range"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			marks, err := tt.w.PassMarks(figure(t, tt.full, torque.NewtonMeters), tt.percents)
			var digits []string
			for _, mark := range marks {
				digits = append(digits, mark.Digits())
			}
			require.Equal(t, tt.want, digits)
			require.Equal(t, tt.err, joined(err))
		})
	}
}

func joined(err error) string {
	for _, rule := range rules(err) {
		return rule
	}
	return ""
}
