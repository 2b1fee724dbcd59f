package wrench_test

import (
	"errors"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

func TestChoose(t *testing.T) {
	tenth := setting(t, "2", "25", "0.1")  // ± 4 %, used from 5 N·m
	half := setting(t, "2.5", "10", "0.5") // ± 6 %, used from 2.5 N·m
	offset := setting(t, "1.25", "10", "0.5")
	fixed := tool(t, wrench.Description{Kind: wrench.Fixed, Min: "5.0", Max: "5.0"})
	pounds := tool(t, wrench.Description{Kind: wrench.Setting, Unit: torque.PoundForceInches, Min: "20", Max: "240", Graduation: "1"})
	for _, tt := range []struct {
		name           string
		w              *wrench.Wrench
		low, high, aim string
		allow          wrench.Allowance
		mark           string
		settings       string
	}{
		// 12·1.04 and 14·0.96
		{"nearest the aim", tenth, "12", "14", "13", wrench.AllowTool, "13.0 N·m", "12.48 N·m to 13.44 N·m"},
		{"held back by the maximum", tenth, "12", "14", "14", wrench.AllowTool, "13.4 N·m", "12.48 N·m to 13.44 N·m"},
		{"held up by the minimum", tenth, "12", "14", "12", wrench.AllowTool, "12.5 N·m", "12.48 N·m to 13.44 N·m"},
		{"without allowance", tenth, "12", "14", "14", wrench.AllowNone, "14.0 N·m", "12 N·m to 14 N·m"},
		{"no aim is the middle", tenth, "12", "14", "0", wrench.AllowTool, "13.0 N·m", "12.48 N·m to 13.44 N·m"},
		{"maximum only", tenth, "", "14", "20", wrench.AllowTool, "13.4 N·m", "at most 13.44 N·m"},
		{"between two marks, the higher", half, "4", "8", "5.25", wrench.AllowTool, "5.5 N·m", "4.24 N·m to 7.52 N·m"},
		{"marks count from the first", offset, "4", "8", "5", wrench.AllowTool, "5.25 N·m", "4.24 N·m to 7.52 N·m"},
		{"not below a fifth of the scale", tenth, "4", "8", "4.5", wrench.AllowTool, "5.0 N·m", "4.16 N·m to 7.68 N·m"},
		{"not beyond the scale", half, "9", "12", "11", wrench.AllowTool, "10.0 N·m", "9.54 N·m to 11.28 N·m"},
		{"a limit on a mark", tenth, "12.5", "12.5", "12.5", wrench.AllowNone, "12.5 N·m", "12.5 N·m to 12.5 N·m"},
		{"fixed", fixed, "4", "6", "5.5", wrench.AllowTool, "5.0 N·m", "4.24 N·m to 5.64 N·m"},
		{"pounds in use", pounds, "11", "13", "12", wrench.AllowTool, "106 lbf·in", "11.44 N·m to 12.48 N·m"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			choice, err := tt.w.Choose(window(t, tt.low, tt.high), newtonMeters(t, tt.aim), tt.allow)
			require.Equal(t, tt.mark == "", err != nil)
			require.Equal(t, tt.mark != "", !choice.Mark.IsZero() && choice.Mark.String() == tt.mark, "%v", choice.Mark)
			require.Equal(t, tt.settings != "", choice.Settings.String() == tt.settings, "%v", choice.Settings)
		})
	}
}

// A limit stated in the unit of the scale is found on the scale again, though
// as a Torque it lies up to half a nanonewton meter beside it.
func TestALimitStatedInTheUnitOfTheScaleIsOnTheScale(t *testing.T) {
	w := tool(t, wrench.Description{Kind: wrench.Setting, Unit: torque.PoundForceInches, Min: "10", Max: "50", Graduation: "1"})
	for k := range 41 {
		limit := figure(t, big.NewInt(int64(10+k)).String(), torque.PoundForceInches)
		at, err := limit.Torque()
		require.NoError(t, err)
		only, err := torque.NewWindow(at, at)
		require.NoError(t, err)
		choice, err := w.Choose(only, 0, wrench.AllowNone)
		require.NoError(t, err)
		require.Equal(t, limit, choice.Mark)
	}
}

