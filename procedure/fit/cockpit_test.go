package fit_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure/fit"
)

func TestSeatpost(t *testing.T) {
	good := fit.Seatpost{
		Tube: mm(t, "27.3"), Post: mm(t, "27.2"), PostLength: mm(t, "350"), Exposed: mm(t, "200"), Junction: mm(t, "60"),
	}
	for _, test := range []struct {
		name, check string
		change      func(*fit.Seatpost)
		verdict     fit.Verdict
	}{
		{"diameter", "diameter", func(*fit.Seatpost) {}, fit.Fits},
		{"too thick", "diameter", func(p *fit.Seatpost) { p.Post = mm(t, "27.5") }, fit.DoesNotFit},
		{"mark", "mark", func(*fit.Seatpost) {}, fit.Fits},
		{"past its mark", "mark", func(p *fit.Seatpost) { p.Exposed = mm(t, "310") }, fit.DoesNotFit},
		{"past the printed mark", "mark", func(p *fit.Seatpost) { p.Mark = mm(t, "160") }, fit.DoesNotFit},
		{"junction", "junction", func(*fit.Seatpost) {}, fit.Fits},
		{"short of the junction", "junction", func(p *fit.Seatpost) { p.Junction = mm(t, "145") }, fit.DoesNotFit},
		{"junction not measured", "junction", func(p *fit.Seatpost) { p.Junction = 0 }, fit.TryAndMeasure},
	} {
		t.Run(test.name, func(t *testing.T) {
			p := good
			test.change(&p)
			results, err := fit.SeatpostFit(p, fit.Caliper())
			require.NoError(t, err)
			require.Equal(t, test.verdict, byCheck(t, results, test.check).Verdict)
		})
	}
}

func TestBarClamp(t *testing.T) {
	for _, test := range []struct {
		name, bar, bore string
		isMetal         bool
		verdict         fit.Verdict
	}{
		{"equal", "31.8", "31.8", false, fit.Fits},
		{"26.0 in 25.4", "26.0", "25.4", true, fit.DoesNotFit},
		{"sleeve, metal", "25.4", "31.8", true, fit.FitsWith},
		{"sleeve, carbon", "25.4", "31.8", false, fit.DoesNotFit},
		{"too little for a sleeve", "31.5", "31.8", true, fit.DoesNotFit},
	} {
		t.Run(test.name, func(t *testing.T) {
			r, err := fit.BarClamp(fit.Bar{Diameter: mm(t, test.bar), Bore: mm(t, test.bore), IsMetal: test.isMetal}, fit.Caliper())
			require.NoError(t, err)
			require.Equal(t, test.verdict, r.Verdict)
		})
	}
}

func TestSteererStack(t *testing.T) {
	good := fit.Steerer{
		Length: mm(t, "224.5"), HeadTube: mm(t, "145"), Headset: mm(t, "22"), Spacers: mm(t, "20"), Stem: mm(t, "40"),
		Diameter: mm(t, "28.6"), StemBore: mm(t, "28.6"), RaceSeat: mm(t, "39.8"), RaceBore: mm(t, "39.8"),
		IsCarbon: true, SpacerLimit: mm(t, "30"),
	}
	for _, test := range []struct {
		name, check string
		change      func(*fit.Steerer)
		verdict     fit.Verdict
	}{
		{"length", "length", func(*fit.Steerer) {}, fit.Fits},
		{"near the best", "length", func(s *fit.Steerer) { s.Length = mm(t, "223") }, fit.TryAndMeasure},
		{"at the limit of the standard", "length", func(s *fit.Steerer) { s.Length = mm(t, "222") }, fit.TryAndMeasure},
		{"too long", "length", func(s *fit.Steerer) { s.Length = mm(t, "228") }, fit.FitsWith},
		{"too short", "length", func(s *fit.Steerer) { s.Length = mm(t, "220") }, fit.DoesNotFit},
		{"diameter", "diameter", func(*fit.Steerer) {}, fit.Fits},
		{"stem for a thicker steerer", "diameter", func(s *fit.Steerer) { s.StemBore = mm(t, "31.8") }, fit.DoesNotFit},
		{"other race", "lower race", func(s *fit.Steerer) { s.RaceBore = mm(t, "33") }, fit.DoesNotFit},
		{"plain clamp", "thread", func(*fit.Steerer) {}, fit.Fits},
		{"thread in the clamp", "thread", func(s *fit.Steerer) { s.IsThreadedInClamp = true }, fit.DoesNotFit},
		{"spacers", "spacers", func(*fit.Steerer) {}, fit.Fits},
		{"too many spacers", "spacers", func(s *fit.Steerer) { s.SpacerLimit = mm(t, "15") }, fit.DoesNotFit},
		{"no limit found", "spacers", func(s *fit.Steerer) { s.SpacerLimit = 0 }, fit.TryAndMeasure},
		{"anchor", "anchor", func(*fit.Steerer) {}, fit.FitsWith},
	} {
		t.Run(test.name, func(t *testing.T) {
			s := good
			test.change(&s)
			results, err := fit.SteererStack(s, fit.Caliper())
			require.NoError(t, err)
			r := byCheck(t, results, test.check)
			require.Equal(t, test.verdict, r.Verdict, r.Measured)
		})
	}
}

func TestFlatMountBolt(t *testing.T) {
	for _, test := range []struct {
		name, bolt string
		verdict    fit.Verdict
		says       string
	}{
		{"usual", "31", fit.Fits, "enough thread"},
		{"outside the usual range", "29.5", fit.TryAndMeasure, "by hand"},
		{"too short", "28", fit.DoesNotFit, "too short"},
		{"too long", "34", fit.DoesNotFit, "too long"},
	} {
		t.Run(test.name, func(t *testing.T) {
			r, err := fit.FlatMountBolt(mm(t, "23"), mm(t, test.bolt), fit.Caliper())
			require.NoError(t, err)
			require.Equal(t, test.verdict, r.Verdict)
			require.Contains(t, r.Why, test.says)
		})
	}
}

func TestSaddleRails(t *testing.T) {
	round := fit.Rails{Width: mm(t, "7"), Height: mm(t, "7")}
	oval := fit.Rails{Width: mm(t, "7"), Height: mm(t, "9.6")}
	results, err := fit.SaddleRails(round, round, fit.Caliper())
	require.NoError(t, err)
	require.Equal(t, fit.Fits, fit.Worst(results...))
	results, err = fit.SaddleRails(oval, round, fit.Caliper())
	require.NoError(t, err)
	require.Equal(t, fit.Fits, byCheck(t, results, "width").Verdict)
	require.Equal(t, fit.DoesNotFit, byCheck(t, results, "height").Verdict)
}
