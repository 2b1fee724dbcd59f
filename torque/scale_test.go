package torque_test

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/torque"
)

func TestRoundInward(t *testing.T) {
	nmRange := torque.Scale{Unit: torque.NewtonMeters, Step: "0.5", First: "2", Last: "10"}
	whole := torque.Scale{Unit: torque.PoundForceInches, Step: "1"}
	for _, tt := range []struct {
		name      string
		low, high string
		unit      torque.Unit
		scale     torque.Scale
		want      [2]string
		err       error
	}{
		{"limits between marks go inward", "5.2", "7.4", torque.NewtonMeters, nmRange, [2]string{"5.5", "7.0"}, nil},
		{"limits on marks stay", "5", "7", torque.NewtonMeters, nmRange, [2]string{"5.0", "7.0"}, nil},
		{"limit on a mark of another unit stays", "53", "62", torque.PoundForceInches, whole, [2]string{"53", "62"}, nil},
		{"one value on a mark", "5", "5", torque.NewtonMeters, nmRange, [2]string{"5.0", "5.0"}, nil},
		{"vanishes between marks", "5.1", "5.4", torque.NewtonMeters, nmRange, [2]string{}, torque.ErrVanishes},
		{"scale begins above the minimum", "1", "7", torque.NewtonMeters, nmRange, [2]string{"2.0", "7.0"}, nil},
		{"scale ends below the maximum", "5", "70", torque.NewtonMeters, nmRange, [2]string{"5.0", "10.0"}, nil},
		{"scale ends below the minimum", "11", "12", torque.NewtonMeters, nmRange, [2]string{}, torque.ErrVanishes},
		{"scale begins above the maximum", "1", "1.5", torque.NewtonMeters, nmRange, [2]string{}, torque.ErrVanishes},
		{"maximum below the first mark", "", "1.5", torque.NewtonMeters, nmRange, [2]string{}, torque.ErrVanishes},
		{"minimum above the last mark", "11", "", torque.NewtonMeters, nmRange, [2]string{}, torque.ErrVanishes},
		{"maximum below one step", "", "0.1", torque.NewtonMeters, whole, [2]string{}, torque.ErrVanishes},
		{"only a maximum", "", "5.2", torque.NewtonMeters, nmRange, [2]string{"", "5.0"}, nil},
		{"only a minimum", "5.2", "", torque.NewtonMeters, nmRange, [2]string{"5.5", ""}, nil},
		{"no limit", "", "", torque.NewtonMeters, nmRange, [2]string{}, torque.ErrNoLimit},
	} {
		t.Run(tt.name, func(t *testing.T) {
			written := torque.FigureWindow{Min: figure(t, tt.low, tt.unit), Max: figure(t, tt.high, tt.unit)}
			window, err := written.Window()
			require.NoError(t, err)
			for name, round := range map[string]func(torque.Scale) (torque.Marks, error){
				"figures": written.RoundInward, "torques": window.RoundInward,
			} {
				marks, err := round(tt.scale)
				require.ErrorIs(t, err, tt.err, name)
				require.Equal(t, tt.want, [2]string{marks.Min.Digits(), marks.Max.Digits()}, name)
			}
		})
	}
}

func TestScaleRefuses(t *testing.T) {
	for _, tt := range []struct {
		name  string
		scale torque.Scale
	}{
		{"zero value", torque.Scale{}},
		{"zero step", torque.Scale{Step: "0"}},
		{"negative step", torque.Scale{Step: "-1"}},
		{"step below a nanonewton meter", torque.Scale{Step: "0.0000000009"}},
		{"step no number", torque.Scale{Step: "1/2"}},
		{"negative first mark", torque.Scale{Step: "1", First: "-1"}},
		{"last below first", torque.Scale{Step: "1", First: "5", Last: "4"}},
		{"last no number", torque.Scale{Step: "1", Last: "ten"}},
		{"unknown unit", torque.Scale{Unit: 200, Step: "1"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.ErrorIs(t, tt.scale.Check(), torque.ErrScale)
			_, err := window(t)(torque.NewWindow(nm, 2*nm)).RoundInward(tt.scale)
			require.ErrorIs(t, err, torque.ErrScale)
		})
	}
}

func TestFigureWindowRefuses(t *testing.T) {
	unit := torque.PoundForceInches
	for _, tt := range []struct {
		name      string
		low, high string
		want      error
	}{
		{"reversed", "62", "44", torque.ErrReversed},
		{"negative", "-1", "44", torque.ErrNotPositive},
		{"zero maximum", "", "0", torque.ErrNotPositive},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := torque.FigureWindow{Min: figure(t, tt.low, unit), Max: figure(t, tt.high, unit)}
			require.ErrorIs(t, w.Check(), tt.want)
			_, err := w.Window()
			require.ErrorIs(t, err, tt.want)
			_, err = w.RoundInward(torque.Scale{Unit: unit, Step: "1"})
			require.ErrorIs(t, err, tt.want)
		})
	}
}

