package torque_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
)

// knownReasons are the codes a refusal may carry.
var knownReasons = strings.Fields(`empty missing_unit missing_value reversed_range ambiguous_unit ambiguous_number
	not_torque torque_plus_angle negative not_positive malformed exponent_not_allowed out_of_range not_a_number
	multiple_values vulgar_fraction superscript invisible_character control_character mixed_script unknown_unit
	mixed_units alternate_disagrees conflicting_qualifier approximate extra_text no_torque`)

// checkMarking holds whatever the text: a refusal is complete; what was read
// makes sense, has an ordered window, and reads the same in its fixed form.
func checkMarking(t require.TestingT, text string) {
	m, err := torque.ParseMarking(text)
	if err != nil {
		var refused *torque.MarkingError
		require.ErrorAs(t, err, &refused)
		require.Contains(t, knownReasons, refused.Reason)
		require.Equal(t, text, refused.Text)
		require.NotEmpty(t, refused.Accepted)
		require.NotContains(t, err.Error(), "\n")
		require.Zero(t, m)
		return
	}
	require.Equal(t, text, m.AsWritten)
	has := [3]bool{m.Nominal != "", m.Min != "", m.Max != ""}
	require.Equal(t, map[torque.Kind][3]bool{
		torque.KindRange:            {false, true, true},
		torque.KindMax:              {false, false, true},
		torque.KindMin:              {false, true, false},
		torque.KindNominal:          {true, false, false},
		torque.KindNominalPlusMinus: {true, true, true},
	}[m.Kind], has)

	window, err := m.Window()
	require.NoError(t, err)
	require.False(t, window.IsZero())
	if low, hasLow := window.Min(); hasLow {
		require.GreaterOrEqual(t, low, torque.MinMarking)
	}
	if high, hasHigh := window.Max(); hasHigh {
		require.LessOrEqual(t, high, torque.MaxMarking)
	}
	again, err := torque.ParseMarking(m.String())
	require.NoError(t, err, m.String())
	require.Equal(t, m.String(), again.String())
	require.Equal(t, []any{m.Kind, m.Nominal, m.Min, m.Max, m.Unit}, []any{again.Kind, again.Nominal, again.Min, again.Max, again.Unit})
}

func FuzzParseMarking(f *testing.F) {
	for _, r := range vectors(f, "units_markings") {
		f.Add(r["text"])
	}
	f.Add("0000000000000000000000000000000000000000000010ft lB") // more digits than a figure holds
	f.Fuzz(func(t *testing.T, text string) { checkMarking(t, text) })
}

// FuzzParseMarkingMixed puts pieces of markings together: the fuzzer's bytes
// choose them, so that deep paths are reached at once.
func FuzzParseMarkingMixed(f *testing.F) {
	pieces := []string{
		"5", "7", "0.5", "4,5", "1 234", "Nm", "N·m", "in-lb", "ft", "lb", "kg", "kgf·cm", "max", "min.", "to", "bis", "between",
		"and", "(", ")", "[", "]", "±", "+", "-", "–", "~", "...", "/", "|", ",", ".", ":", "%", "°", "≤", ">", " ", " ", " ",
		"up to", "not less than", "torque", "以下", "最大", "牛", "米", "Нм", "м", "ca.", "or", "turn", "NaN", "e5", "²", "½",
		"force", "pound", "N", "m", "x", "M5", "\u00a0", "\u200b", "０", "Ｎ", "㎝", "^", "=", "&",
	}
	f.Add([]byte{0, 23, 1, 37, 5})
	f.Add([]byte{0, 22, 1, 5, 37, 18, 8, 19})
	f.Add([]byte{18, 0, 14, 1, 19, 6, 39, 18, 4, 11, 19})
	f.Fuzz(func(t *testing.T, choices []byte) {
		var text strings.Builder
		for _, choice := range choices {
			text.WriteString(pieces[int(choice)%len(pieces)])
		}
		checkMarking(t, text.String())
	})
}

func FuzzParseUnit(f *testing.F) {
	for _, unit := range torque.Units() {
		f.Add(unit.UCUM())
		f.Add(unit.Symbol())
	}
	f.Add("in. lbs.")
	f.Add("nm")
	f.Fuzz(func(t *testing.T, text string) {
		unit, err := torque.ParseUnit(text)
		if err != nil {
			require.ErrorIs(t, err, torque.ErrUnknownUnit)
			return
		}
		for _, spelling := range []string{unit.UCUM(), unit.Symbol()} {
			again, err := torque.ParseUnit(spelling)
			require.NoError(t, err)
			require.Equal(t, unit, again)
		}
	})
}

