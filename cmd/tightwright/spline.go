package main

import (
	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/drawing"
	"github.com/tightwright/tightwright/torque/joint"
)

func newSplineCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "spline --crank-torque T --chainring N --sprocket N --lockring-torque T",
		Short: "How hard a sprocket presses on the splines of a hub body",
		Long: `How hard a sprocket presses on the splines of a hub body.

The lockring presses the stack together, so that part of the torque goes through
the faces by friction; the rest bears on the flanks of the splines, over --width:
about 1.6 mm for one loose sprocket, about 9 mm for a carrier of three. A
--lockring-torque of 0 is a slack lockring.

The torque at the crank is given with --crank-torque, or follows from
--rider-mass on a level crank of --crank-length (175 mm), times --dynamic-factor
(1.5, a hard standing start; common practice, no source).

The geometry of the body has defaults, which are listed with the answer as assumed;
giving a figure takes the assumption away. Figures with a range are written
low:figure:high.

The answer explains. It sets no window, no plan and no wrench; the maker's printed
figure comes first.

With - as the only argument, rows of CSV are read from standard input with columns
that are named like the flags.`,
		Example: `  tightwright spline --rider-mass 90 --chainring 34 --sprocket 25 --lockring-torque 40 --body 7075
  tightwright spline --crank-torque 230 --chainring 34 --sprocket 34 --width 9 \
      --lockring-torque 40 --body titanium --svg body.svg
  tightwright spline - <stacks.csv`,
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	flags := cmd.Flags()
	flags.String("crank-torque", "", "the `torque` at the crank")
	flags.String("crank-spread", "", "what the crank torque is between, as `factors` on it; 0.75:1:1.3")
	flags.String("rider-mass", "", "the mass of the rider in `kg`, in place of the crank torque")
	flags.String("crank-length", "", "the length of the crank in `mm`; 175")
	flags.String("dynamic-factor", "", "the `factor` on the rider's weight; 1.5")
	flags.String("chainring", "", "the `teeth` of the chainring")
	flags.String("sprocket", "", "the `teeth` of the sprocket")
	flags.String("width", "", "the engaged width in `mm`; 1.6")
	flags.String("lockring-torque", "", "the `torque` of the lockring, 0 for a slack one")
	flags.String("unit", "", "the `unit` of the torques; N·m where none is given")
	flags.String("lockring-spread", "", "how far the lockring torque is off either way, in `percent`; 10")
	flags.String("lockring-thread", "", "the `thread` of the lockring; M30.6x1")
	flags.String("lockring-seat", "", "the mean diameter under its flange in `mm`; 34")
	flags.String("lockring-friction", "", "its coefficient of friction µ, a `number`; 0.10:0.15:0.22")
	flags.String("splines", "", "the `number` of splines; 9")
	flags.String("spline-share", "", "the `share` of splines that carry; 0.5:0.75:1")
	flags.String("flank-height", "", "the height over which a spline bears in `mm`; 0.9:1.2:1.6")
	flags.String("flank-radius", "", "the mean radius of the flanks in `mm`; 16.8")
	flags.String("face-radius", "", "the mean radius of the faces in `mm`; 18.5")
	flags.String("face-friction", "", "the coefficient of friction µ of the faces, a `number`; 0.08:0.15:0.25")
	flags.String("faces", "", "how many faces of the sprocket pass torque on, a `number`, 1 or 2; 2")
	flags.String("body", "", "the `material` of the hub body: "+quoted(materialNames()))
	return withDrawing(calculation{
		hint: "spline takes flags, or - alone for rows of CSV, as in: spline --crank-torque 230 --chainring 34 --sprocket 25 --lockring-torque 40",
		work: workSpline,
	}, cmd)
}

// splineFlags has the flags of the inputs of a stack that are called otherwise.
var splineFlags = map[string]string{
	"crank_newton_meters": "crank-torque", "lockring_newton_meters": "lockring-torque",
	"chainring_teeth": "chainring", "sprocket_teeth": "sprocket",
	"mass_kg": "rider-mass", "crank_mm": "crank-length",
}

