package torque_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque"
)

// Further spellings by the policies of the package comment; common practice,
// no source. want is the fixed form of Marking.String.
func TestParseMarkingPolicies(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		// Range signs and words.
		{"5…7 Nm", "5 N·m to 7 N·m"},
		{"5〜7 N·m", "5 N·m to 7 N·m"},
		{"5∼7 N·m", "5 N·m to 7 N·m"},
		{"5−7 Nm", "5 N·m to 7 N·m"},
		{"5 -7 Nm", "5 N·m to 7 N·m"},
		{"5―7 Nm", "5 N·m to 7 N·m"},
		{"5－7 Nm", "5 N·m to 7 N·m"},
		{"5 N-m - 7 N-m", "5 N·m to 7 N·m"},
		{"5 ft-lb - 7 ft-lb", "5 lbf·ft to 7 lbf·ft"},
		{"da 5 a 7 Nm", "5 N·m to 7 N·m"},
		{"5 do 7 Nm", "5 N·m to 7 N·m"},
		{"von 5 bis 7 Nm", "5 N·m to 7 N·m"},
		{"5 a\u0300 7 Nm", "5 N·m to 7 N·m"}, // accent as a character of its own
		{"between 5 N·m and 7 N·m", "5 N·m to 7 N·m"},
		{"5-5 Nm", "5 N·m to 5 N·m"},
		// Two limits one after the other.
		{"min. 5 / max. 7 Nm", "5 N·m to 7 N·m"},
		{"min 5 Nm, max 7 Nm", "5 N·m to 7 N·m"},
		{"min 5 - max 7 Nm", "5 N·m to 7 N·m"},
		{"min 5 and max 7 Nm", "5 N·m to 7 N·m"},
		{"max 7 min 5 Nm", "5 N·m to 7 N·m"},
		{"5 Nm min / 7 Nm max", "5 N·m to 7 N·m"},
		{"5 Nm min - 7 Nm max", "5 N·m to 7 N·m"},
		{"≥ 5 ≤ 7 Nm", "5 N·m to 7 N·m"},
		// Words for limits.
		{"not to exceed 5 Nm", "max 5 N·m"},
		{"no more than 5 N·m", "max 5 N·m"},
		{"bis max. 5 Nm", "max 5 N·m"},
		{"höchstens 5 Nm", "max 5 N·m"},
		{"HÖCHSTENS 5 NM", "max 5 N·m"},
		{"máx. 5 Nm", "max 5 N·m"},
		{"ma\u0301ximo 5 Nm", "max 5 N·m"},
		{"massimo 5 Nm", "max 5 N·m"},
		{"maks. 5 Nm", "max 5 N·m"},
		{"не более 5 Нм", "max 5 N·m"},
		{"5 N·m以下", "max 5 N·m"},
		{"=< 5 Nm", "max 5 N·m"},
		{"(max) 5 Nm", "max 5 N·m"},
		{"max (5 Nm)", "max 5 N·m"},
		{"(5 Nm max.)", "max 5 N·m"},
		{"mindestens 30 Nm", "min 30 N·m"},
		{"mín. 30 Nm", "min 30 N·m"},
		{"не менее 30 Нм", "min 30 N·m"},
		{"30 N·m以上", "min 30 N·m"},
		// Labels.
		{"Tightening torque: 5-7 N·m", "5 N·m to 7 N·m"},
		{"Drehmoment max 5 Nm", "max 5 N·m"},
		{"couple: 5 N·m", "5 N·m"},
		{"max torque: 5 Nm", "max 5 N·m"},
		{"min. torque 30 Nm", "min 30 N·m"},
		{"TORQUE:5Nm", "5 N·m"},
		// Tolerances.
		{"8 Nm (±1 Nm)", "8 N·m ± 1 N·m"},
		{"8 (±1) Nm", "8 N·m ± 1 N·m"},
		{"8 +/− 0,5 Nm", "8 N·m ± 0.5 N·m"},
		{"40 Nm (±4 %)", "40 N·m ± 1.6 N·m"},
		{"8 Nm +2/-0 Nm", "8 N·m +2/-0 N·m"},
		{"8 -1/+2 Nm", "8 N·m +2/-1 N·m"},
		{"8 +2 -1 Nm", "8 N·m +2/-1 N·m"},
		{"8 +2 Nm", "8 N·m +2/-0 N·m"},
		{"8 (+2/-1) Nm", "8 N·m +2/-1 N·m"},
		{"40 Nm +10 %/-5 %", "40 N·m +4/-2 N·m"},
		{"40 Nm +10/-5 %", "40 N·m +4/-2 N·m"},
		{"12 ± 15 % Nm", "12 N·m ± 1.8 N·m"},
		{"8 Nm -1 Nm/+2 Nm", "8 N·m +2/-1 N·m"},
		{"8 N·m +0/-1 N·m", "8 N·m +0/-1 N·m"},
		{"10.0 Nm ± 10 %", "10.0 N·m ± 1.0 N·m"},
		// Units.
		{"5 N‧m", "5 N·m"},
		{"5 N･m", "5 N·m"},
		{"5 N×m", "5 N·m"},
		{"5 N  ∙ m", "5 N·m"},
		{"5 牛·米", "5 N·m"},
		{"Nm 5-7", "5 N·m to 7 N·m"},
		{"in-lb: 44", "44 lbf·in"},
		{"ＭＡＸ５．５Ｎ・ｍ", "max 5.5 N·m"},
		{"50 ㎏·㎝", "50 kgf·cm"},
		{"0.5 mkp", "0.5 kgf·m"},
		{"0.5 кг·м", "0.5 kgf·m"},
		{"500 mNm", "500 mN·m"},
		{"80 oz in", "80 ozf·in"},
		{"600 gf·cm", "600 gf·cm"},
		{"44 inlb", "44 lbf·in"},
		{"3 ft.lbs. max.", "max 3 lbf·ft"},
		{"40 pound-force feet", "40 lbf·ft"},
		{"50 N·CM", "50 N·cm"},
		{"0.5 DAN·M", "0.5 daN·m"},
		{"500 CNM", "500 cN·m"},
		{"0.5 KN-M", "0.5 kN·m"},
		{"600 GF·CM", "600 gf·cm"},
		{"MAX 50 KGF-CM", "max 50 kgf·cm"},
		{"Max 50 KGF-CM", "max 50 kgf·cm"},
		{"5 kilogram-force metres", "5 kgf·m"},
		// Numbers.
		{"1 234 Nm", "1234 N·m"},
		{"1\u202f200-1\u202f500 N·mm", "1200 N·mm to 1500 N·mm"},
		{"1 234,5 Nm", "1234.5 N·m"},
		{"0,125 kgf·m", "0.125 kgf·m"},
		{"05-07 Nm", "05 N·m to 07 N·m"},
		// Two units.
		{"MAX. 5Nm/44in-lb", "max 5 N·m"},
		{"5 Nm (3.7 ft-lb) max", "max 5 N·m"},
		{"8 ± 1 Nm {71 ± 9 in-lb}", "8 N·m ± 1 N·m"},
		{"8 ± 1 Nm (62-80 in-lb)", "8 N·m ± 1 N·m"},
		{"5-7 Nm; 44-62 in-lb", "5 N·m to 7 N·m"},
		{"5 Nm = 44 in-lb", "5 N·m"},
		{"5 Nm/44 lbf.in/51 kgf.cm", "5 N·m"},
		{"5 N·m / in-lb 44", "5 N·m"},
	} {
		t.Run(tt.text, func(t *testing.T) {
			m, err := torque.ParseMarking(tt.text)
			require.NoError(t, err)
			require.Equal(t, tt.want, m.String())
		})
	}
}