func TestChooseRefuses(t *testing.T) {
	tenth := setting(t, "2", "25", "0.1")
	one := setting(t, "2", "25", "1")
	for _, tt := range []struct {
		name           string
		w              *wrench.Wrench
		low, high, aim string
		allow          wrench.Allowance
		rule           string
		text           string
	}{
		{"deviation wider than the window", tenth, "12", "12.5", "12.2", wrench.AllowTool, wrench.RuleTooCoarse,
			"tool may be 4 % off, more than 12 N·m to 12.5 N·m allows: take a tool within 2.0408 %"},
		// 13·1.04 = 13.52, 14.2·0.96 = 13.632; 14/0.96 = 14.58 is 0.383 over, and
		// 13/1.04 = 12.5 is 0.5 under
		{"between marks, too high above", one, "13", "14.2", "13.6", wrench.AllowTool, wrench.RuleOffScale,
			"no mark of tool keeps the torque within 13 N·m to 14.2 N·m: at 14 N·m the joint may get 14.583 N·m, 0.383 N·m over the maximum"},
		// 12.6·1.04 = 13.104, 13.8·0.96 = 13.248
		{"between marks, too low below", one, "12.6", "13.8", "13.6", wrench.AllowTool, wrench.RuleOffScale,
			"no mark of tool keeps the torque within 12.6 N·m to 13.8 N·m: at 13 N·m the joint may get only 12.5 N·m, 0.1 N·m under the minimum"},
		{"without allowance", one, "13.2", "13.6", "13.4", wrench.AllowNone, wrench.RuleOffScale,
			"no mark of tool keeps the torque within 13.2 N·m to 13.6 N·m: at 13 N·m the joint may get only 13 N·m, 0.2 N·m under the minimum"},
		{"below the range of use", tenth, "3", "4", "3.5", wrench.AllowTool, wrench.RuleOutOfRange,
			"tool is used from 5 N·m to 25 N·m: at 5.0 N·m the joint may get 5.208 N·m, 1.208 N·m over the maximum"},
		{"above the range of use", tenth, "30", "40", "35", wrench.AllowTool, wrench.RuleOutOfRange,
			"tool is used from 5 N·m to 25 N·m: at 25.0 N·m the joint may get only 24.038 N·m, 5.962 N·m under the minimum"},
		{"below the first mark", setting(t, "10", "25", "5"), "", "7", "7", wrench.AllowTool, wrench.RuleOutOfRange,
			"tool is used from 10 N·m to 25 N·m: at 10 N·m the joint may get 10.417 N·m, 3.417 N·m over the maximum"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := tt.w.Choose(window(t, tt.low, tt.high), newtonMeters(t, tt.aim), tt.allow)
			require.ErrorIs(t, err, wrench.ErrNoSetting)
			var reason *wrench.ToolError
			require.ErrorAs(t, err, &reason)
			require.Equal(t, tt.rule, reason.Rule)
			require.Equal(t, tt.text, reason.Error())
		})
	}
	for _, open := range []torque.Window{{}, window(t, "5", "")} {
		_, err := tenth.Choose(open, torque.NewtonMeter, wrench.AllowTool)
		require.ErrorIs(t, err, torque.ErrNoLimit)
	}
}

// anyTool draws a tool in any unit with a scale that a wrench could have, and
// its scale for package torque.
func anyTool(t *rapid.T) (*wrench.Wrench, torque.Scale, wrench.Deviation) {
	unit := rapid.SampledFrom(torque.Units()).Draw(t, "unit")
	places := rapid.IntRange(0, 4).Draw(t, "places")
	step := rapid.Int64Range(1, 50).Draw(t, "step")
	first := rapid.Int64Range(0, 500).Draw(t, "first")
	last := first + step*rapid.Int64Range(1, 400).Draw(t, "marks")
	d := wrench.Deviation(rapid.Int32Range(1, 200_000).Draw(t, "deviation"))
	scale := torque.Scale{Unit: unit, Step: decimal(step, places), First: decimal(first, places), Last: decimal(last, places)}
	percent, err := d.MarshalText()
	require.NoError(t, err)
	w, err := wrench.New(wrench.Description{Kind: wrench.Setting, Unit: unit, Min: scale.First, Max: scale.Last,
		Graduation: scale.Step, DeviationPercent: string(percent)})
	if err != nil {
		t.Skip("no mark in use") // the only thing that can be wrong here
	}
	return w, scale, d
}

