package fit_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure/fit"
)

func disc() fit.Brake {
	return fit.Brake{
		Kind: fit.DiscBrake, Mount: fit.PostMount, Caliper: fit.PostMount, HubSeat: fit.SixBolt, Rotor: fit.SixBolt,
		LeverFluid: fit.MineralOil, CaliperFluid: fit.MineralOil,
	}
}

func rim() fit.Brake {
	return fit.Brake{Kind: fit.RimBrake, HasTrack: true, HasBoss: true, LeverPull: fit.LongPull, Needs: fit.LongPull}
}

func TestBrakeKind(t *testing.T) {
	for _, test := range []struct {
		name    string
		brake   fit.Brake
		change  func(*fit.Brake)
		verdict fit.Verdict
	}{
		{"disc", disc(), func(*fit.Brake) {}, fit.Fits},
		{"side tabs with a post caliper", disc(), func(b *fit.Brake) { b.Mount = fit.SideMount }, fit.FitsWith},
		{"flat caliper on posts", disc(), func(b *fit.Brake) { b.Caliper = fit.FlatMount }, fit.DoesNotFit},
		{"no mount", disc(), func(b *fit.Brake) { b.Mount = fit.NoMount }, fit.DoesNotFit},
		{"no rotor seat", disc(), func(b *fit.Brake) { b.HubSeat = fit.NoSeat }, fit.FitsWith},
		{"six-bolt rotor on a splined hub", disc(), func(b *fit.Brake) { b.HubSeat = fit.SplineSeat }, fit.FitsWith},
		{"splined rotor on a six-bolt hub", disc(), func(b *fit.Brake) { b.Rotor = fit.SplineSeat }, fit.FitsWith},
		{"two fluids", disc(), func(b *fit.Brake) { b.LeverFluid = fit.Glycol }, fit.DoesNotFit},
		{"cable lever on a hydraulic caliper", disc(), func(b *fit.Brake) { b.LeverFluid = "" }, fit.DoesNotFit},
		{"cable disc", disc(), func(b *fit.Brake) {
			b.LeverFluid, b.CaliperFluid, b.LeverPull, b.Needs = "", "", fit.ShortPull, fit.ShortPull
		}, fit.Fits},
		{"cable disc, wrong pull", disc(), func(b *fit.Brake) {
			b.LeverFluid, b.CaliperFluid, b.LeverPull, b.Needs = "", "", fit.DropBarPull, fit.LongPull
		}, fit.DoesNotFit},
		{"rim", rim(), func(*fit.Brake) {}, fit.Fits},
		{"no track", rim(), func(b *fit.Brake) { b.HasTrack = false }, fit.DoesNotFit},
		{"no boss", rim(), func(b *fit.Brake) { b.HasBoss = false }, fit.DoesNotFit},
		{"wrong pull", rim(), func(b *fit.Brake) { b.LeverPull = fit.ShortPull }, fit.DoesNotFit},
	} {
		t.Run(test.name, func(t *testing.T) {
			b := test.brake
			test.change(&b)
			results, err := fit.BrakeKind(b)
			require.NoError(t, err)
			require.Equal(t, test.verdict, fit.Worst(results...), results)
		})
	}
}

func TestLeverPull(t *testing.T) {
	r, err := fit.LeverPull(fit.ShortPull, fit.ShortPull)
	require.NoError(t, err)
	require.Equal(t, fit.Fits, r.Verdict)
	r, err = fit.LeverPull(fit.ShortPull, fit.LongPull)
	require.NoError(t, err)
	require.Equal(t, fit.DoesNotFit, r.Verdict)
}

func TestRotorSize(t *testing.T) {
	for _, test := range []struct {
		name              string
		native, size, max string
		flat              bool
		verdict           fit.Verdict
	}{
		{"native", "160", "160", "180", false, fit.Fits},
		{"larger", "160", "180", "180", false, fit.FitsWith},
		{"fork printed for 203", "180", "203", "203", false, fit.FitsWith},
		{"over the limit", "160", "203", "180", false, fit.DoesNotFit},
		{"no limit found", "160", "180", "0", false, fit.TryAndMeasure},
		{"smaller than the mount", "180", "160", "203", false, fit.DoesNotFit},
		{"200 and 203", "200", "203", "203", false, fit.DoesNotFit},
		{"flat plate turned", "140", "160", "160", true, fit.FitsWith},
	} {
		t.Run(test.name, func(t *testing.T) {
			r, err := fit.RotorSize(fit.Rotor{Native: mm(t, test.native), Size: mm(t, test.size), Max: mm(t, test.max), FlatFront: test.flat})
			require.NoError(t, err)
			require.Equal(t, test.verdict, r.Verdict, r.Why)
		})
	}
}

