package fit_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure/fit"
)

func TestVerdictText(t *testing.T) {
	for _, v := range []fit.Verdict{fit.NotChecked, fit.Fits, fit.FitsWith, fit.TryAndMeasure, fit.DoesNotFit} {
		text, err := json.Marshal(v)
		require.NoError(t, err)
		var back fit.Verdict
		require.NoError(t, json.Unmarshal(text, &back))
		require.Equal(t, v, back)
	}
	_, err := fit.Verdict(9).MarshalText()
	require.ErrorIs(t, err, fit.ErrVerdict)
	require.Equal(t, "verdict 9", fit.Verdict(9).String())
	var v fit.Verdict
	require.ErrorIs(t, v.UnmarshalText([]byte("perhaps")), fit.ErrVerdict)
}

func TestWorst(t *testing.T) {
	result := func(v fit.Verdict) fit.Result { return fit.Result{Verdict: v} }
	require.Equal(t, fit.NotChecked, fit.Worst())
	require.Equal(t, fit.FitsWith, fit.Worst(result(fit.Fits), result(fit.FitsWith)))
	require.Equal(t, fit.DoesNotFit, fit.Worst(result(fit.DoesNotFit), result(fit.TryAndMeasure)))
}

func TestMarginText(t *testing.T) {
	require.Empty(t, fit.Margin{}.String())
	require.Equal(t, "-1.85 mm", fit.Margin{Kind: fit.LengthMargin, Length: -1850 * fit.Micrometer}.String())
	require.Equal(t, "2 teeth", fit.Margin{Kind: fit.CountMargin, Count: 2, Of: "teeth"}.String())
	require.Equal(t, "margin of kind 9", fit.Margin{Kind: 9}.String())
}

func TestNumbers(t *testing.T) {
	body, err := fit.BodyLength(36750*fit.Micrometer, 34900*fit.Micrometer, fit.Millimeter, fit.Caliper())
	require.NoError(t, err)
	require.Equal(t, map[string]string{"spacers_behind_mm": "1.85", "own_spacer_mm": "1"}, body.Numbers)
	s := threaded(t)
	s.CrankWidth, s.Spacer = mm(t, "75.5"), mm(t, "2.5")
	results, err := fit.ShellAndSpindle(s, fit.Caliper())
	require.NoError(t, err)
	require.Equal(t, map[string]string{"spacers_mm": "7.5", "spacer_count": "3"}, byCheck(t, results, "spacers").Numbers)
	gears := fit.Gears{BigRing: 50, SmallRing: 34, BigSprocket: 34, SmallSprocket: 11}
	chain, err := fit.ChainLength(gears, 410*fit.Millimeter, 116, fit.Tape())
	require.NoError(t, err)
	require.Equal(t, "110", chain.Numbers["pitches"])
}

func TestSideText(t *testing.T) {
	require.Equal(t, "side not given", fit.NoSide.String())
	require.Equal(t, "side 9", fit.Side(9).String())
}

// TestAllMistakesAtOnce checks that a rule names every bad input.
func TestAllMistakesAtOnce(t *testing.T) {
	_, err := fit.BodyLength(-fit.Millimeter, 0, fit.Meter, fit.Instrument{})
	for _, path := range []string{"body: ", "made_for: ", "own_spacer: ", "instrument: "} {
		require.ErrorContains(t, err, path)
	}
	var field *fit.FieldError
	require.ErrorAs(t, err, &field)
	require.Equal(t, "body", field.Path)
	require.Equal(t, "range", field.Rule)
}