func decimal(whole int64, places int) string {
	ten := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
	return new(big.Rat).SetFrac(big.NewInt(whole), ten).FloatString(places)
}

// windowNear draws a window somewhere on the scale of a tool.
func windowNear(t *rapid.T, w *wrench.Wrench) (window torque.Window, aim torque.Torque) {
	_, highest := w.UseRange()
	low := rapid.Int64Range(0, int64(highest)).Draw(t, "low")
	width := rapid.Int64Range(0, int64(highest)/2).Draw(t, "width")
	window, err := torque.NewWindow(torque.Torque(low), torque.Torque(low+max(width, 1)))
	require.NoError(t, err)
	return window, torque.Torque(rapid.Int64Range(1, 2*int64(highest)).Draw(t, "aim"))
}

// Whatever the tool, the window and the aim: the choice is the one that a plain
// search by rationals over all marks makes, and the torque at the fastener
// stays in the window for every deviation the tool may have.
func TestEveryChoiceStaysInTheWindow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, scale, d := anyTool(t)
		window, aim := windowNear(t, w)
		allow := rapid.SampledFrom([]wrench.Allowance{wrench.AllowTool, wrench.AllowNone}).Draw(t, "allow")
		if allow == wrench.AllowNone {
			d = 0
		}
		choice, err := w.Choose(window, aim, allow)
		want := bestMark(t, scale, big.NewRat(1, 1), window, aim, d)
		if want == nil {
			var reason *wrench.ToolError
			require.ErrorAs(t, err, &reason)
			require.NotEmpty(t, reason.Error())
			checkReason(t, w, scale, window, d, reason)
			return
		}
		require.NoError(t, err)
		require.Zero(t, want.Cmp(choice.Mark.Rat()), "%v instead of %v", choice.Mark, want)
		require.True(t, choice.Settings.Contains(choice.Setting))
		require.True(t, window.Contains(choice.Least) && window.Contains(choice.Most))
		off := wrench.Deviation(rapid.Int32Range(-int32(d), int32(d)).Draw(t, "is off by"))
		require.True(t, window.Contains(deliveredBy(t, want, scale.Unit, off)))
	})
}

// bestMark searches all marks from a fifth of the last on for the one nearest
// to the aim whose torque stays in the window at both ends of the deviation.
// ratio is the setting for one unit of torque at the fastener.
func bestMark(t *rapid.T, scale torque.Scale, ratio *big.Rat, window torque.Window, aim torque.Torque, d wrench.Deviation) (best *big.Rat) {
	last, _ := new(big.Rat).SetString(scale.Last)
	want := new(big.Rat).Mul(aim.In(scale.Unit).Rat(), ratio)
	for _, mark := range marksOf(scale) {
		at := new(big.Rat).Quo(mark, ratio)
		inUse := new(big.Rat).Mul(mark, big.NewRat(5, 1)).Cmp(last) >= 0
		if !inUse || !window.Contains(deliveredBy(t, at, scale.Unit, d)) || !window.Contains(deliveredBy(t, at, scale.Unit, -d)) {
			continue
		}
		if best == nil || gap(mark, want).Cmp(gap(best, want)) <= 0 {
			best = mark
		}
	}
	return best
}

// deliveredBy is the Torque nearest to S/(1+d), and one that no window holds
// where it is beyond all torques.
func deliveredBy(t require.TestingT, mark *big.Rat, unit torque.Unit, d wrench.Deviation) torque.Torque {
	factor := new(big.Rat).Add(big.NewRat(1, 1), big.NewRat(int64(d), 1_000_000))
	delivered, err := torque.NewExact(factor.Quo(mark, factor), unit).Torque()
	if errors.Is(err, torque.ErrOutOfRange) {
		return torque.MaxWire + 1
	}
	require.NoError(t, err)
	return delivered
}

