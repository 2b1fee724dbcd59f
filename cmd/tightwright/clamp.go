package main

import (
	"strings"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/torque/drawing"
	"github.com/tightwright/tightwright/torque/joint"
)

func newClampCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "clamp --tube-diameter D --length L --bolts N --contact STATE --preload F",
		Short: "What a clamp holds on a tube, and how hard it presses",
		Long: `What a clamp holds on a tube, and how hard it presses.

The preload of each bolt is given with --preload, or follows from --torque with
--thread and either --friction (µ) or --nut-factor (K), as in the command joint.

--contact is the state of the faces, or --contact-friction the coefficient of
friction between clamp and tube. Where neither is known nothing is worked out. A
carbon tube is compared without and with friction paste. Figures with a range are
written low:figure:high. What was assumed is listed with the answer.

--demand names a load that standards ask a clamp to hold:
  ` + strings.Join(demandNames(), "\n  ") + `
--demand-force and --demand-torque are loads of your own, along the tube and around it.

No limit for the pressure on a tube is built in: --pressure-limit is the maker's.

The answer explains. It sets no window, no plan and no wrench; the maker's printed
figure comes first.

With - as the only argument, rows of CSV are read from standard input with columns
that are named like the flags.`,
		Example: `  tightwright clamp --tube-diameter 27.2 --length 22 --bolts 1 --contact 'carbon, paste' \
      --thread M5 --nut-factor 0.18 --torque 5 --demand 'saddle and seat post, vertical'
  tightwright clamp --style two-piece --tube-diameter 31.8 --length 42 --bolts 4 \
      --contact 'alloy, dry' --preload 3500:4200:5000 --demand-torque 80 --svg stem.svg
  tightwright clamp - <clamps.csv`,
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	flags := cmd.Flags()
	flags.String("style", "", "the `way` it closes: 'single slit', or two-piece for a faceplate with bolts on either side; 'single slit'")
	flags.String("tube-diameter", "", "the outer diameter of the tube in `mm`")
	flags.String("length", "", "how long the clamp is along the tube, in `mm`")
	flags.String("bolts", "", "the `number` of bolts, all of them")
	flags.String("preload", "", "the preload of each bolt in `newtons`")
	flags.String("torque", "", "the `torque` of each bolt, in place of the preload")
	flags.String("unit", "", "the `unit` of torque and demand-torque; N·m where none is given")
	flags.String("thread", "", "the `thread` of the bolts")
	flags.String("friction", "", "the coefficient of friction µ of the bolts, a `number`")
	flags.String("nut-factor", "", "the factor `K` of the bolts, in place of friction")
	flags.String("head-bearing-diameter", "", "the outer diameter on which the heads turn, in `mm`")
	flags.String("hole-diameter", "", "the hole under the heads, in `mm`")
	flags.String("tool-deviation", "", "the permitted deviation of the wrench in `percent`")
	flags.String("contact", "", "the `state` of the faces: "+quoted(contactNames()[1:]))
	flags.String("contact-friction", "", "the coefficient of friction µ between clamp and tube, a `number`")
	flags.String("efficiency", "", "the `share` of the bolt force that reaches the tube, at most 1")
	flags.String("pressure-shape", "", "the normal force around the tube over the force across it, a `number` from 2 to π")
	flags.String("tube-wall", "", "the wall of the tube in `mm`, for the stress in it")
	flags.String("pressure-limit", "", "the most `MPa` that the tube bears, by its maker")
	flags.String("demand", "", "the `name` of a load that it has to hold")
	flags.String("demand-force", "", "a load along the tube in `newtons`")
	flags.String("demand-torque", "", "a `torque` around the tube")
	return withDrawing(calculation{
		hint: "clamp takes flags, or - alone for rows of CSV, as in: clamp --tube-diameter 27.2 --length 22 --bolts 1 --contact 'alloy, dry' --preload 5000",
		work: workClamp,
	}, cmd)
}

func demandNames() []string {
	var names []string
	for _, d := range joint.SecurityLoads() {
		names = append(names, d.Name)
	}
	return names
}