// TestRefusals gives each rule an input that can't be true.
func TestRefusals(t *testing.T) {
	caliper := fit.Caliper()
	try := func(_ any, err error) error { return err }
	for _, test := range []struct {
		name, path string
		err        error
	}{
		{"unknown pattern", "body", try(fit.SplinePattern("7-spline", "9-spline"))},
		{"absurd stack", "proud", try(fit.StackProud(fit.Meter, caliper))},
		{"negative chain", "chain_width", try(fit.ChainClearance(4*fit.Millimeter, 2*fit.Millimeter, -1, caliper))},
		{"no family", "shifter_family", try(fit.ShifterMatch(9, 9, " ", "x"))},
		{"rings the wrong way round", "small_ring", try(fit.DerailleurCapacity(fit.Gears{34, 50, 34, 11}, 39))},
		{"sprockets the wrong way round", "small_sprocket", try(fit.DerailleurCapacity(fit.Gears{50, 34, 11, 34}, 39))},
		{"no teeth", "sprocket", try(fit.LargestSprocket(0, 34, 0))},
		{"no chain", "pitches", try(fit.ChainLength(fit.Gears{50, 34, 34, 11}, 410*fit.Millimeter, 0, caliper))},
		{"unknown hub", "hub", try(fit.Chainline(fit.ChainRun{Front: 45 * fit.Millimeter, Hub: 1, Chainstay: 410 * fit.Millimeter, Sprockets: fit.SprocketFamilies()[0]}, caliper))},
		{"no sprockets", "sprockets.speeds", try(fit.Chainline(fit.ChainRun{Front: 45 * fit.Millimeter, Hub: 135 * fit.Millimeter, Chainstay: 410 * fit.Millimeter}, caliper))},
		{"absurd gap", "ring", try(fit.CrankClearance(fit.Meter, 0, caliper))},
		{"no shell", "width", try(fit.ShellAndSpindle(fit.Shell{Spindle: "24 mm"}, caliper))},
		{"unknown spindle", "spindle", try(fit.ShellAndSpindle(fit.Shell{Spindle: "24"}, caliper))},
		{"absurd stand-off", "stand_off", try(fit.TaperPairing(fit.Taper{StandOff: fit.Meter}, caliper))},
		{"no side", "side", try(fit.PedalThread(fit.Pedal{}))},
		{"no brake", "kind", try(fit.BrakeKind(fit.Brake{}))},
		{"unknown mount", "mount", try(fit.BrakeKind(fit.Brake{Kind: fit.DiscBrake}))},
		{"unknown pull", "lever", try(fit.LeverPull("", fit.LongPull))},
		{"unknown rotor", "size", try(fit.RotorSize(fit.Rotor{Native: 160 * fit.Millimeter, Size: 150 * fit.Millimeter}))},
		{"absurd limit", "max", try(fit.RotorSize(fit.Rotor{Native: 160 * fit.Millimeter, Size: 160 * fit.Millimeter, Max: 1}))},
		{"half a thread", "insert", try(fit.AxleFit(fit.Axle{Thread: thread(t, "M12x1.5")}, caliper))},
		{"no tyre", "nominal", try(fit.TireClearance(fit.Tire{}, caliper))},
		{"exposed more than there is", "exposed", try(fit.SeatpostFit(fit.Seatpost{PostLength: 1, Exposed: 2}, caliper))},
		{"no bar", "diameter", try(fit.BarClamp(fit.Bar{}, caliper))},
		{"no steerer", "length", try(fit.SteererStack(fit.Steerer{}, caliper))},
		{"no bolt", "bolt", try(fit.FlatMountBolt(20*fit.Millimeter, 0, caliper))},
		{"no rails", "rails.width", try(fit.SaddleRails(fit.Rails{}, fit.Rails{}, caliper))},
		{"no band", "band", try(fit.FrontDerailleurFit(fit.FrontDerailleur{}, caliper))},
		{"rings of the front the wrong way round", "next_ring", try(fit.FrontDerailleurFit(fit.FrontDerailleur{BigRing: 30, NextRing: 40}, caliper))},
		{"instrument without a name", "instrument", try(fit.StackProud(fit.Millimeter, fit.Instrument{}))},
		{"instrument with an absurd error", "instrument.error", try(fit.StackProud(fit.Millimeter, fit.Instrument{Name: "eye", Error: fit.Meter}))},
	} {
		t.Run(test.name, func(t *testing.T) {
			var field *fit.FieldError
			require.ErrorAs(t, test.err, &field)
			require.ErrorContains(t, test.err, test.path+": ")
		})
	}
}

func TestInstrumentNamed(t *testing.T) {
	for _, i := range fit.Instruments() {
		got, ok := fit.InstrumentNamed(i.Name)
		require.True(t, ok)
		require.Equal(t, i, got)
	}
	for name, want := range map[string]fit.Instrument{
		"Caliper": fit.Caliper(), "caliper with depth rod": fit.Caliper(), "depth rod": fit.Caliper(),
		"tape": fit.Tape(), "thread gauge": fit.ThreadGauge(), "caliper and thread gauge": fit.ThreadGauge(),
	} {
		got, ok := fit.InstrumentNamed(name)
		require.True(t, ok, name)
		require.Equal(t, want, got, name)
	}
	_, ok := fit.InstrumentNamed("eye")
	require.False(t, ok)
}
