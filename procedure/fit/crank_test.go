package fit_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/torque/joint"
)

// threaded is a sound 68 mm shell with left-hand drive side.
func threaded(tb testing.TB) fit.Shell {
	tb.Helper()
	right := thread(tb, "1.37 in x 24 tpi")
	left := right.WithHand(joint.LeftHand)
	return fit.Shell{
		Width: 68 * fit.Millimeter, Drive: left, NonDrive: right, CupDrive: left, CupNonDrive: right,
		Spindle: "24 mm", CrankWidth: 68 * fit.Millimeter,
	}
}

func TestThreadedShell(t *testing.T) {
	mixed := thread(t, "36 mm x 24 tpi")
	for _, test := range []struct {
		name, check string
		change      func(*fit.Shell)
		verdict     fit.Verdict
	}{
		{"width", "width", func(*fit.Shell) {}, fit.Fits},
		{"width a little over", "width", func(s *fit.Shell) { s.Width = mm(t, "68.2") }, fit.Fits},
		{"width near the limit", "width", func(s *fit.Shell) { s.Width = mm(t, "68.25") }, fit.TryAndMeasure},
		{"width between two kinds", "width", func(s *fit.Shell) { s.Width = mm(t, "70") }, fit.DoesNotFit},
		{"out of square", "width", func(s *fit.Shell) { s.Width2 = mm(t, "68.15") }, fit.TryAndMeasure},
		{"square", "width", func(s *fit.Shell) { s.Width2 = mm(t, "68.1") }, fit.Fits},
		{"drive cup", "drive side thread", func(*fit.Shell) {}, fit.Fits},
		{"drive cup of the other hand", "drive side thread", func(s *fit.Shell) { s.CupDrive = s.CupNonDrive }, fit.DoesNotFit},
		{"cup of another size", "other side thread", func(s *fit.Shell) { s.CupNonDrive = mixed }, fit.DoesNotFit},
		{"hands", "hand", func(*fit.Shell) {}, fit.Fits},
		{"hands nobody cuts", "hand", func(s *fit.Shell) { s.Drive = s.NonDrive }, fit.TryAndMeasure},
		{"unknown shell has no known width", "width", func(s *fit.Shell) { s.Drive = s.NonDrive }, fit.TryAndMeasure},
		{"unknown shell has no known spindle", "spindle", func(s *fit.Shell) { s.Drive = s.NonDrive }, fit.TryAndMeasure},
		{"spindle", "spindle", func(*fit.Shell) {}, fit.Fits},
		{"square spindle", "spindle", func(s *fit.Shell) { s.Spindle = "square taper" }, fit.Fits},
		{"one-piece spindle", "spindle", func(s *fit.Shell) { s.Spindle = "one-piece" }, fit.DoesNotFit},
		{"no spacers", "spacers", func(*fit.Shell) {}, fit.Fits},
		{"one spacer", "spacers", func(s *fit.Shell) { s.CrankWidth, s.Spacer = mm(t, "70.5"), mm(t, "2.5") }, fit.FitsWith},
		{"spacers of any thickness", "spacers", func(s *fit.Shell) { s.CrankWidth = mm(t, "73") }, fit.FitsWith},
		{"no whole number of spacers", "spacers", func(s *fit.Shell) { s.CrankWidth, s.Spacer = mm(t, "72"), mm(t, "2.5") }, fit.TryAndMeasure},
		{"a hair too wide", "spacers", func(s *fit.Shell) { s.Width = mm(t, "68.35") }, fit.TryAndMeasure},
		{"long enough", "spindle length", func(s *fit.Shell) { s.SpindleLength = mm(t, "90") }, fit.Fits},
		{"too short", "spindle length", func(s *fit.Shell) { s.SpindleLength = mm(t, "60") }, fit.DoesNotFit},
	} {
		t.Run(test.name, func(t *testing.T) {
			s := threaded(t)
			test.change(&s)
			results, err := fit.ShellAndSpindle(s, fit.Caliper())
			require.NoError(t, err)
			r := byCheck(t, results, test.check)
			require.Equal(t, test.verdict, r.Verdict, r.Why)
		})
	}
}

func TestCrankWidthIsOptional(t *testing.T) {
	s := threaded(t)
	s.CrankWidth, s.Spindle = 0, "square taper"
	results, err := fit.ShellAndSpindle(s, fit.Caliper())
	require.NoError(t, err)
	require.Equal(t, fit.Fits, fit.Worst(results...))
	for _, r := range results {
		require.NotEqual(t, "spacers", r.Check)
	}
}

func TestPressedShell(t *testing.T) {
	for _, test := range []struct {
		name, check, bore, cup string
		ins                    fit.Instrument
		verdict                fit.Verdict
	}{
		{"in range", "bore", "45.975", "46", fit.BoreGauge(), fit.Fits},
		{"nominal, marked", "bore", "46", "46", fit.Marked(), fit.Fits},
		{"too coarse an instrument", "bore", "45.975", "46", fit.Caliper(), fit.TryAndMeasure},
		{"too large", "bore", "46.05", "46", fit.BoreGauge(), fit.TryAndMeasure},
		{"too small", "bore", "45.9", "46", fit.BoreGauge(), fit.TryAndMeasure},
		{"another bore", "bore", "41", "46", fit.BoreGauge(), fit.DoesNotFit},
		{"with a reducer", "spindle", "46", "46", fit.Marked(), fit.FitsWith},
		{"with no reducer that exists", "spindle", "51.3", "51.3", fit.Marked(), fit.DoesNotFit},
	} {
		t.Run(test.name, func(t *testing.T) {
			s := fit.Shell{
				Width: 68 * fit.Millimeter, Bore: mm(t, test.bore), CupBore: mm(t, test.cup),
				Spindle: "24 mm", CrankWidth: 68 * fit.Millimeter,
			}
			results, err := fit.ShellAndSpindle(s, test.ins)
			require.NoError(t, err)
			r := byCheck(t, results, test.check)
			require.Equal(t, test.verdict, r.Verdict, r.Why)
		})
	}
}

