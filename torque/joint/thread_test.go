package joint_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque/joint"
)

func mustParse(tb testing.TB, text string) joint.Thread {
	tb.Helper()
	t, err := joint.ParseThread(text)
	require.NoError(tb, err)
	return t
}

// threads draws any thread a caller can make.
func threads() *rapid.Generator[joint.Thread] {
	return rapid.Custom(func(t *rapid.T) joint.Thread {
		d := joint.Ratio{Num: rapid.Int64Range(500_000, 500_000_000).Draw(t, "d"), Den: 1_000_000}
		p := joint.Ratio{Num: rapid.Int64Range(500, 100_000).Draw(t, "p"), Den: 10_000}
		if rapid.Bool().Draw(t, "tpi") {
			p = joint.Ratio{Num: 127, Den: 5 * rapid.Int64Range(3, 500).Draw(t, "n")}
		}
		hand := joint.Hand(rapid.Uint8Range(0, 1).Draw(t, "hand"))
		thread, err := joint.NewThread(d, p, hand)
		if err != nil {
			t.Skip(err)
		}
		return thread
	})
}

func TestParseThread(t *testing.T) {
	for _, test := range []struct {
		name, text, canonical string
		diameter, pitch       string // millimeters
		hand                  joint.Hand
	}{
		{"metric", "M6x1", "M6x1", "6", "1", joint.RightHand},
		{"metric with a times sign", "M6×1", "M6x1", "6", "1", joint.RightHand},
		{"metric with spaces", " m 5 X 0.8 ", "M5x0.8", "5", "0.8", joint.RightHand},
		{"metric left-hand", "M5x0.8 LH", "M5x0.8 LH", "5", "0.8", joint.LeftHand},
		{"metric left-hand, hyphen", "M5x0.8-LH", "M5x0.8 LH", "5", "0.8", joint.LeftHand},
		{"metric left-hand in words", "M5x0.8 left-hand", "M5x0.8 LH", "5", "0.8", joint.LeftHand},
		{"metric right-hand said", "M5x0.8 RH", "M5x0.8", "5", "0.8", joint.RightHand},
		{"decimal comma", "M5x0,8", "M5x0.8", "5", "0.8", joint.RightHand},
		{"trailing zero", "M12x1.50", "M12x1.5", "12", "1.5", joint.RightHand},
		{"odd metric diameter", "M30.6x1", "M30.6x1", "30.6", "1", joint.RightHand},
		{"metric with units", "36 mm x 1 mm", "M36x1", "36", "1", joint.RightHand},
		{"coarse by size", "M6", "M6x1", "6", "1", joint.RightHand},
		{"coarse by size, left-hand", "M10 LH", "M10x1.5 LH", "10", "1.5", joint.LeftHand},
		{"inch decimal", "1.37 in x 24 tpi LH", "1.37 in x 24 tpi LH", "34.798", "127/120", joint.LeftHand},
		{"inch decimal, tight", "1.37in×24tpi", "1.37 in x 24 tpi", "34.798", "127/120", joint.RightHand},
		{"inch sign", `1.37" x 24 TPI`, "1.37 in x 24 tpi", "34.798", "127/120", joint.RightHand},
		{"mixed units", "36 mm x 24 tpi", "36 mm x 24 tpi", "36", "127/120", joint.RightHand},
		{"mixed units, M", "M36 x 24 tpi", "36 mm x 24 tpi", "36", "127/120", joint.RightHand},
		{"fraction", "9/16 in x 20 tpi", "9/16 in x 20 tpi", "14.2875", "1.27", joint.RightHand},
		{"fraction left-hand", "1/2 in x 20 tpi LH", "1/2 in x 20 tpi LH", "12.7", "1.27", joint.LeftHand},
		{"mixed number", "1-1/8 in x 26 tpi", "1-1/8 in x 26 tpi", "28.575", "127/130", joint.RightHand},
		{"one inch in millimeters", "25.4 mm x 24 tpi", "1 in x 24 tpi", "25.4", "127/120", joint.RightHand},
		{"hyphen", "1/4-20", "1/4 in x 20 tpi", "6.35", "1.27", joint.RightHand},
		{"hyphen, mixed number", "1-1/8-7", "1-1/8 in x 7 tpi", "28.575", "127/35", joint.RightHand},
		{"hyphen with its series", "1/4-20 UNC", "1/4 in x 20 tpi", "6.35", "1.27", joint.RightHand},
		{"numbered with its series", "#10-32 UNF LH", "0.19 in x 32 tpi LH", "4.826", "0.79375", joint.LeftHand},
		{"numbered", "#10-32", "0.19 in x 32 tpi", "4.826", "0.79375", joint.RightHand},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := mustParse(t, test.text)
			require.Equal(t, test.canonical, got.String())
			require.Equal(t, test.diameter, got.Diameter().String())
			require.Equal(t, test.pitch, got.Pitch().String())
			require.Equal(t, test.hand, got.Hand())
			require.Equal(t, got, mustParse(t, got.String()), "round trip")
		})
	}
}

