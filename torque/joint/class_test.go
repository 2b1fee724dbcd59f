package joint_test

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/torque/joint"
)

// TestClassStrength holds the strengths against the rows of ISO 898-1, ISO
// 3506-1 and ISO 8839 as quoted (source in each row), at the largest diameter of
// each row's range.
func TestClassStrength(t *testing.T) {
	var read int
	for _, row := range vectors(t, "joint_classes.csv") {
		t.Run(row["class"]+" "+row["size_range"], func(t *testing.T) {
			s, err := mustClass(t, row["class"]).Strength(upperSize(t, row["size_range"]))
			require.NoError(t, err)
			require.Equal(t, number(t, row["Rm_min_MPa"]), s.TensileMPa)
			require.Equal(t, number(t, row["Re_min_MPa"]), s.YieldMPa)
			if row["Sp_MPa"] == "" {
				require.Zero(t, s.ProofMPa)
			} else {
				require.Equal(t, number(t, row["Sp_MPa"]), s.ProofMPa)
			}
			read += count(row["confidence"] == "confirmed")
		})
	}
	require.Equal(t, 33, read)
}

// upperSize reads the end of "d<=16", "<=M24 (2009+)", "M1.6-M39", "10-20", "all".
func upperSize(tb testing.TB, text string) float64 {
	tb.Helper()
	text, _, _ = strings.Cut(text, " ")
	text = strings.TrimRight(text, ",")
	for _, cut := range []string{"<=", "-"} {
		if _, after, ok := strings.Cut(text, cut); ok {
			return number(tb, strings.TrimPrefix(after, "M"))
		}
	}
	if text == "d>16" || text == "all" {
		return 20
	}
	size, err := strconv.ParseFloat(text, 64)
	require.NoError(tb, err)
	return size
}

func TestClassRanges(t *testing.T) {
	for _, test := range []struct {
		name, class string
		at          float64
		yield       float64 // 0: refused
	}{
		{"8.8 up to 16 mm", "8.8", 16, 640},
		{"8.8 over 16 mm", "8.8", 16.5, 660},
		{"9.8 ends at 16 mm", "9.8", 18, 0},
		{"stainless 70 ends at 24 mm", "A2-70", 27, 0},
		{"stainless 50 goes on", "A4-50", 36, 210},
		{"too small", "8.8", 1.5, 0},
		{"too large", "12.9", 42, 0},
		{"copper alloy from 6 mm", "CU6", 6, 0},
		{"softer when thick", "AL1", 10.5, 180},
	} {
		t.Run(test.name, func(t *testing.T) {
			s, err := mustClass(t, test.class).Strength(test.at)
			if test.yield == 0 {
				require.ErrorIs(t, err, joint.ErrStrength)
				return
			}
			require.NoError(t, err)
			require.Equal(t, test.yield, s.YieldMPa)
		})
	}
}

func TestParseClass(t *testing.T) {
	for _, test := range []struct{ name, text, canonical string }{
		{"steel", " 8.8 ", "8.8"}, {"stainless", "a2-70", "A2-70"}, {"grade not told", "A-80", "A-80"},
		{"aluminum", "al6", "AL6"}, {"titanium", "TI2", "TI2"}, {"not known", "", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			require.Equal(t, test.canonical, mustClass(t, test.text).String())
		})
	}
	for _, text := range []string{"8.9", "70", "A2", "A2-8.8", "A6-70", "A2-70-1", "K 0.2", strings.Repeat("8", 500)} {
		_, err := joint.ParseClass(text)
		require.ErrorIs(t, err, joint.ErrClass, text)
	}
}

func TestEveryClassHasStrength(t *testing.T) {
	require.Len(t, joint.Classes(), 9+3*6+15)
	for _, c := range joint.Classes() {
		require.Equal(t, c, mustClass(t, c.String()))
		s, err := c.Strength(14)
		if c.String() == "AL1" {
			require.Equal(t, 180.0, s.YieldMPa)
		}
		require.NoError(t, err, c)
		require.Less(t, s.YieldMPa, s.TensileMPa, c)
		require.Less(t, s.ProofMPa, s.YieldMPa, c)
		require.NotEmpty(t, s.Source)
		text, err := json.Marshal(c)
		require.NoError(t, err)
		var back joint.Class
		require.NoError(t, json.Unmarshal(text, &back))
		require.Equal(t, c, back)
	}
}

func TestLoadsRefuse(t *testing.T) {
	_, err := mustClass(t, "8.8").Loads(joint.Thread{})
	require.ErrorIs(t, err, joint.ErrThreadRange)
	_, err = joint.Class{}.Loads(mustParse(t, "M5"))
	require.ErrorIs(t, err, joint.ErrStrength)
	loads, err := mustClass(t, "A2-70").Loads(mustParse(t, "M5"))
	require.NoError(t, err)
	require.Zero(t, loads.ProofNewtons, "ISO 3506-1 states no proof stress")
	require.InDelta(t, 14.2*450, loads.YieldNewtons, 1e-9)
}

func TestMaterials(t *testing.T) {
	byName := map[string]float64{}
	for _, row := range vectors(t, "joint_surface_pressure.csv") {
		byName[row["material"]] = number(t, row["p_G_MPa"])
	}
	names := map[string]string{ // ours, as the table prints it
		"AW-7075": "AlZnMgCu1.5 (AW-7075)", "AW-6082": "AlMgSi1 F31 (AW-6082)", "AW-6061": "AlMgSi1 F31 (AW-6082)",
		"AW-5083": "AlMg4.5Mn F27 (AW-5083)", "AlSi9Cu3": "AlSi9Cu3 die cast", "TiAl6V4": "TiAl6V4",
		"titanium, unalloyed": "Titanium unalloyed", "42CrMo4": "42CrMo4", "34CrMo4": "34CrMo4", "16MnCr5": "16MnCr5",
		"C45": "C45", "C45 Q+T": "C45 Q+T (Cq 45)", "S235JR": "S235JR (USt 37-2)", "S355J0": "S355J0 (St 52-3)",
		"St 37": "St 37", "1.4303": "X5CrNi18-12 (1.4303)", "1.4401": "X5CrNiMo17-12-2 (1.4401)", "EN-GJL-250": "EN-GJL-250",
	}
	for _, m := range joint.Materials() {
		printed, ok := names[m.String()]
		require.True(t, ok, m)
		require.Equal(t, byName[printed], m.LimitingPressureMPa(), m)
		require.NotEmpty(t, m.Source(), m)
		require.Equal(t, m, mustMaterial(t, m.String()))
	}
	require.Equal(t, mustMaterial(t, "AW-7075"), mustMaterial(t, "7075"))
	require.Equal(t, mustMaterial(t, "TiAl6V4"), mustMaterial(t, "Titanium"))
	_, err := joint.ParseMaterial("cheese")
	require.ErrorIs(t, err, joint.ErrMaterial)
	require.True(t, mustMaterial(t, " ").IsZero())
}

func FuzzParseClass(f *testing.F) {
	for _, seed := range []string{"8.8", "A2-70", "AL6", "A-50", "", "TI2"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := joint.ParseClass(text)
		if err != nil {
			require.True(t, c.IsZero())
			return
		}
		require.Equal(t, c, mustClass(t, c.String()))
	})
}

func FuzzParseMaterial(f *testing.F) {
	for _, seed := range []string{"7075", "AW-6061", "steel", "", "C45 Q+T"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := joint.ParseMaterial(text)
		if err != nil {
			require.True(t, m.IsZero())
			return
		}
		require.Equal(t, m, mustMaterial(t, m.String()))
	})
}