// Further refusals by the policies of the package comment.
func TestParseMarkingRefusals(t *testing.T) {
	for reason, texts := range map[string][]string{
		torque.ReasonEmpty:                {"", "\u00a0"},
		torque.ReasonMissingUnit:          {"5-7", "min 5 max 7", "8 Nm ±1", "5 Nm - 7", "5 Nm (44)", "5 (44 in-lb)"},
		torque.ReasonMissingValue:         {"N·m", "max.", "±10 %", "Torque:", "5 Nm /max", "-", "()"},
		torque.ReasonReversedRange:        {"62-44 in-lb", "5 Nm to 3 Nm", "max 5 min 7 Nm", "between 7 and 5 Nm"},
		torque.ReasonAmbiguousUnit:        {"max 5 nm", "5 nM", "5 n·m", "5 n.m", "Max 5 NM", "Max 5 N·M", "5 нм", "5 ncm", "5 MN·M", "5 m·N", "5 厘米·牛", "5 NM (44 in-lb)"},
		torque.ReasonAmbiguousNumber:      {"1,234.5 Nm", "1,234,567 N·mm", "10,000 N·mm", "MAX.5 Nm", "1 234,567 N·mm", "5/7 N·m"},
		torque.ReasonNotTorque:            {"5 MPa", "5 ft/lb", "5 N·m2", "5 N·m³", "5 N·m^2", "90 deg", "5 %", "5 N·m/rad", "5 N·m·s", "4 mm hex", "5 N x m", "5 Nm/°"},
		torque.ReasonTorquePlusAngle:      {"40 Nm + 1/4 turn", "40 Nm then 90°", "40 Nm +90 deg", "5-7 Nm + 90°", "40 Nm (90°)", "40 + 90° Nm", "40-1/+90° Nm"},
		torque.ReasonNegative:             {"- 3 Nm", "max -5 Nm"},
		torque.ReasonNotPositive:          {"0.0 Nm", "0-5 Nm", "max 0 Nm", "8 ± 8 Nm", "8 ± 9 Nm", "10 Nm ± 100 %"},
		torque.ReasonMalformed:            {"5+7 Nm", "8+2 Nm", "5 Nm +7 Nm", "5. Nm", "5 Nm..", "5-7-Nm", "(5 Nm", "5 Nm)", "(5 Nm]", "5....7 Nm", "+5 Nm", "5 Nm -", "5 - -7 Nm", "((5)) Nm", "1.234.567 Nm", "5 ,7 Nm"},
		torque.ReasonExponentNotAllowed:   {"5E3 N·mm", "5e-3 kN·m", "5e−3 kN·m", "5^3 Nm"},
		torque.ReasonOutOfRange:           {"0.0000001 Nm", "20000.1 Nm", "0.00000000000000000001 Nm", "1 234 567 890 123 456 Nm", "1000 kN·m"},
		torque.ReasonNotANumber:           {"inf Nm", "∞ Nm", "५ Nm", "five Nm", "0b1 Nm", "① Nm", "Ⅴ Nm"},
		torque.ReasonMultipleValues:       {"5 and 7 Nm", "5, 7 Nm", "5; 7 Nm", "5 Nm / 7 Nm", "5-7 Nm 44-62 in-lb", "2 1/2 ft-lb", "5 Nm max 7 Nm"},
		torque.ReasonVulgarFraction:       {"1½ ft-lb", "1⁄2 ft-lb"},
		torque.ReasonSuperscript:          {"5²Nm", "5×10³ N·mm", "5 Nm₁"},
		torque.ReasonInvisibleCharacter:   {"5\u00ad7 Nm", "\ufeff5 Nm", "5\u2060 Nm", "5 Nm\ufe0f"},
		torque.ReasonControlCharacter:     {"5 Nm\n", "5\tNm", "5\x00 Nm", "5\u0085Nm", "5\u2028Nm"},
		torque.ReasonMixedScript:          {"5 Νm", "Мax 5 Nm", "МАХ 5 Nm", "44 in-Ib", "44 Ibf·in", "5 N·м", "5 N·米"},
		torque.ReasonUnknownUnit:          {"5 kgf·mm", "1O Nm", "5 lbm", "5 MNm", "5 ozf·ft"},
		torque.ReasonMixedUnits:           {"5 Nm to 62 in-lb", "8 Nm ± 9 in-lb", "min 5 Nm max 62 in-lb"},
		torque.ReasonAlternateDisagrees:   {"5 Nm (53 in-lb)", "5 Nm (5 Nm)", "5-7 Nm (53 in-lb)", "8 ± 1 Nm (71 ± 20 in-lb)", "5-7 Nm (44-62 ft-lb)"},
		torque.ReasonConflictingQualifier: {"5-7 Nm max", "max ≥ 5 Nm", "max 8 ± 1 Nm", "5 Nm (max 44 in-lb)", "5-7 Nm (44-62 in-lb) max", "max torque 5-7 Nm", "max 5 Nm min", "5 Nm (44 in-lb) up to"},
		torque.ReasonApproximate:          {"≈5 Nm", "about 5 Nm", "approx. 5 Nm", "max ca. 5 Nm", "5 Nm approx.", "约5 N·m"},
		torque.ReasonExtraText:            {"5 Nm oiled", "5 Nm (M5)", "5 Nm M5x0.8", "T25 5 Nm", "5 Nm!", "5 Nm†", "5 Nm, grease", "1'234 Nm", "max 5 Nm with paste", "5 N·m 干", "5 Nm " + strings.Repeat("x", 300), strings.Repeat("5 ", 100)},
		torque.ReasonNoTorque:             {"finger tight", "PH2", "1/2 turn", "M6", "n/a"},
	} {
		for _, text := range texts {
			t.Run(reason+"/"+text, func(t *testing.T) {
				m, err := torque.ParseMarking(text)
				var refused *torque.MarkingError
				require.ErrorAs(t, err, &refused, "read as %v", m)
				require.Equal(t, reason, refused.Reason)
			})
		}
	}
}