func TestAxle(t *testing.T) {
	good := fit.Axle{
		Hub: 142 * fit.Millimeter, Inner: 135 * fit.Millimeter, Slot: 3500 * fit.Micrometer,
		Thread: thread(t, "M12x1.5"), Insert: thread(t, "M12x1.5"),
		Length: 166 * fit.Millimeter, Through: 12 * fit.Millimeter, Engaged: 12 * fit.Millimeter,
	}
	for _, test := range []struct {
		name, check string
		change      func(*fit.Axle)
		verdict     fit.Verdict
	}{
		{"width", "width", func(*fit.Axle) {}, fit.Fits},
		{"other hub", "width", func(a *fit.Axle) { a.Hub = 135 * fit.Millimeter }, fit.DoesNotFit},
		{"thread", "thread", func(*fit.Axle) {}, fit.Fits},
		{"other pitch", "thread", func(a *fit.Axle) { a.Insert = thread(t, "M12x1.75") }, fit.DoesNotFit},
		{"engaged", "engaged thread", func(*fit.Axle) {}, fit.Fits},
		{"too little engaged", "engaged thread", func(a *fit.Axle) { a.Engaged = 8 * fit.Millimeter }, fit.DoesNotFit},
		{"length", "length", func(*fit.Axle) {}, fit.Fits},
		{"too long", "length", func(a *fit.Axle) { a.Length = 172 * fit.Millimeter }, fit.DoesNotFit},
	} {
		t.Run(test.name, func(t *testing.T) {
			a := good
			test.change(&a)
			results, err := fit.AxleFit(a, fit.Caliper())
			require.NoError(t, err)
			require.Equal(t, test.verdict, byCheck(t, results, test.check).Verdict)
		})
	}
}

func TestTireClearance(t *testing.T) {
	good := fit.Tire{
		Nominal: 32 * fit.Millimeter, BeadSeat: 622 * fit.Millimeter, RimSeat: 622 * fit.Millimeter,
		RimInner: 21 * fit.Millimeter, Gap: 48 * fit.Millimeter,
	}
	for _, test := range []struct {
		name, check string
		change      func(*fit.Tire)
		verdict     fit.Verdict
		says        string
	}{
		{"side", "side", func(*fit.Tire) {}, fit.Fits, "24 hours"},
		{"too close", "side", func(u *fit.Tire) { u.Gap = mm(t, "44") }, fit.DoesNotFit, "no reason to fit it"},
		{"touching the floor", "side", func(u *fit.Tire) { u.Gap = mm(t, "35") }, fit.DoesNotFit, "let it touch."},
		{"near the limit, estimated", "side", func(u *fit.Tire) { u.Gap = mm(t, "46") }, fit.TryAndMeasure, "leave it a day"},
		{"near the limit, measured", "side", func(u *fit.Tire) { u.Gap, u.Width = mm(t, "46"), mm(t, "33.4") }, fit.Fits, "24 hours"},
		{"mud", "side", func(u *fit.Tire) { u.IsMudTire = true }, fit.Fits, "8 mm"},
		{"other rim", "bead seat", func(u *fit.Tire) { u.RimSeat = mm(t, "630") }, fit.DoesNotFit, "blow off"},
		{"top", "top", func(u *fit.Tire) { u.Top = mm(t, "8") }, fit.Fits, "24 hours"},
		{"top too close", "top", func(u *fit.Tire) { u.Top = mm(t, "3") }, fit.DoesNotFit, "touch"},
	} {
		t.Run(test.name, func(t *testing.T) {
			u := good
			test.change(&u)
			results, err := fit.TireClearance(u, fit.Caliper())
			require.NoError(t, err)
			r := byCheck(t, results, test.check)
			require.Equal(t, test.verdict, r.Verdict, r.Measured)
			require.Contains(t, r.Why, test.says)
		})
	}
}
