package fit_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/procedure/fit"
)

// around draws a length within ±span of the middle, on a grid of 10 µm.
func around(t *rapid.T, name string, middle, span fit.Length) fit.Length {
	steps := int64(span / (10 * fit.Micrometer))
	return middle + 10*fit.Micrometer*fit.Length(rapid.Int64Range(-steps, steps).Draw(t, name))
}

func anyInstrument(t *rapid.T) fit.Instrument {
	return rapid.SampledFrom(fit.Instruments()).Draw(t, "instrument")
}

// sound checks what holds for every result of every rule.
func sound(t *rapid.T, r fit.Result) {
	require.NotEmpty(t, r.Rule)
	require.NotEmpty(t, r.Measured, r.Rule)
	require.NotEmpty(t, r.Limit, r.Rule)
	require.NotEmpty(t, r.Why, r.Rule)
	require.NotEmpty(t, r.Source, r.Rule)
	require.NotEmpty(t, r.Confidence, r.Rule)
	require.NotEmpty(t, r.Instrument.Name, r.Rule)
	require.NotEqual(t, fit.NotChecked, r.Verdict, r.Rule)
	require.GreaterOrEqual(t, r.Uncertainty, fit.Length(0))
	if r.Verdict == fit.Fits {
		require.Empty(t, r.Needs, r.Rule)
	}
	if r.Verdict == fit.FitsWith {
		require.NotEmpty(t, r.Needs, r.Rule)
	}
	soundMargin(t, r)
}

// soundMargin checks that verdict, margin and uncertainty agree: nothing fits
// by less than the error of its instrument, and nothing is refused with margin
// left.
func soundMargin(t *rapid.T, r fit.Result) {
	isGood := r.Verdict == fit.Fits || r.Verdict == fit.FitsWith
	switch r.Margin.Kind {
	case fit.NoMargin:
	case fit.LengthMargin:
		if isGood {
			require.GreaterOrEqual(t, r.Margin.Length, max(0, r.Uncertainty), r)
		}
		if r.Verdict == fit.DoesNotFit {
			require.Negative(t, r.Margin.Length, r)
		}
	case fit.CountMargin:
		if isGood {
			require.GreaterOrEqual(t, r.Margin.Count, 0, r)
		}
		if r.Verdict == fit.DoesNotFit {
			require.Negative(t, r.Margin.Count, r)
		}
	}
}