func TestMarkingWarnings(t *testing.T) {
	for _, tt := range []struct {
		text string
		want []torque.Warning
	}{
		{"5 Nm", nil},
		{"50 kg·cm", []torque.Warning{torque.WarnKilogramAsForce}},
		{"50 kgf·cm", nil},
		{"5 kilogram-force metres", nil},
		{"0.5 kp·m", []torque.Warning{torque.WarnOldUnit}},
		{"< 5 Nm", []torque.Warning{torque.WarnStrictSign}},
		{"≤ 5 Nm", nil},
		{"MAX 5 NM", []torque.Warning{torque.WarnAllCapitals}},
		{"MAX 44 IN-LB", nil},
		{"5 Nm (51 kg·cm)", []torque.Warning{torque.WarnKilogramAsForce}},
	} {
		t.Run(tt.text, func(t *testing.T) {
			m, err := torque.ParseMarking(tt.text)
			require.NoError(t, err)
			require.Equal(t, tt.want, m.Warnings)
			for _, warning := range m.Warnings {
				require.NotEqual(t, string(warning), warning.Text(), "a sentence, not the code")
			}
		})
	}
}

func TestMarkingWindow(t *testing.T) {
	must := window(t)
	pm := must(must(torque.NewWindow(8*nm, 10*nm)).WithNominal(8 * nm))
	for _, tt := range []struct {
		text string
		want torque.Window
	}{
		{"5-7 Nm", must(torque.NewWindow(5*nm, 7*nm))},
		{"max 5 Nm", must(torque.AtMost(5 * nm))},
		{"min 30 Nm", must(torque.AtLeast(30 * nm))},
		{"8 ± 1 Nm", must(torque.PlusMinus(8*nm, nm))},
		{"8 Nm +2 Nm", pm},
		{"5 Nm", must(must(torque.AtMost(5 * nm)).WithNominal(5 * nm))}, // a bare figure is also the maximum
		{"44-62 in-lb", must(torque.NewWindow(4_971_332_477, 7_005_059_400))},
	} {
		t.Run(tt.text, func(t *testing.T) {
			m, err := torque.ParseMarking(tt.text)
			require.NoError(t, err)
			got, err := m.Window()
			require.NoError(t, err)
			require.Equal(t, tt.want, got)
		})
	}
	_, err := torque.Marking{}.Window()
	require.NoError(t, err, "no marking states no limit")
}