// TestShellKinds checks the table against itself: each kind of shell accepts
// its own widths and spindles. The hands of the 1.37 in shell are those of
// ISO 6696 as quoted: fixed cups (drive side) left-hand, adjustable cups
// right-hand.
func TestShellKinds(t *testing.T) {
	for _, k := range fit.ShellKinds() {
		t.Run(k.ID, func(t *testing.T) {
			require.Equal(t, k.Bore == 0, !k.Drive.IsZero() && !k.NonDrive.IsZero(), "threaded or pressed")
			require.NotEmpty(t, k.Source)
			for _, width := range k.Widths {
				for _, spindle := range k.Spindles {
					results, err := fit.ShellAndSpindle(fit.Shell{
						Width: width, Drive: k.Drive, NonDrive: k.NonDrive, CupDrive: k.Drive, CupNonDrive: k.NonDrive,
						Bore: k.Bore, CupBore: k.Bore, Spindle: spindle, CrankWidth: width,
					}, fit.Marked())
					require.NoError(t, err)
					require.Equal(t, fit.Fits, fit.Worst(results...), results)
				}
			}
		})
	}
	small := fit.ShellKinds()[0]
	require.Equal(t, thread(t, "1.37 in x 24 tpi LH"), small.Drive)
	require.Equal(t, thread(t, "1.37 in x 24 tpi"), small.NonDrive)
}

func TestTaperPairing(t *testing.T) {
	for _, test := range []struct {
		name, spindle, arm, standOff string
		verdict                      fit.Verdict
	}{
		{"room to travel", "", "", "4", fit.Fits},
		{"same pattern", "ISO 6695", "iso 6695", "4", fit.Fits},
		{"mixed patterns", "ISO 6695", "the other", "4", fit.TryAndMeasure},
		{"at the limit", "", "", "2", fit.TryAndMeasure},
		{"no travel left", "", "", "0.5", fit.DoesNotFit},
		{"stands out", "ISO 6695", "the other", "-1", fit.DoesNotFit},
	} {
		t.Run(test.name, func(t *testing.T) {
			r, err := fit.TaperPairing(fit.Taper{Spindle: test.spindle, Arm: test.arm, StandOff: mm(t, test.standOff)}, fit.Caliper())
			require.NoError(t, err)
			require.Equal(t, test.verdict, r.Verdict)
		})
	}
}

// TestPedalThread: sizes and hands as in the thread lists that quote DIN 79012;
// the metric pedal in an inch arm is a public repair page's warning.
func TestPedalThread(t *testing.T) {
	for _, test := range []struct {
		name      string
		side      fit.Side
		axle, arm string
		isCarbon  bool
		verdict   fit.Verdict
		says      string
	}{
		{"right", fit.Right, "9/16 in x 20 tpi", "9/16 in x 20 tpi", false, fit.Fits, "the same thread"},
		{"left", fit.Left, "9/16 in x 20 tpi LH", "9/16 in x 20 tpi LH", false, fit.Fits, "the same thread"},
		{"one-piece crank", fit.Right, "1/2 in x 20 tpi", "1/2 in x 20 tpi", false, fit.Fits, "the same thread"},
		{"carbon arm", fit.Right, "9/16 in x 20 tpi", "9/16 in x 20 tpi", true, fit.FitsWith, "the same thread"},
		{"right pedal on the left", fit.Left, "9/16 in x 20 tpi", "9/16 in x 20 tpi LH", false, fit.DoesNotFit, "takes a left-hand one"},
		{"arms swapped", fit.Right, "9/16 in x 20 tpi", "9/16 in x 20 tpi LH", false, fit.DoesNotFit, "belongs on the other side"},
		{"metric pedal in an inch arm", fit.Right, "M14x1.25", "9/16 in x 20 tpi", false, fit.DoesNotFit, "0.19 mm apart after 12 mm"},
		{"half-inch pedal in a 9/16 arm", fit.Right, "1/2 in x 20 tpi", "9/16 in x 20 tpi", false, fit.DoesNotFit, "drops through"},
		{"9/16 pedal in a half-inch arm", fit.Left, "9/16 in x 20 tpi LH", "1/2 in x 20 tpi LH", false, fit.DoesNotFit, "too large"},
	} {
		t.Run(test.name, func(t *testing.T) {
			r, err := fit.PedalThread(fit.Pedal{Side: test.side, Axle: thread(t, test.axle), Arm: thread(t, test.arm), CarbonArm: test.isCarbon})
			require.NoError(t, err)
			require.Equal(t, test.verdict, r.Verdict)
			require.Contains(t, r.Why, test.says)
		})
	}
}
