package main

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque/joint"
)

// Any text is a figure with its range or a fault under its name, never both; what
// was read reads again as the same.
func FuzzBand(f *testing.F) {
	for _, seed := range []string{"0.12", " 0.10:0.12:0.16 ", "1:2", "::", "0", "-1:0:1", "NaN", "1e3", "0.1:0.1:0.1:0.1", "5000", "1,5", "0:0:0"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r := newReading(inputs{"x": text})
		b := r.band("x")
		if r.faults.err() != nil || !r.has("x") {
			require.Equal(t, r.has("x"), r.faults.has("x"))
			return
		}
		for _, value := range []float64{b.Low, b.Nominal, b.High} {
			require.False(t, math.IsNaN(value) || math.IsInf(value, 0), text)
		}
		require.False(t, b.IsZero(), "zero would stand for not given")
		again := newReading(inputs{"x": bandOf(b)})
		require.Equal(t, b, again.band("x"))
		require.NoError(t, again.faults.err())
	})
}

// bandOf writes a band in full, so long as its figures fit into a decimal.
func bandOf(b joint.Band) string {
	text := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	return text(b.Low) + ":" + text(b.Nominal) + ":" + text(b.High)
}

// Friction is above 0 and at most 1 whatever is typed.
func FuzzFriction(f *testing.F) {
	for _, seed := range []string{"0.12", "0.10:0.12:0.16", "0.16:0.12:0.10", "1", "1.0000001", "0", "0:0.1:0.2", "2"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r := newReading(inputs{"friction": text, "nut-factor": text})
		mu, k := r.friction("friction").Mu(), r.nutFactor("nut-factor").K()
		require.Equal(t, mu, k)
		if r.faults.err() == nil && r.has("friction") {
			require.True(t, 0 < mu.Low && mu.Low <= mu.Nominal && mu.Nominal <= mu.High && mu.High <= 1, text)
		}
		require.Equal(t, r.faults.has("friction"), r.faults.has("nut-factor"))
	})
}