func TestParseThreadRefuses(t *testing.T) {
	for _, test := range []struct {
		name, text string
		err        error
		says       string
	}{
		{"empty", "", joint.ErrThreadSyntax, "empty"},
		{"hand alone", "LH", joint.ErrThreadSyntax, "empty"},
		{"no unit", "1.37 x 24", joint.ErrThreadSyntax, `"1.37" has no unit`},
		{"pitch without unit", "1.37 in x 24", joint.ErrThreadSyntax, `"24" has no unit`},
		{"M and inches", "M1 in x 20 tpi", joint.ErrThreadSyntax, "mixes M and inches"},
		{"no pitch", "9/16 in", joint.ErrThreadSyntax, "no pitch"},
		{"size without coarse pitch", "M30.6", joint.ErrThreadSyntax, "no coarse pitch"},
		{"half a turn", "1.37 in x 24.5 tpi", joint.ErrThreadSyntax, "not a whole number of turns"},
		{"no turns", "1.37 in x 0 tpi", joint.ErrThreadSyntax, "not a whole number of turns"},
		{"zero pitch", "M6x0", joint.ErrThreadRange, "pitch 0 mm"},
		{"zero diameter", "M0x1", joint.ErrThreadRange, "diameter 0 mm"},
		{"negative", "M-6x1", joint.ErrThreadSyntax, "not a number"},
		{"huge", "M600x6", joint.ErrThreadRange, "diameter 600 mm"},
		{"pitch too coarse", "M6x3.5", joint.ErrThreadRange, "more than half the diameter"},
		{"divided by zero", "9/0 in x 20 tpi", joint.ErrThreadSyntax, "not a fraction"},
		{"third of an inch", "1/3 in x 20 tpi", joint.ErrThreadRange, "more than six decimals"},
		{"no numbered size", "#13-20", joint.ErrThreadSyntax, "numbered size"},
		{"wrong series", "1/4-20 UNF", joint.ErrThreadSyntax, "1/4-20 is not in the UNF series"},
		{"series of no hyphen size", "M6 UNC", joint.ErrThreadSyntax, "not a number"},
		{"words", "coarse", joint.ErrThreadSyntax, "no pitch given"},
		{"too long", strings.Repeat("M", 1000), joint.ErrThreadSyntax, "too long"},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := joint.ParseThread(test.text)
			require.ErrorIs(t, err, test.err)
			require.ErrorContains(t, err, test.says)
		})
	}
}

func TestNewThreadRefuses(t *testing.T) {
	six, one := joint.Ratio{Num: 6, Den: 1}, joint.Ratio{Num: 1, Den: 1}
	for _, test := range []struct {
		name            string
		diameter, pitch joint.Ratio
		hand            joint.Hand
	}{
		{"no diameter", joint.Ratio{}, one, 0},
		{"no pitch", six, joint.Ratio{}, 0},
		{"no denominator", joint.Ratio{Num: 6}, one, 0},
		{"negative", joint.Ratio{Num: -6, Den: 1}, one, 0},
		{"a third of a millimeter", six, joint.Ratio{Num: 1, Den: 3}, 0},
		{"no such hand", six, one, 7},
		{"the least number", joint.Ratio{Num: -1 << 63, Den: -1 << 63}, one, 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := joint.NewThread(test.diameter, test.pitch, test.hand)
			require.ErrorIs(t, err, joint.ErrThreadRange)
		})
	}
}

func TestSameThreadHoweverWritten(t *testing.T) {
	require.Equal(t, mustParse(t, "25.4 mm x 24 tpi"), mustParse(t, "1 in x 24 tpi"))
	require.Equal(t, mustParse(t, "M6"), mustParse(t, "6 mm × 1 mm"))
	require.True(t, mustParse(t, "9/16 in x 20 tpi").Equal(mustParse(t, "M14.2875x1.27")))
	require.False(t, mustParse(t, "M6").Equal(mustParse(t, "M6 LH")))
	made, err := joint.NewThread(joint.Ratio{Num: 12, Den: 2}, joint.Ratio{Num: -4, Den: -4}, joint.RightHand)
	require.NoError(t, err)
	require.Equal(t, mustParse(t, "M6x1"), made)
}