// anyScale draws a scale in any unit.
func anyScale() *rapid.Generator[torque.Scale] {
	return rapid.Custom(func(t *rapid.T) torque.Scale {
		return torque.Scale{
			Unit:  anyUnit().Draw(t, "scale unit"),
			Step:  rapid.SampledFrom([]string{"1", "0.5", "0.1", "0.25", "5", "0.01"}).Draw(t, "step"),
			First: rapid.SampledFrom([]string{"", "0", "2", "0.3"}).Draw(t, "first"),
		}
	})
}

// Marks from written figures lie inside the limits exactly, and no mark
// further out does.
func TestRoundInwardIsExactAndTight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit, scale := anyUnit().Draw(t, "unit"), anyScale().Draw(t, "scale")
		low := rapid.Int64Range(1, 5000).Draw(t, "low")
		high := low + rapid.Int64Range(0, 5000).Draw(t, "span")
		digits := func(n int64) string { return big.NewRat(n, 100).FloatString(2) }
		minimum, err := torque.ParseFigure(digits(low), unit)
		require.NoError(t, err)
		maximum, err := torque.ParseFigure(digits(high), unit)
		require.NoError(t, err)
		written := torque.FigureWindow{Min: minimum, Max: maximum}
		marks, err := written.RoundInward(scale)
		if err != nil {
			require.ErrorIs(t, err, torque.ErrVanishes)
			return
		}
		step := rat(t, scale.Step)
		lowest, highest := marks.Min.In(unit).Rat(), marks.Max.In(unit).Rat()
		require.LessOrEqual(t, minimum.Rat().Cmp(lowest), 0)
		require.LessOrEqual(t, lowest.Cmp(highest), 0)
		require.LessOrEqual(t, highest.Cmp(maximum.Rat()), 0)
		above := new(big.Rat).Add(marks.Max.Rat(), step)
		require.Positive(t, torque.NewExact(above, scale.Unit).In(unit).Rat().Cmp(maximum.Rat()), "no mark was left out")
	})
}

// Marks from torques are torques inside the window, and rounding them again
// changes nothing.
func TestRoundInwardStaysInsideAndSettles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, scale := anyWindow().Draw(t, "window"), anyScale().Draw(t, "scale")
		marks, err := w.RoundInward(scale)
		if err != nil {
			return
		}
		again := torque.FigureWindow{Min: marks.Min, Max: marks.Max}
		for _, mark := range []torque.Figure{marks.Min, marks.Max} {
			if mark.IsZero() {
				continue
			}
			value, err := mark.Torque()
			require.NoError(t, err)
			low, hasLow := w.Min()
			high, hasHigh := w.Max()
			require.True(t, !hasLow || mark != marks.Min || low <= value)
			require.True(t, !hasHigh || mark != marks.Max || value <= high)
		}
		repeated, err := again.RoundInward(scale)
		require.NoError(t, err)
		require.Equal(t, marks, repeated)
		asTorques, err := again.Window()
		require.NoError(t, err)
		repeated, err = asTorques.RoundInward(scale)
		require.NoError(t, err)
		require.Equal(t, marks, repeated)
	})
}

// A mark between two Torques counts as the even one; where that is outside, the
// next mark inward takes its place.
func TestRoundInwardBetweenTwoTorques(t *testing.T) {
	scale := torque.Scale{Step: "0.0000000015"}
	marks, err := window(t)(torque.NewWindow(1, 4)).RoundInward(scale) // the marks are 1.5, 3.0, 4.5 (4) …
	require.NoError(t, err)
	require.Equal(t, [2]string{"0.0000000015", "0.0000000045"}, [2]string{marks.Min.Digits(), marks.Max.Digits()})
	_, err = window(t)(torque.AtMost(1)).RoundInward(scale) // 1.5 counts as 2
	require.ErrorIs(t, err, torque.ErrVanishes)
	marks, err = window(t)(torque.NewWindow(5, 8)).RoundInward(scale) // 4.5 counts as 4, 7.5 as 8
	require.NoError(t, err)
	require.Equal(t, [2]string{"0.0000000060", "0.0000000075"}, [2]string{marks.Min.Digits(), marks.Max.Digits()})
}

func TestScaleNeighbors(t *testing.T) {
	scale := torque.Scale{Unit: torque.NewtonMeters, Step: "0.5", First: "2", Last: "10"}
	for _, tt := range []struct{ value, below, above string }{
		{"5.2", "5.0", "5.5"},
		{"5", "5.0", "5.0"},
		{"1", "", "2.0"},
		{"11", "10.0", ""},
	} {
		value := figure(t, tt.value, torque.NewtonMeters).In(torque.PoundForceInches)
		below, err := scale.Below(value)
		require.Equal(t, tt.below == "", err != nil)
		require.Equal(t, tt.below, below.Digits())
		above, err := scale.Above(value)
		require.Equal(t, tt.above == "", err != nil)
		require.Equal(t, tt.above, above.Digits())
	}
}