// contactNames lists the states of faces, "unknown" first.
func contactNames() []string {
	names := []string{}
	for c := joint.ContactUnknown; c <= joint.AlloyGreased; c++ {
		names = append(names, c.String())
	}
	return names
}

func quoted(words []string) string { return "'" + strings.Join(words, "', '") + "'" }

// clampFlags has the flags of the inputs of a clamp that are called otherwise.
var clampFlags = map[string]string{
	"bolt_preload_newtons": "preload", "axial_newtons": "demand-force", "demand_newton_meters": "demand-torque",
	"thread_friction": "friction", "torque_newton_meters": "torque", "diameter_mm": "thread",
}

func workClamp(in inputs) (answer, error) {
	r := newReading(in)
	r.require("tube-diameter", "length", "bolts")
	if !r.has("contact") && !r.has("contact-friction") {
		r.faults.add("contact", reasonUnknownFriction, "the state of the faces or their contact-friction has to be given: friction is never guessed")
	}
	if r.has("contact") && r.has("contact-friction") {
		r.faults.add("contact-friction", reasonContradiction, "the state of the faces already stands for a friction: give one of the two")
	}
	c := joint.Clamp{
		Style:          word[joint.ClampStyle](r, "style", joint.SingleSlit.String(), joint.TwoPiece.String()),
		TubeDiameterMM: r.number("tube-diameter"), LengthMM: r.number("length"), Bolts: r.count("bolts"),
		Contact: word[joint.Contact](r, "contact", contactNames()...), ContactFriction: r.friction("contact-friction"),
		Efficiency: r.band("efficiency"), PressureShape: r.band("pressure-shape"),
		TubeWallMM: r.positive("tube-wall"), Demand: r.demand(),
	}
	limit := r.positive("pressure-limit")
	c.BoltPreloadNewtons = r.preload()
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	out := clampAnswer{PreloadNewtons: c.BoltPreloadNewtons, PressureLimitMPa: limit}
	var err error
	out.ClampGrip, err = c.Grip()
	r.faults.take(err, clampFlags)
	if limit > 0 {
		out.PressureStanding = out.PeakPressureMPa.Against(limit)
	}
	if err == nil && (c.Contact == joint.CarbonDry || c.Contact == joint.CarbonPaste) && !c.ContactFriction.IsKnown() {
		paste, err := c.Paste()
		r.faults.take(err, clampFlags)
		out.Paste = &paste
	}
	return out, r.faults.err()
}

// demand reads what a clamp has to hold.
func (r *reading) demand() joint.Demand {
	r.exclude("demand", "demand-force")
	r.exclude("demand", "demand-torque")
	for _, d := range joint.SecurityLoads() {
		if strings.EqualFold(d.Name, r.text("demand")) {
			return d
		}
	}
	if r.has("demand") {
		r.faults.add("demand", reasonUnknownWord, "%q: write one of %s", clipped(r.text("demand")), quoted(demandNames()))
	}
	return joint.Demand{
		AxialNewtons:       r.positive("demand-force"),
		TorqueNewtonMeters: r.torque("demand-torque", r.unit("unit")).NewtonMeters(),
	}
}

// preload reads the preload of a bolt, or works it out from its torque.
func (r *reading) preload() joint.Band {
	r.exclude("preload", "torque")
	if !r.has("torque") {
		r.require("preload")
		return r.band("preload")
	}
	r.require("thread")
	r.exclude("friction", "nut-factor")
	if !r.has("friction") && !r.has("nut-factor") {
		r.faults.add("friction", reasonUnknownFriction, "that of the bolts or their nut-factor has to be given with a torque: friction is never guessed")
	}
	tq, k := r.torque("torque", r.unit("unit")), r.nutFactor("nut-factor")
	bolt := joint.Bolt{Thread: r.thread("thread"), ThreadFriction: r.friction("friction"), ToolDeviation: r.percent("tool-deviation")}
	r.bearing(&bolt)
	if r.faults.err() != nil {
		return joint.Band{}
	}
	if k.IsKnown() {
		pull, err := k.Preload(bolt.Thread.Diameter().Float64(), tq)
		r.faults.take(err, clampFlags)
		return pull
	}
	t, err := bolt.AtTorque(tq)
	r.faults.take(err, clampFlags)
	return t.PreloadBandNewtons
}