// TestCoarsePitch holds the table of coarse pitches against the rows marked
// coarse in published tables of proof loads (source in each row).
func TestCoarsePitch(t *testing.T) {
	seen := 0
	for _, row := range vectors(t, "joint_threads_metric.csv") {
		if row["series"] != "coarse" {
			continue
		}
		seen++
		got := mustParse(t, row["designation"])
		require.InDelta(t, number(t, row["P_mm"]), got.Pitch().Float64(), 1e-12, row["designation"])
		require.InDelta(t, number(t, row["d_mm"]), got.Diameter().Float64(), 1e-12, row["designation"])
	}
	require.Equal(t, 12, seen)
}

func TestZeroThread(t *testing.T) {
	var none joint.Thread
	require.True(t, none.IsZero())
	require.Empty(t, none.String())
	require.Equal(t, none, none.WithHand(joint.LeftHand))
	text, err := json.Marshal(none)
	require.NoError(t, err)
	require.Equal(t, `""`, string(text))
	back := mustParse(t, "M6x1")
	require.NoError(t, json.Unmarshal(text, &back))
	require.True(t, back.IsZero())
}

func TestThreadRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thread := threads().Draw(t, "thread")
		back, err := joint.ParseThread(thread.String())
		require.NoError(t, err)
		require.Equal(t, thread, back)
		text, err := json.Marshal(thread)
		require.NoError(t, err)
		var decoded joint.Thread
		require.NoError(t, json.Unmarshal(text, &decoded))
		require.Equal(t, thread, decoded)
	})
}

func TestUnmarshalTextKeepsOnError(t *testing.T) {
	thread := mustParse(t, "M6x1")
	require.ErrorIs(t, thread.UnmarshalText([]byte("six")), joint.ErrThreadSyntax)
	require.Equal(t, "M6x1", thread.String())
}

func TestHandText(t *testing.T) {
	for _, h := range []joint.Hand{joint.RightHand, joint.LeftHand} {
		text, err := json.Marshal([]joint.Hand{h})
		require.NoError(t, err)
		require.Equal(t, `["`+h.String()+`"]`, string(text))
		var back []joint.Hand
		require.NoError(t, json.Unmarshal(text, &back))
		require.Equal(t, []joint.Hand{h}, back)
	}
	var h joint.Hand
	require.NoError(t, h.UnmarshalText([]byte("LH")))
	require.Equal(t, joint.LeftHand, h)
	require.ErrorIs(t, h.UnmarshalText([]byte("middle")), joint.ErrHand)
	_, err := joint.Hand(2).MarshalText()
	require.ErrorIs(t, err, joint.ErrHand)
	require.Equal(t, "hand 2", joint.Hand(2).String())
}

func TestRatio(t *testing.T) {
	r, err := joint.NewRatio(254, 240)
	require.NoError(t, err)
	require.Equal(t, joint.Ratio{Num: 127, Den: 120}, r)
	require.Equal(t, "127/120", r.String())
	require.InDelta(t, 25.4/24, r.Float64(), 1e-15)
	require.Equal(t, 1, r.Cmp(joint.Ratio{Num: 1, Den: 1}))
	require.Equal(t, -1, joint.Ratio{}.Cmp(r))
	for _, bad := range [][2]int64{{1, 0}, {1 << 62, 1}, {1, -1 << 63}} {
		_, err := joint.NewRatio(bad[0], bad[1])
		require.ErrorIs(t, err, joint.ErrRatio)
	}
}

func FuzzParseThread(f *testing.F) {
	for _, seed := range []string{
		"M6x1", "M6×1", "M5x0.8 LH", "M30.6x1", "1.37 in x 24 tpi LH", "1.37in×24tpi",
		"36 mm x 24 tpi", "9/16 in x 20 tpi", "1/4-20", "#10-32", "1-1/8 in x 26 tpi", "M6",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		thread, err := joint.ParseThread(text)
		if err != nil {
			require.True(t, thread.IsZero())
			return
		}
		back, err := joint.ParseThread(thread.String())
		require.NoError(t, err, thread.String())
		require.Equal(t, thread, back)
	})
}

func BenchmarkParseThread(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := joint.ParseThread("1.37 in x 24 tpi LH"); err != nil {
			b.Fatal(err)
		}
	}
}
