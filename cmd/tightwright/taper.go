package main

import (
	"math"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/torque/joint"
)

func newTaperCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "taper --preload F [--crank-torque T]",
		Short: "How a crank arm sits on a square taper",
		Long: `How a crank arm sits on a square taper.

The preload of the bolt is given with --preload, or follows from --torque with
--thread and either --friction (µ) or --nut-factor (K), as in the command joint. It
pulls the arm up the taper until the four flats bear; --flat-friction is the friction
there and another one than that of the bolt.

The torque at the crank is given with --crank-torque, or follows from --rider-mass
on a level crank of --crank-length (175 mm), times --dynamic-factor (1.5, a hard
standing start; common practice, no source). It is compared with what keeps the
flats in full contact: beyond it one edge of each flat lifts with every stroke.

The geometry has defaults, which are listed with the answer as assumed; giving a
figure takes the assumption away. Figures with a range are written low:figure:high.

The answer explains. It sets no window, no plan and no wrench; the maker's printed
figure comes first.

With - as the only argument, rows of CSV are read from standard input with columns
that are named like the flags.`,
		Example: `  tightwright taper --thread M8x1 --nut-factor 0.18 --torque 40 --rider-mass 90 --arm 7075
  tightwright taper --preload 22000:28000:35000 --crank-torque 230
  tightwright taper - <cranks.csv`,
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	flags := cmd.Flags()
	flags.String("preload", "", "the preload of the bolt in `newtons`")
	flags.String("torque", "", "the `torque` of the bolt, in place of the preload")
	flags.String("unit", "", "the `unit` of torque and crank-torque; N·m where none is given")
	flags.String("thread", "", "the `thread` of the bolt")
	flags.String("friction", "", "the coefficient of friction µ of the bolt, a `number`")
	flags.String("nut-factor", "", "the factor `K` of the bolt, in place of friction")
	flags.String("head-bearing-diameter", "", "the outer diameter on which the head turns, in `mm`")
	flags.String("hole-diameter", "", "the hole under the head, in `mm`")
	flags.String("tool-deviation", "", "the permitted deviation of the wrench in `percent`")
	flags.String("flat-friction", "", "the coefficient of friction µ on the flats, a `number`; 0.10:0.15:0.20")
	flags.String("half-angle", "", "how far a flat leans to the axle, in `degrees`; 2")
	flags.String("flat-length", "", "how long a flat bears along the axle, in `mm`; 14")
	flags.String("flat-width", "", "how wide a flat bears, in `mm`; 11")
	flags.String("crank-torque", "", "the `torque` at the crank")
	flags.String("rider-mass", "", "the mass of the rider in `kg`, in place of the crank torque")
	flags.String("crank-length", "", "the length of the crank in `mm`; 175")
	flags.String("dynamic-factor", "", "the `factor` on the rider's weight; 1.5")
	flags.String("arm", "", "the `material` of the arm: "+quoted(materialNames()))
	return calculation{
		hint: "taper takes flags, or - alone for rows of CSV, as in: taper --thread M8x1 --nut-factor 0.18 --torque 40 --rider-mass 90",
		work: workTaper,
	}.command(cmd)
}

// taperFlags has the flags of the inputs of a taper that are called otherwise.
var taperFlags = map[string]string{
	"bolt_preload_newtons": "preload", "crank_newton_meters": "crank-torque",
	"thread_friction": "friction", "torque_newton_meters": "torque", "diameter_mm": "thread",
}

func workTaper(in inputs) (answer, error) {
	r := newReading(in)
	unit := r.unit("unit")
	t := joint.Taper{
		Friction: r.friction("flat-friction"), HalfAngleRad: r.positive("half-angle") * math.Pi / 180,
		FlatLengthMM: r.positive("flat-length"), FlatWidthMM: r.positive("flat-width"),
		Arm: r.material("arm"),
	}
	if r.has("crank-torque") || r.has("rider-mass") || r.has("crank-length") || r.has("dynamic-factor") {
		t.CrankTorque = r.crank(unit)
	}
	t.BoltPreloadNewtons = r.preload()
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	seat, err := t.Seat()
	r.faults.take(err, taperFlags)
	return taperAnswer{t.BoltPreloadNewtons, seat, t.Arm}, r.faults.err()
}

// taperAnswer is the answer of taper.
type taperAnswer struct {
	PreloadNewtons joint.Band `json:"bolt_preload_newtons"`
	joint.TaperSeat
	arm joint.Material
}

func (a taperAnswer) object() any { return a }

func (a taperAnswer) words() string {
	var p page
	p.row("bolt pulls", force(a.PreloadNewtons))
	p.row("each flat", "bears "+force(a.FlatForceNewtons)+", pressed with "+banded(a.FlatPressureMPa, "MPa"))
	if a.PressureLimitMPa == 0 {
		p.row("arm", "its material is not given, so the pressure is compared with nothing")
	} else {
		p.row("arm", a.arm.String()+" bears "+rounded(a.PressureLimitMPa, 3)+" MPa: the pressure is "+against(a.PressureStanding))
	}
	if a.EdgePressureMPa > 0 {
		p.row("crank", "its torque takes "+rounded(a.EdgePressureMPa, 3)+" MPa off one edge of each flat and adds it at the other")
		p.row("contact", a.Verdict)
	}
	p.row("edges lift", "from "+banded(a.GapTorqueNewtonMeters, "N·m")+" at the crank")
	p.rests(a.Assumptions, a.Warnings)
	return p.String()
}
