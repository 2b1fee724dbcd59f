package sketch_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/sketch"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/drawing/page"
)

// boltNames draws names that differ: signs, sides or whatever an author writes.
func boltNames(t *rapid.T) []string {
	count := rapid.IntRange(1, 24).Draw(t, "bolts")
	name := rapid.OneOf(
		rapid.SampledFrom([]string{"A", "B", "1", "2", "left", "right", "upper", "lower", "left nut", "right-inner", "right-outer", "left-inner", "left-outer",
			"front", "rear", "closed-left", "closed-right", "open-left", "open-right", "lockring", "left-upper", "left-lower"}),
		rapid.StringMatching(`[a-zA-Z0-9µ<&" .-]{0,79}[a-z0-9]`),
	)
	return rapid.SliceOfNDistinct(name, count, count, squeezed).Draw(t, "names")
}

func anyTorque(t *rapid.T) *procedure.PlannedTorque {
	bolts := boltNames(t)
	aim := torque.Torque(rapid.Int64Range(int64(torque.NewtonMeter)/10, 300*int64(torque.NewtonMeter)).Draw(t, "aim"))
	out := &procedure.PlannedTorque{
		Bolts: bolts, Order: rapid.Permutation(bolts).Draw(t, "order"), Aim: aim,
		Layout:  procedure.Layout(rapid.IntRange(0, 4).Draw(t, "layout")),
		Passes:  append(rapid.SliceOfNDistinct(rapid.IntRange(1, 99), 0, 8, rapid.ID).Draw(t, "passes"), 100),
		Closing: rapid.Bool().Draw(t, "closing"), ClosingLimit: rapid.IntRange(0, 10).Draw(t, "limit"), ByFeel: rapid.Bool().Draw(t, "by feel"),
	}
	if rapid.Bool().Draw(t, "known") {
		window, err := torque.NewWindow(aim/2, aim*2)
		require.NoError(t, err)
		out.Window = window
	}
	return out
}

func only(s procedure.PlannedStep) *procedure.Plan {
	return &procedure.Plan{Procedure: "any", Steps: []procedure.PlannedStep{s}}
}

// Any group of bolts with any names, order and passes is drawn whole, and the
// same every time.
func TestAnyGroup(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		group := anyTorque(t)
		p := only(procedure.PlannedStep{ID: "any", Title: "Any group", Torque: group,
			Thread: rapid.SampledFrom([]string{"", "M5x0.8", "M5x0.8 LH", "no thread"}).Draw(t, "thread")})
		drawings, err := sketch.Step(p, "any")
		require.NoError(t, err)
		again, err := sketch.Step(p, "any")
		require.NoError(t, err)
		require.Equal(t, drawings, again)
		for _, d := range drawings {
			requireSound(t, d.SVG)
		}
		s := read(t, drawings[0].SVG)
		for _, bolt := range group.Bolts {
			require.Contains(t, s.Desc, strings.TrimRight(bolt, ". "))
		}
		for i := range group.Passes {
			require.Contains(t, s.words(), fmt.Sprintf("pass%d", i+1))
		}
		requireOrdinals(t, s, len(group.Bolts))
	})
}

// requireOrdinals wants each turn to stand there once, and none too many.
func requireOrdinals(t *rapid.T, s seen, bolts int) {
	t.Helper()
	drawn := 0
	for _, text := range s.Texts {
		var n int
		var end string
		if c, _ := fmt.Sscanf(text.Text, "%d%s", &n, &end); c == 2 && slices.Contains([]string{"st", "nd", "rd", "th"}, end) && text.Weight == "bold" {
			require.LessOrEqual(t, n, bolts)
			drawn++
		}
	}
	if bolts > 1 {
		require.GreaterOrEqual(t, drawn, bolts)
	}
}