// A limit that is on a mark of the wrench in the marking's own unit stays.
func TestMarkingRoundsInwardExactly(t *testing.T) {
	m, err := torque.ParseMarking("44-62 in-lb")
	require.NoError(t, err)
	marks, err := m.FigureWindow().RoundInward(torque.Scale{Unit: torque.PoundForceInches, Step: "1"})
	require.NoError(t, err)
	require.Equal(t, [2]string{"44", "62"}, [2]string{marks.Min.Digits(), marks.Max.Digits()})
	marks, err = m.FigureWindow().RoundInward(torque.Scale{Unit: torque.NewtonMeters, Step: "0.1"})
	require.NoError(t, err)
	require.Equal(t, [2]string{"5.0", "7.0"}, [2]string{marks.Min.Digits(), marks.Max.Digits()})
}

// Each alternate is a window of its own, in its own unit.
func TestAlternateFigureWindow(t *testing.T) {
	m, err := torque.ParseMarking("MAX 5 Nm (44 in-lb, 51 kgf·cm)")
	require.NoError(t, err)
	require.Len(t, m.Alternates, 2)
	require.Equal(t, torque.FigureWindow{Max: figure(t, "44", torque.PoundForceInches)}, m.Alternates[0].FigureWindow())
	require.Equal(t, torque.FigureWindow{Max: figure(t, "51", torque.KilogramForceCentimeters)}, m.Alternates[1].FigureWindow())
	require.Equal(t, "at most 51 kgf·cm", m.Alternates[1].FigureWindow().String())
	byHand := torque.Marking{Kind: torque.KindMax, Max: "five", AsWritten: "five"}
	require.True(t, byHand.FigureWindow().IsZero(), "digits that nobody checked are no limit")
}

func TestMarkingJSON(t *testing.T) {
	m, err := torque.ParseMarking("5 Nm (44 in-lb)")
	require.NoError(t, err)
	data, err := json.Marshal(m)
	require.NoError(t, err)
	require.JSONEq(t, `{
		"kind": "nominal", "nominal": "5", "min": "", "max": "", "unit": "N.m",
		"alternates": [{"nominal": "44", "unit": "[lbf_av].[in_i]"}],
		"as_written": "5 Nm (44 in-lb)", "warnings": []
	}`, string(data))
	m, err = torque.ParseMarking("5-7 Nm")
	require.NoError(t, err)
	data, err = json.Marshal(m)
	require.NoError(t, err)
	require.Contains(t, string(data), `"alternates":[]`)
}

func TestMarkingErrorNamesReasonAndMend(t *testing.T) {
	_, err := torque.ParseMarking("5 nm")
	require.EqualError(t, err, `marking "5 nm": the capitals of the unit leave more than one reading; `+
		`write N·m if newton meter is meant (nm is a nanometer, n.m. a nautical mile)`)
	_, err = torque.ParseMarking("\u202e5 Nm")
	require.ErrorContains(t, err, `"\u202e5 Nm"`, "what cannot be seen is shown escaped")
}