// TestEveryResultIsSound draws inputs near the limits of each rule of lengths
// and counts.
func TestEveryResultIsSound(t *testing.T) {
	const m = fit.Millimeter
	collect := func(results *[]fit.Result) func([]fit.Result, error) {
		return func(more []fit.Result, err error) {
			if err == nil {
				*results = append(*results, more...)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		ins := anyInstrument(t)
		n := rapid.IntRange(-4, 4).Draw(t, "teeth")
		var results []fit.Result
		add := collect(&results)
		add(one(fit.BodyLength(around(t, "body", 36*m, 3*m), around(t, "made for", 36*m, 2*m), rapid.SampledFrom([]fit.Length{0, m}).Draw(t, "own"), ins)))
		add(one(fit.StackProud(around(t, "proud", m, 4*m), ins)))
		add(one(fit.ChainClearance(around(t, "pitch", 4*m, m), around(t, "thickness", 1600*fit.Micrometer, 200*fit.Micrometer), around(t, "chain", 6*m, m), ins)))
		gears := fit.Gears{BigRing: 50 + n, SmallRing: 34, BigSprocket: 34 + n, SmallSprocket: 11}
		add(one(fit.DerailleurCapacity(gears, 39)))
		add(one(fit.LargestSprocket(38+n, 34, around(t, "extender", 20*m, 20*m))))
		add(one(fit.ChainLength(gears, around(t, "chainstay", 415*m, 20*m), 110+n, ins)))
		add(fit.Chainline(fit.ChainRun{Front: around(t, "front", 47*m, 10*m), Hub: 142 * m, Chainstay: around(t, "stay", 420*m, 20*m), Sprockets: fit.SprocketFamilies()[3]}, ins))
		add(fit.CrankClearance(around(t, "ring", 3*m, 3*m), around(t, "arm", 3*m, 3*m), ins))
		add(one(fit.TaperPairing(fit.Taper{StandOff: around(t, "stand-off", 2*m, 3*m)}, ins)))
		add(one(fit.RotorSize(fit.Rotor{Native: rotor(t, "native"), Size: rotor(t, "size"), Max: rotor(t, "max"), FlatFront: n > 0})))
		add(fit.AxleFit(fit.Axle{Hub: around(t, "hub", 142*m, m), Inner: 135 * m, Slot: 3500 * fit.Micrometer, Length: around(t, "axle", 166*m, 3*m), Through: 12 * m, Engaged: around(t, "engaged", 11*m, 3*m)}, ins))
		add(fit.TireClearance(fit.Tire{Nominal: around(t, "tyre", 32*m, 5*m), BeadSeat: 622 * m, RimSeat: 622 * m, RimInner: around(t, "rim", 21*m, 4*m), Gap: around(t, "gap", 44*m, 6*m), RunOut: around(t, "run-out", m, m), Top: around(t, "top", 6*m, 4*m), IsRacing: n > 0}, ins))
		add(fit.SeatpostFit(fit.Seatpost{Tube: around(t, "tube", 27200*fit.Micrometer, m/2), Post: 27200 * fit.Micrometer, PostLength: 350 * m, Exposed: around(t, "exposed", 280*m, 40*m), Junction: around(t, "junction", 50*m, 30*m)}, ins))
		add(one(fit.BarClamp(fit.Bar{Diameter: around(t, "bar", 31800*fit.Micrometer, m), Bore: 31800 * fit.Micrometer, IsMetal: n > 0}, ins)))
		add(fit.SteererStack(fit.Steerer{Length: around(t, "steerer", 224*m, 6*m), HeadTube: 145 * m, Headset: 22 * m, Spacers: 20 * m, Stem: 40 * m, IsCarbon: true, SpacerLimit: around(t, "limit", 20*m, 2*m)}, ins))
		add(one(fit.FlatMountBolt(around(t, "stay", 23*m, 4*m), 31*m, ins)))
		add(fit.SaddleRails(fit.Rails{around(t, "rail", 7*m, m), 7 * m}, fit.Rails{7 * m, 7 * m}, ins))
		add(fit.FrontDerailleurFit(fit.FrontDerailleur{Band: around(t, "band", 31800*fit.Micrometer, m/2), SeatTube: 31800 * fit.Micrometer, IsTubeRound: n > 0, BigRing: 50 + n, NextRing: 34, MostDifference: 16, MostRing: 52, CageRing: 50, Chainline: around(t, "line", 45*m, 3*m), ChainlineDesign: 45 * m}, ins))
		s := fit.Shell{Width: around(t, "shell", 68*m, m), Bore: around(t, "bore", 46*m, m), CupBore: 46 * m, Spindle: "30 mm", CrankWidth: around(t, "crank", 70*m, 6*m), Spacer: rapid.SampledFrom([]fit.Length{0, 2500 * fit.Micrometer}).Draw(t, "spacer"), SpindleLength: around(t, "spindle", 70*m, 4*m)}
		add(fit.ShellAndSpindle(s, ins))
		require.Greater(t, len(results), 25)
		for _, r := range results {
			sound(t, r)
		}
	})
}

func rotor(t *rapid.T, name string) fit.Length {
	return fit.Millimeter * rapid.SampledFrom([]fit.Length{140, 160, 180, 200, 203, 220}).Draw(t, name)
}

// TestMarginFollowsTheMeasure moves one figure and watches margin and verdict
// move the same way.
func TestMarginFollowsTheMeasure(t *testing.T) {
	const m = fit.Millimeter
	for _, test := range []struct {
		name string
		// better is the rule as a function of a figure that helps when it grows.
		better func(fit.Length, fit.Instrument) (fit.Result, error)
		middle fit.Length
	}{
		{"stand-off", func(l fit.Length, ins fit.Instrument) (fit.Result, error) {
			return fit.TaperPairing(fit.Taper{StandOff: l}, ins)
		}, 2 * m},
		{"narrower chain", func(l fit.Length, ins fit.Instrument) (fit.Result, error) {
			return fit.ChainClearance(6*m, 2*m, 16*m-l, ins)
		}, 6 * m},
		{"wider gap", func(l fit.Length, ins fit.Instrument) (fit.Result, error) {
			results, err := fit.TireClearance(fit.Tire{Nominal: 32 * m, BeadSeat: 622 * m, RimSeat: 622 * m, RimInner: 21 * m, Width: 33 * m, Gap: l}, ins)
			return results[1], err
		}, 45 * m},
		{"longer spindle", func(l fit.Length, ins fit.Instrument) (fit.Result, error) {
			results, err := fit.ShellAndSpindle(fit.Shell{Width: 68 * m, Bore: 46 * m, CupBore: 46 * m, Spindle: "30 mm", SpindleLength: l}, ins)
			return results[len(results)-1], err
		}, 68 * m},
	} {
		t.Run(test.name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				ins := anyInstrument(t)
				low := around(t, "low", test.middle, 2*m)
				high := low + around(t, "more", m, m)
				a, err := test.better(low, ins)
				require.NoError(t, err)
				b, err := test.better(high, ins)
				require.NoError(t, err)
				require.LessOrEqual(t, a.Margin.Length, b.Margin.Length)
				require.GreaterOrEqual(t, a.Verdict, b.Verdict, "more room is never worse")
			})
		})
	}
}

// TestCoarserInstrumentNeverFitsMore takes the same figures with a finer and a
// coarser instrument.
func TestCoarserInstrumentNeverFitsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bar := fit.Bar{Diameter: around(t, "bar", 31800*fit.Micrometer, fit.Millimeter), Bore: 31800 * fit.Micrometer}
		fine, err := fit.BarClamp(bar, fit.BoreGauge())
		require.NoError(t, err)
		coarse, err := fit.BarClamp(bar, fit.Caliper())
		require.NoError(t, err)
		require.Equal(t, fine.Margin, coarse.Margin)
		require.True(t, coarse.Verdict == fine.Verdict || coarse.Verdict == fit.TryAndMeasure)
	})
}

// TestPatternsAndThreadsAreSymmetric: what does not fit one way does not fit
// the other.
func TestPatternsAndThreadsAreSymmetric(t *testing.T) {
	all := fit.DriveInterfaces()
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.SampledFrom(all).Draw(t, "a").ID, rapid.SampledFrom(all).Draw(t, "b").ID
		r, err := fit.SplinePattern(a, b)
		require.NoError(t, err)
		sound(t, r)
		back, err := fit.SplinePattern(b, a)
		require.NoError(t, err)
		require.Equal(t, r.Verdict, back.Verdict)
	})
}