// Any prep, stack and gaps are drawn whole.
func TestAnySurface(t *testing.T) {
	prep := rapid.Custom(func(t *rapid.T) *procedure.PlannedPrep {
		kind := rapid.IntRange(1, int(procedure.CarbonPaste))
		out := &procedure.PlannedPrep{Use: procedure.Prep(kind.Draw(t, "use"))}
		for _, never := range rapid.SliceOfNDistinct(kind, 0, 8, rapid.ID).Draw(t, "never") {
			out.Never = append(out.Never, procedure.Prep(never))
		}
		return out
	})
	decimal := rapid.SampledFrom([]string{"", "0", "0.2", "1.85", "12", "none"})
	rapid.Check(t, func(t *rapid.T) {
		s := procedure.PlannedStep{ID: "any", Title: "Any surface", Accept: "Gaps alike.",
			FaceWhere: rapid.StringMatching(`[a-z ]{0,200}`).Draw(t, "where"), FaceZone: procedure.FaceZone(rapid.IntRange(0, 2).Draw(t, "zone")),
			Stack: &procedure.PlannedStack{Sprockets: rapid.SampledFrom([]string{"", "1", "2", "7", "12", "13", "16", "17", "-3", "x"}).Draw(t, "sprockets"),
				SpacerMM: decimal.Draw(t, "spacer"), ProudMin: decimal.Draw(t, "low"), ProudMax: decimal.Draw(t, "high")},
		}
		if rapid.Bool().Draw(t, "thread") {
			s.ThreadPrep = prep.Draw(t, "thread prep")
		}
		if rapid.Bool().Draw(t, "face") {
			s.FacePrep = prep.Draw(t, "face prep")
		}
		for i := range rapid.IntRange(0, 6).Draw(t, "gaps") {
			shape := procedure.GapShape(rapid.IntRange(1, 3).Draw(t, "shape"))
			place := rapid.SampledFrom([]string{"upper left", "lower-left", "upper right", "open right", "closed right", "lower", "A", "bolt"}).Draw(t, "place")
			if shape == procedure.RimGap {
				place = fmt.Sprint(rapid.IntRange(1, 12).Draw(t, "hour"))
			}
			s.Checks = append(s.Checks, procedure.PlannedCheck{ID: fmt.Sprint("gap-", i), Kind: procedure.Measure, Unit: "mm",
				Min: decimal.Draw(t, "min"), Max: decimal.Draw(t, "max"), Gap: &procedure.Gap{Of: shape, At: []string{place}, Closed: rapid.Bool().Draw(t, "closed")}})
		}
		drawings, err := sketch.Step(only(s), "any")
		require.NoError(t, err)
		for _, d := range drawings {
			requireSound(t, d.SVG)
		}
	})
}

func TestNotDrawable(t *testing.T) {
	whole := procedure.PlannedTorque{Bolts: []string{"A", "B"}, Order: []string{"A", "B"}, Passes: []int{100}}
	for _, tt := range []struct {
		name   string
		change func(*procedure.PlannedTorque)
	}{
		{"no bolts", func(p *procedure.PlannedTorque) { p.Bolts, p.Order = nil, nil }},
		{"a bolt left out", func(p *procedure.PlannedTorque) { p.Order = []string{"A"} }},
		{"a bolt twice", func(p *procedure.PlannedTorque) { p.Order = []string{"A", "A"} }},
		{"another bolt", func(p *procedure.PlannedTorque) { p.Order = []string{"A", "C"} }},
		{"no passes", func(p *procedure.PlannedTorque) { p.Passes = nil }},
	} {
		t.Run(tt.name, func(t *testing.T) {
			group := whole
			tt.change(&group)
			_, err := sketch.Step(only(procedure.PlannedStep{ID: "x", Torque: &group}), "x")
			require.ErrorIs(t, err, page.ErrNotDrawable)
		})
	}
	_, err := sketch.Step(&procedure.Plan{}, "x")
	require.ErrorIs(t, err, sketch.ErrNoStep)
	_, err = sketch.Taught(&procedure.Resolved{}, "x")
	require.ErrorIs(t, err, sketch.ErrNoStep)
}

// A thread that cannot be read has no direction: nothing is drawn for it that
// somebody could turn by.
func TestUnreadableThreadHasNoDirection(t *testing.T) {
	drawings, err := sketch.Step(only(procedure.PlannedStep{ID: "x", Title: "X", Thread: "metric, fine"}), "x")
	require.NoError(t, err)
	require.Len(t, drawings, 1)
	words := read(t, drawings[0].SVG).words()
	require.Contains(t, words, "NOTKNOWN")
	require.NotContains(t, strings.ToLower(words), "clockwise")
	require.NotContains(t, string(drawings[0].SVG), "<path d=\"M8", "no arrow")
}