func gap(a, b *big.Rat) *big.Rat { return new(big.Rat).Abs(new(big.Rat).Sub(a, b)) }

// checkReason checks that a refusal is right about the mark it names, and that
// no mark in use misses the window by less.
func checkReason(t *rapid.T, w *wrench.Wrench, scale torque.Scale, window torque.Window, d wrench.Deviation, r *wrench.ToolError) {
	low, _ := window.Min()
	high, _ := window.Max()
	if r.Rule == wrench.RuleTooCoarse {
		require.Less(t, r.Needed, d)
		return
	}
	lowest, highest := w.UseRange()
	setting, err := r.Nearest.Torque()
	require.NoError(t, err)
	require.True(t, lowest <= setting && setting <= highest)
	require.Positive(t, r.By)
	require.Equal(t, map[wrench.Side]torque.Torque{wrench.TooLow: low, wrench.TooHigh: high}[r.Side], r.Limit)
	require.Equal(t, r.By, max(r.Limit-r.Delivered, r.Delivered-r.Limit))
	for _, mark := range marksOf(scale) {
		at, err := torque.NewExact(mark, scale.Unit).Torque()
		require.NoError(t, err)
		least, most := d.Delivered(at)
		require.False(t, at >= lowest && max(low-least, most-high) < r.By, "%v misses by less than %v", at, r.By)
	}
}

// marksOf lists the marks of a scale.
func marksOf(scale torque.Scale) []*big.Rat {
	step, _ := new(big.Rat).SetString(scale.Step)
	mark, _ := new(big.Rat).SetString(scale.First)
	last, _ := new(big.Rat).SetString(scale.Last)
	var marks []*big.Rat
	for ; mark.Cmp(last) <= 0; mark = new(big.Rat).Add(mark, step) {
		marks = append(marks, mark)
	}
	return marks
}

// The same scale and window in another unit make the same choice.
func TestChoiceDoesNotDependOnTheUnit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := rapid.Int64Range(1, 20).Draw(t, "step")
		marks := rapid.Int64Range(2, 200).Draw(t, "marks")
		low := rapid.Int64Range(0, step*marks).Draw(t, "low")
		high := low + rapid.Int64Range(1, step*marks).Draw(t, "width")
		aim := rapid.Int64Range(1, high).Draw(t, "aim")
		var chosen []int64
		for _, unit := range []struct {
			unit  torque.Unit
			scale int64 // of the unit, so that the numbers are the same
		}{{torque.NewtonMeters, 1}, {torque.CentinewtonMeters, 100}, {torque.KilogramForceMeters, 1}, {torque.PoundForceInches, 1}, {torque.OunceForceInches, 16}} {
			text := func(x int64) string { return decimal(x*unit.scale, 0) }
			w, err := wrench.New(wrench.Description{Kind: wrench.Setting, Unit: unit.unit,
				Min: text(step), Max: text(step * marks), Graduation: text(step), DeviationPercent: "4"})
			require.NoError(t, err)
			written := torque.FigureWindow{Min: figureOf(t, text(low), unit.unit), Max: figureOf(t, text(high), unit.unit)}
			window, err := written.Window()
			require.NoError(t, err)
			at, err := figureOf(t, text(aim), unit.unit).Torque()
			require.NoError(t, err)
			choice, err := w.Choose(window, at, wrench.AllowTool)
			if err != nil {
				chosen = append(chosen, -1)
				continue
			}
			mark := choice.Mark.Rat()
			chosen = append(chosen, new(big.Rat).Quo(mark, big.NewRat(unit.scale, 1)).Num().Int64())
		}
		for _, other := range chosen[1:] {
			require.InDelta(t, chosen[0], other, float64(tieStep(chosen[0], aim, step)), "%v", chosen)
		}
	})
}

// tieStep is one step where the aim lies in the middle between two marks, for
// there the half nanonewton meter of a Torque may decide, and else nothing.
func tieStep(mark, aim, step int64) int64 {
	if 2*max(mark-aim, aim-mark) == step {
		return step
	}
	return 0
}

func figureOf(t *rapid.T, digits string, unit torque.Unit) torque.Figure {
	f, err := torque.ParseFigure(digits, unit)
	require.NoError(t, err)
	return f
}