// What is wrong is told by the flag it was given with.
func TestNumbersRefusals(t *testing.T) {
	clamp := []string{"clamp", "--length", "22", "--bolts", "1", "--preload", "5000"}
	spline := []string{"spline", "--chainring", "34", "--sprocket", "25", "--lockring-torque", "40"}
	prep := []string{"prep", "--thread", "M6", "--torque", "10"}
	bolt := []string{"joint", "--thread", "M8", "--class", "8.8", "--friction", "0.12"}
	for _, tt := range []struct {
		name          string
		args          []string
		field, reason string
	}{
		{"no thread", []string{"joint", "--friction", "0.12", "--torque", "5"}, "thread", "missing_value"},
		{"no such thread", []string{"joint", "--thread", "M5x9", "--friction", "0.12", "--torque", "5"}, "thread", "not_a_thread"},
		{"no friction", []string{"joint", "--thread", "M5", "--torque", "5"}, "friction", "unknown_friction"},
		{"friction of zero", []string{"joint", "--thread", "M5", "--torque", "5", "--friction", "0"}, "friction", "out_of_range"},
		{"friction above 1", []string{"joint", "--thread", "M5", "--torque", "5", "--friction", "1.2"}, "friction", "out_of_range"},
		{"friction that is none", []string{"joint", "--thread", "M5", "--torque", "5", "--friction", "NaN"}, "friction", "not_a_number"},
		{"nothing to work from", []string{"joint", "--thread", "M5", "--friction", "0.12"}, "class", "missing_value"},
		{"no such class", []string{"joint", "--thread", "M5", "--friction", "0.12", "--class", "9.1"}, "class", "unknown_word"},
		{"no strength at this size", []string{"joint", "--thread", "M30", "--friction", "0.12", "--class", "A2-70"}, "class", "no_strength"},
		{"no standard head", []string{"joint", "--thread", "1.37 in x 24 tpi", "--friction", "0.12", "--torque", "40"}, "head-bearing-diameter", "missing_value"},
		{"hole as large as the head", append(bolt, "--head-bearing-diameter", "9"), "hole-diameter", "out_of_range"},
		{"negative head", append(bolt, "--head-bearing-diameter", "-12"), "head-bearing-diameter", "out_of_range"},
		{"more than the whole yield", append(bolt, "--utilization", "1.01"), "utilization", "out_of_range"},
		{"utilization of zero", append(bolt, "--utilization", "0"), "utilization", "out_of_range"},
		{"negative torque", append(bolt, "--torque", "-5"), "torque", "out_of_range"},
		{"torque and preload", append(bolt, "--torque", "5", "--preload", "5000"), "preload", "bad_option"},
		{"unit", append(bolt, "--torque", "5", "--unit", "nm"), "unit", "unknown_unit"},
		{"head that has no size", []string{"joint", "--thread", "M7", "--friction", "0.12", "--torque", "5", "--head", "socket"}, "head", "out_of_range"},
		{"material", append(bolt, "--seat", "cheese"), "seat", "unknown_word"},
		{"K with a head", []string{"joint", "--thread", "M5", "--nut-factor", "0.2", "--torque", "5", "--head", "socket"}, "head", "bad_option"},
		{"no tube", append(clamp, "--contact", "alloy, dry"), "tube-diameter", "missing_value"},
		{"tube that is no number", append(clamp, "--contact", "alloy, dry", "--tube-diameter", "wide"), "tube-diameter", "not_a_number"},
		{"negative tube", append(clamp, "--contact", "alloy, dry", "--tube-diameter", "-1"), "tube-diameter", "out_of_range"},
		{"no contact", append(clamp, "--tube-diameter", "27.2"), "contact", "unknown_friction"},
		{"unknown contact", append(clamp, "--tube-diameter", "27.2", "--contact", "unknown"), "contact", "unknown_friction"},
		{"no such contact", append(clamp, "--tube-diameter", "27.2", "--contact", "wet"), "contact", "unknown_word"},
		{"odd faceplate", append(clamp, "--tube-diameter", "27.2", "--contact", "alloy, dry", "--style", "two-piece"), "bolts", "out_of_range"},
		{"torque without a thread", []string{"clamp", "--tube-diameter", "27.2", "--length", "22", "--bolts", "1", "--contact", "alloy, dry", "--torque", "5", "--friction", "0.1"}, "thread", "missing_value"},
		{"no such demand", append(clamp, "--tube-diameter", "27.2", "--contact", "alloy, dry", "--demand", "all"), "demand", "unknown_word"},
		{"wall as thick as the tube", append(clamp, "--tube-diameter", "27.2", "--contact", "alloy, dry", "--tube-wall", "14"), "tube-wall", "out_of_range"},
		{"no crank torque", spline, "crank-torque", "missing_value"},
		{"crank without a rider", append(spline, "--crank-torque", "200", "--crank-length", "175"), "crank-length", "bad_option"},
		{"rider of no mass", append(spline, "--rider-mass", "0"), "rider-mass", "out_of_range"},
		{"half a tooth", []string{"spline", "--crank-torque", "200", "--chainring", "34.5", "--sprocket", "25", "--lockring-torque", "0"}, "chainring", "not_a_number"},
		{"too few teeth", []string{"spline", "--crank-torque", "200", "--chainring", "4", "--sprocket", "25", "--lockring-torque", "0"}, "chainring", "out_of_range"},
		{"negative lockring", []string{"spline", "--crank-torque", "200", "--chainring", "34", "--sprocket", "25", "--lockring-torque", "-1"}, "lockring-torque", "out_of_range"},
		{"no splines", append(spline, "--crank-torque", "200", "--splines", "0"), "splines", "out_of_range"},
		{"no stated prep", append(prep, "--surface", "plain steel"), "stated", "missing_value"},
		{"no surface", append(prep, "--stated", "dry"), "surface", "missing_value"},
		{"galls", append(prep, "--stated", "dry", "--surface", "stainless steel"), "", "unknown_friction"},
		{"µ and K", append(prep, "--stated", "dry", "--friction-dry", "0.2", "--nut-factor-dry", "0.2"), "nut-factor-dry", "bad_option"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := tightwright(t, "", append([]string{"--json"}, tt.args...)...)
			require.Equal(t, codeBadInput, got.code, got.stdout)
			failed := answers(t, got.stdout)[0]["error"].(map[string]any)
			require.Equal(t, tt.reason, failed["reason"], failed["message"])
			first := failed["fields"].([]any)[0].(map[string]any)
			if tt.field == "" {
				require.NotContains(t, first, "field")
				return
			}
			require.Equal(t, tt.field, first["field"], failed["message"])
		})
	}
}