// clampAnswer is the answer of clamp.
type clampAnswer struct {
	PreloadNewtons joint.Band `json:"bolt_preload_newtons"`
	joint.ClampGrip
	PressureLimitMPa float64 `json:"pressure_limit_megapascals,omitempty"`
	// PressureStanding is that of the peak pressure against the limit.
	PressureStanding joint.Standing     `json:"pressure_standing,omitzero"`
	Paste            *joint.PasteEffect `json:"paste,omitempty"`
}

func (a clampAnswer) object() any { return a }

func (a clampAnswer) drawing() ([]byte, error) {
	return drawing.Clamp(a.ClampGrip, a.PressureLimitMPa)
}

func (a clampAnswer) words() string {
	var p page
	p.row("each bolt pulls", force(a.PreloadNewtons))
	p.row("along the tube", "holds "+force(a.AxialSlipNewtons))
	p.row("around the tube", "holds "+banded(a.TorsionalSlipNewtonMeters, "N·m"))
	p.row("friction", "µ "+muOrK(a.ContactFriction)+" between clamp and tube")
	if a.Verdict != "" {
		p.row("has to hold", demandWords(a.Demand)+": it "+a.Verdict)
	}
	p.row("one bolt loose", "holds "+force(a.OneLoose.AxialSlipNewtons)+" along the tube, "+
		banded(a.OneLoose.TorsionalSlipNewtonMeters, "N·m")+" around it"+prefixed("; it ", a.OneLoose.Verdict))
	a.paste(&p)
	p.row("presses", banded(a.MeanPressureMPa, "MPa")+" on average, "+banded(a.PeakPressureMPa, "MPa")+" at the slot and the edges")
	if a.PressureLimitMPa == 0 {
		p.row("", "no limit is known for this tube, so it is compared with nothing")
	} else {
		p.row("", "the limit is "+rounded(a.PressureLimitMPa, 3)+" MPa: at the slot and the edges "+against(a.PressureStanding))
	}
	if !a.HoopStressMPa.IsZero() {
		p.row("in the tube", banded(a.HoopStressMPa, "MPa")+" of compression around it on average, "+banded(a.PeakHoopStressMPa, "MPa")+" at the slot and the edges")
	}
	p.rests(a.Assumptions, a.Warnings)
	return p.String()
}

// paste says what friction paste changes.
func (a clampAnswer) paste(p *page) {
	if a.Paste == nil {
		return
	}
	p.row("without paste", "holds "+force(a.Paste.Without.AxialSlipNewtons)+" along the tube, "+banded(a.Paste.Without.TorsionalSlipNewtonMeters, "N·m")+" around it")
	p.row("with paste", "holds "+force(a.Paste.With.AxialSlipNewtons)+" along the tube, "+banded(a.Paste.With.TorsionalSlipNewtonMeters, "N·m")+" around it")
	p.row("", "holds with "+banded(a.Paste.EqualHoldShare.Times(100), "%")+" of the bolt force what the whole holds without; that is no leave to tighten less than the maker prints")
}

func demandWords(d joint.Demand) string {
	var parts []string
	if d.AxialNewtons > 0 {
		parts = append(parts, plainForce(d.AxialNewtons)+" along the tube")
	}
	if d.TorqueNewtonMeters > 0 {
		parts = append(parts, rounded(d.TorqueNewtonMeters, 3)+" N·m around it")
	}
	text := strings.Join(parts, " and ")
	if d.Name != "" {
		text += ", " + d.Name + " (" + d.Source + ")"
	}
	return text
}

func prefixed(prefix, text string) string {
	if text == "" {
		return ""
	}
	return prefix + text
}
