package main

import (
	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/drawing"
	"github.com/tightwright/tightwright/torque/joint"
)

func newJointCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "joint --thread THREAD --friction µ [--class CLASS] [--torque T]",
		Short: "What a torque does to a bolt, and the torque for a preload",
		Long: `What a torque does to a bolt, and the torque for a preload.

With --torque it answers the preload, with --preload the torque. With neither it
answers both for a bolt of --class that is used to 90 % of its yield, or to the
share of --utilization (VDI 2230-1:2003). Beside a torque or a preload
--utilization is what the answer is compared with.

--friction is the coefficient µ of the thread, and of the head where
--head-friction says nothing else. --nut-factor is the K of the short form
T = K·d·F instead. They are different things and the same number is never right
for both: K 0.20 belongs to a µ of about 0.15. Where friction is unknown nothing
is worked out. Every figure of friction may have its range, low:figure:high, as
in 0.10:0.12:0.16; without one the preload scatters by ±25 %.

The head is a hexagon (ISO 4014) on a hole of the medium series (ISO 273), where
--head, --head-bearing-diameter and --hole-diameter say nothing else. What was
assumed is listed with the answer.

With --engagement, the length of thread in mesh, and --part-strength, the tensile
strength of what the bolt is screwed into, the answer says what the threads hold
before they strip (ASME B1.1, appendix B).

The answer explains. It sets no window, no plan and no wrench; the maker's printed
figure comes first.

With - as the only argument, rows of CSV are read from standard input with columns
that are named like the flags.`,
		Example: `  tightwright joint --thread M8x1.25 --class 8.8 --friction 0.12
  tightwright joint --thread M5 --class A2-70 --friction 0.10:0.14:0.20 --torque 5
  tightwright joint --thread M6 --class 8.8 --friction 0.12 --torque 9 --engagement 8 --part-strength 310
  tightwright joint --thread M6 --nut-factor 0.18 --torque 44 --unit in-lb
  tightwright joint --thread M8 --class 8.8 --friction 0.12 --svg bolt.svg
  printf 'thread,class,friction\nM8x1.25,8.8,0.12\n' | tightwright joint -`,
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	flags := cmd.Flags()
	flags.String("thread", "", "the `thread`, as in M8x1.25 or '9/16 in x 20 tpi'")
	flags.String("class", "", "the strength `class`, as in 8.8, A2-70 or AL6")
	flags.String("friction", "", "the coefficient of friction µ of the thread, a `number` above 0 and at most 1")
	flags.String("head-friction", "", "the coefficient of friction µ under the head, a `number`")
	flags.String("nut-factor", "", "the factor `K` of the short form, in place of friction")
	flags.String("torque", "", "the `torque`, for its preload")
	flags.String("unit", "", "the `unit` of the torque; N·m where none is given")
	flags.String("preload", "", "the preload in `newtons`, for its torque")
	flags.String("utilization", "", "the `share` of the yield to use, above 0 and at most 1; 0.9")
	flags.String("head", "", "the `kind` of head: hexagon or socket (ISO 4762)")
	flags.String("head-bearing-diameter", "", "the outer diameter on which the head turns, in `mm`")
	flags.String("hole-diameter", "", "the hole under the head, in `mm`")
	flags.String("cone-angle", "", "the whole angle of a countersunk seat, in `degrees`")
	flags.String("seat", "", "the `material` under the head: "+quoted(materialNames()))
	flags.String("tool-deviation", "", "the permitted deviation of the wrench in `percent`")
	flags.String("torsion", "", "the `way` twist counts against the yield: plastic (VDI 2230 since 2001) or elastic (before); plastic")
	flags.String("engagement", "", "the thread in mesh in `mm`, without chamfers, for what it holds")
	flags.String("part-strength", "", "the tensile strength in `MPa` of the part that the bolt is screwed into")
	flags.String("fit", "", "the `fit` of the threads: 6H/6g, 6H/4g6g, 2B/2A or 3B/3A; 6H/6g")
	return withDrawing(calculation{
		hint: "joint takes flags, or - alone for rows of CSV, as in: joint --thread M8 --class 8.8 --friction 0.12",
		work: workJoint,
	}, cmd)
}

func materialNames() []string {
	var names []string
	for _, m := range joint.Materials() {
		names = append(names, m.String())
	}
	return names
}

// jointFlags has the flags of the inputs of a bolt that are called otherwise.
var jointFlags = map[string]string{
	"thread_friction": "friction", "cone_half_angle_rad": "cone-angle",
	"torque_newton_meters": "torque", "diameter_mm": "thread",
}

func workJoint(in inputs) (answer, error) {
	r := newReading(in)
	r.require("thread")
	r.exclude("friction", "nut-factor")
	r.exclude("torque", "preload")
	if !r.has("friction") && !r.has("nut-factor") {
		r.faults.add("friction", reasonUnknownFriction, "it has to be given: friction is never guessed")
	}
	if r.has("nut-factor") && !r.has("friction") {
		return workNutFactor(r)
	}
	isLoaded := r.has("torque") || r.has("preload")
	if !r.has("class") && (!isLoaded || r.has("utilization")) {
		r.faults.add("class", torque.ReasonMissingValue, "without a strength class nothing is known of the yield: give it, or a torque or a preload to work from")
	}
	bolt, tq := r.bolt(), r.torque("torque", r.unit("unit"))
	engaged := r.engaged(bolt)
	newtons, share := r.positive("preload"), r.positive("utilization")
	if share > 1 {
		r.faults.add("utilization", torque.ReasonOutOfRange, "%s is not above 0 and at most 1", r.text("utilization"))
	}
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	var out joint.Tightened
	var err error
	switch {
	case r.has("torque"):
		out, err = bolt.AtTorque(tq)
	case r.has("preload"):
		out, err = bolt.AtPreload(newtons)
	default:
		out, err = bolt.AtUtilization(share)
	}
	r.faults.take(err, jointFlags)
	answer := tightenedAnswer{Tightened: out, Stripping: r.strip(engaged, out.PreloadBandNewtons)}
	if isLoaded {
		answer.Wanted = share
	}
	return answer, r.faults.err()
}