func FuzzFigure(f *testing.F) {
	f.Add("5.0", uint8(0))
	f.Add("-0.5", uint8(7))
	f.Add("1e9", uint8(1))
	f.Fuzz(func(t *testing.T, digits string, unit uint8) {
		figure, err := torque.ParseFigure(digits, torque.Unit(unit))
		if err != nil {
			require.True(t, figure.IsZero())
			return
		}
		require.Equal(t, digits, figure.Digits())
		data, err := json.Marshal(figure)
		require.NoError(t, err)
		var again torque.Figure
		require.NoError(t, json.Unmarshal(data, &again))
		require.Equal(t, figure, again)
		require.Equal(t, 0, figure.In(torque.KilogramForceMeters).In(figure.Unit()).Rat().Cmp(figure.Rat()))
		if value, err := figure.Torque(); err == nil {
			require.LessOrEqual(t, max(value, -value), torque.MaxWire)
		}
	})
}

func FuzzTorqueText(f *testing.F) {
	f.Add("5 N.m")
	f.Add("-0.000000001 N.m")
	f.Add("44 lbf·in")
	f.Fuzz(func(t *testing.T, text string) {
		if value, err := torque.Parse(text); err == nil {
			again, err := torque.Parse(value.String())
			require.NoError(t, err)
			require.Equal(t, value, again)
		}
		var value torque.Torque
		if value.UnmarshalText([]byte(text)) != nil {
			return
		}
		written, err := value.MarshalText()
		require.NoError(t, err)
		var again torque.Torque
		require.NoError(t, again.UnmarshalText(written))
		require.Equal(t, value, again)
	})
}

func FuzzWindowJSON(f *testing.F) {
	f.Add(`{"min":"5 N.m","max":"7 N.m","nominal":"6 N.m"}`)
	f.Add(`{}`)
	f.Fuzz(func(t *testing.T, text string) {
		var read, again torque.Window
		if json.Unmarshal([]byte(text), &read) != nil {
			require.True(t, read.IsZero())
			return
		}
		data, err := json.Marshal(read)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(data, &again))
		require.Equal(t, read, again)
	})
}

// Markings put together from the grammar are read as what they were made from.
func TestParseMarkingReadsWhatWasWritten(t *testing.T) {
	spellings := map[torque.Unit][]string{
		torque.NewtonMeters:             {"Nm", "N·m", "N.m", "N-m", "N m", "N⋅m", "N•m", "N*m", "Нм", "Н·м", "牛米", "newton metres"},
		torque.PoundForceInches:         {"in-lb", "in.lbs", "in. lbs.", "lbf·in", "lb•in", "inch-pounds", "IN-LBS"},
		torque.PoundForceFeet:           {"ft-lb", "ft lbs", "lbf·ft", "lb.ft", "foot-pounds"},
		torque.KilogramForceCentimeters: {"kgf·cm", "kgf-cm", "kg·cm", "кгс·см"},
		torque.OunceForceInches:         {"ozf·in", "oz-in", "in-oz"},
	}
	rapid.Check(t, func(t *rapid.T) {
		pick := func(label string, from ...string) string { return rapid.SampledFrom(from).Draw(t, label) }
		space := func() string { return pick("space", "", " ", "\u00a0", "\u202f") }
		unit := rapid.SampledFrom([]torque.Unit{
			torque.NewtonMeters, torque.PoundForceInches, torque.PoundForceFeet, torque.KilogramForceCentimeters, torque.OunceForceInches,
		}).Draw(t, "unit")
		written := " " + pick("spelling", spellings[unit]...)
		low := rapid.StringMatching(`[1-9][0-9]?(\.[0-9]{1,2})?`).Draw(t, "low")
		high := "1" + rapid.StringMatching(`[0-9]{2}(\.[0-9]{1,2})?`).Draw(t, "high")
		comma := func(digits string) string {
			return strings.ReplaceAll(digits, ".", rapid.SampledFrom([]string{".", ","}).Draw(t, "decimal sign"))
		}

		kind := rapid.SampledFrom([]torque.Kind{torque.KindRange, torque.KindMax, torque.KindMin, torque.KindNominal}).Draw(t, "kind")
		var text string
		var want [3]string
		switch kind {
		case torque.KindRange:
			sign := space() + pick("sign", "-", "–", "—", "−", "~", "～", "...", "…", "÷") + space()
			sign = pick("joint", sign, " to ", " bis ", " à ")
			text, want = comma(low)+pick("first unit", "", written)+sign+comma(high)+written, [3]string{"", low, high}
		case torque.KindMax:
			text = pick("max", "max ", "MAX. ", "≤", "up to ", "не более ", "最大") + comma(low) + written
			want = [3]string{"", "", low}
		case torque.KindMin:
			text = comma(low) + written + pick("min", " min", " (min.)", " minimum")
			want = [3]string{"", low, ""}
		default:
			text, want = pick("label", "", "Torque: ", "Drehmoment ")+comma(low)+written, [3]string{low, "", ""}
		}
		m, err := torque.ParseMarking(text)
		require.NoError(t, err, "%q", text)
		require.Equal(t, kind, m.Kind, "%q", text)
		require.Equal(t, unit, m.Unit, "%q", text)
		require.Equal(t, want, [3]string{m.Nominal, m.Min, m.Max}, "%q", text)
		checkMarking(t, text)
	})
}