func workSpline(in inputs) (answer, error) {
	r := newReading(in)
	r.require("chainring", "sprocket", "lockring-torque")
	unit := r.unit("unit")
	s := joint.SprocketStack{
		CrankTorque: r.crank(unit), CrankSpread: r.band("crank-spread"),
		ChainringTeeth: r.count("chainring"), SprocketTeeth: r.count("sprocket"), WidthMM: r.positive("width"),
		LockringTorque: r.torque("lockring-torque", unit), LockringSpread: r.positive("lockring-spread") / 100,
		Lockring: r.thread("lockring-thread"), LockringSeatMM: r.positive("lockring-seat"), LockringFriction: r.friction("lockring-friction"),
		Splines: r.someOf("splines"), SplineShare: r.band("spline-share"),
		FlankHeightMM: r.band("flank-height"), FlankRadiusMM: r.positive("flank-radius"),
		FaceRadiusMM: r.positive("face-radius"), FaceFriction: r.friction("face-friction"), Faces: r.someOf("faces"),
		Body: r.material("body"),
	}
	if s.LockringTorque < 0 {
		r.faults.add("lockring-torque", torque.ReasonOutOfRange, "%s is below 0", r.text("lockring-torque"))
	}
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	load, err := s.Load()
	r.faults.take(err, splineFlags)
	return splineAnswer{load}, r.faults.err()
}

// someOf is count for what stands for "not given" when it is zero.
func (r *reading) someOf(name string) int {
	n := r.count(name)
	if r.has(name) && n <= 0 && !r.faults.has(name) {
		r.faults.add(name, torque.ReasonOutOfRange, "%s is not above 0", r.text(name))
	}
	return n
}

// crank reads the torque at the crank, or works it out from the rider.
func (r *reading) crank(unit torque.Unit) torque.Torque {
	r.exclude("crank-torque", "rider-mass")
	if !r.has("rider-mass") {
		r.require("crank-torque")
		for _, name := range []string{"crank-length", "dynamic-factor"} {
			if r.has(name) {
				r.faults.add(name, reasonBadOption, "it goes with the mass of a rider")
			}
		}
		return r.torque("crank-torque", unit)
	}
	mass, length, factor := r.positive("rider-mass"), 175.0, 1.5
	if r.has("crank-length") {
		length = r.positive("crank-length")
	}
	if r.has("dynamic-factor") {
		factor = r.positive("dynamic-factor")
	}
	if r.faults.err() != nil {
		return 0
	}
	t, err := joint.RiderTorque(mass, length, factor)
	r.faults.take(err, splineFlags)
	return t
}

// splineAnswer is the answer of spline.
type splineAnswer struct{ joint.SplineLoad }

func (a splineAnswer) object() any { return a.SplineLoad }

func (a splineAnswer) drawing() ([]byte, error) { return drawing.Spline(a.SplineLoad) }

func (a splineAnswer) words() string {
	var p page
	l := a.SplineLoad
	p.row("at the sprocket", banded(l.SprocketNewtonMeters, "N·m"))
	if l.LockringPreloadNewtons.IsZero() {
		p.row("lockring", "slack: nothing goes through the faces")
	} else {
		p.row("lockring", "pulls with "+force(l.LockringPreloadNewtons)+"; each face passes on "+banded(l.FaceNewtonMeters, "N·m"))
	}
	p.row("on the splines", banded(l.FlankNewtonMeters, "N·m"))
	p.row("presses", banded(l.FlankPressureMPa, "MPa")+" on the flanks")
	if l.PressureLimitMPa == 0 {
		p.row("body", "its material is not given, so the pressure is compared with nothing")
	} else {
		p.row("body", l.Body.String()+" bears "+rounded(l.PressureLimitMPa, 3)+" MPa ("+l.LimitSource+"): "+l.Verdict)
		p.row("", "marks begin at "+banded(l.CapacityNewtonMeters, "N·m")+" at the sprocket; which way of building marks which body is robust over the band, the tooth count at which marks begin is not")
	}
	p.rests(l.Assumptions, l.Warnings)
	return p.String()
}