// bolt reads a bolt and where its head turns.
func (r *reading) bolt() joint.Bolt {
	b := joint.Bolt{
		Thread: r.thread("thread"), Class: r.class("class"),
		ThreadFriction: r.friction("friction"), HeadFriction: r.friction("head-friction"),
		ToolDeviation: r.percent("tool-deviation"),
		Torsion:       word[joint.Torsion](r, "torsion", "plastic", "elastic"),
		Seat:          r.material("seat"),
	}
	r.bearing(&b)
	return b
}

// bearing reads where the head turns.
func (r *reading) bearing(b *joint.Bolt) {
	const socket = 1
	if word[uint8](r, "head", "hexagon", "socket") == socket && !b.Thread.IsZero() {
		head, ok := joint.SocketHead(b.Thread)
		if !ok {
			r.faults.add("head", torque.ReasonOutOfRange, "no socket head is listed for %v: state its head-bearing-diameter and hole-diameter", b.Thread)
		}
		b.Bearing = head
	}
	if r.has("head-bearing-diameter") {
		b.Bearing.OuterDiameterMM = r.positive("head-bearing-diameter")
	}
	if r.has("hole-diameter") {
		b.Bearing.HoleDiameterMM = r.positive("hole-diameter")
	}
	b.Bearing.ConeHalfAngleRad = r.radians("cone-angle") / 2
}

// tightenedAnswer is the answer of joint.
type tightenedAnswer struct {
	joint.Tightened
	// Wanted is the share of the yield that a given torque or preload is compared
	// with, 0 for none.
	Wanted float64
	// Stripping is what the threads hold, nil where nothing was asked.
	Stripping *joint.Stripping
}

// object adds, where a share of the yield was asked for, whether it is kept at
// nominal friction, and what the threads hold where that was asked.
func (a tightenedAnswer) object() any {
	out := struct {
		joint.Tightened
		Wanted    float64          `json:"utilization_wanted,omitempty"`
		IsWithin  *bool            `json:"is_within_utilization,omitempty"`
		Stripping *joint.Stripping `json:"stripping,omitempty"`
	}{Tightened: a.Tightened, Wanted: a.Wanted, Stripping: a.Stripping}
	if a.Wanted > 0 {
		within := a.isWithin()
		out.IsWithin = &within
	}
	return out
}

func (a tightenedAnswer) isWithin() bool { return a.YieldUtilization.Nominal <= a.Wanted }

func (a tightenedAnswer) drawing() ([]byte, error) { return drawing.Joint(a.Tightened) }

func (a tightenedAnswer) words() string {
	var p page
	t := a.Tightened
	p.row("bolt", boltWords(t.Thread, t.Class))
	p.row("torque", rounded(t.TorqueNewtonMeters, 3)+" N·m")
	p.row("preload", force(t.PreloadBandNewtons))
	p.row("torque goes", rounded(t.PitchNewtonMeters, 3)+" N·m into the pull, "+rounded(t.ThreadNewtonMeters, 3)+
		" N·m into friction in the thread, "+rounded(t.HeadNewtonMeters, 3)+" N·m into friction under the head")
	p.row("loosens", loosens(t))
	if t.ProofLoadNewtons > 0 {
		p.row("proof load", plainForce(t.ProofLoadNewtons))
	}
	if t.YieldLoadNewtons > 0 {
		p.row("yield", plainForce(t.YieldLoadNewtons)+" in pure tension; tension and twist together use "+
			banded(t.YieldUtilization.Times(100), "%")+" of the yield")
	} else {
		p.row("yield", "no strength class is given: nothing is known of it")
	}
	if a.Wanted > 0 {
		p.row("", map[bool]string{true: "no more", false: "more"}[a.isWithin()]+" than the "+rounded(100*a.Wanted, 3)+" % asked for, at nominal friction")
	}
	p.row("under the head", headPressure(t))
	p.stripRows(a.Stripping)
	p.row("geometry", "stress area "+rounded(t.StressAreaMM2, 4)+" mm², pitch diameter "+rounded(t.PitchDiameterMM, 5)+
		" mm, mean diameter under the head "+rounded(t.BearingDiameterMM, 4)+" mm")
	p.row("same as", "K "+muOrK(t.NutFactor.K())+" for this very joint, µ "+muOrK(t.TotalFriction.Mu())+" in thread and head alike")
	assumed, warnings := t.Assumptions, t.Warnings
	if a.Stripping != nil {
		assumed |= a.Stripping.Assumptions
		warnings |= a.Stripping.Warnings
	}
	p.rests(assumed, warnings)
	return p.String()
}

func boltWords(thread joint.Thread, class joint.Class) string {
	if class.IsZero() {
		return thread.String()
	}
	return thread.String() + ", class " + class.String()
}

func loosens(t joint.Tightened) string {
	if t.LooseningNewtonMeters < 0 {
		return "by itself"
	}
	return "at " + rounded(t.LooseningNewtonMeters, 3) + " N·m, at once and with the same friction"
}

func headPressure(t joint.Tightened) string {
	text := banded(t.HeadPressureMPa, "MPa")
	if t.HeadPressureLimitMPa == 0 {
		return text + "; the part is not given, so it is compared with nothing"
	}
	return text + "; the part bears " + rounded(t.HeadPressureLimitMPa, 3) + " MPa, " + against(t.HeadPressureStanding)
}
