package fit

import (
	"fmt"

	"github.com/tightwright/tightwright/torque/joint"
)

const axleRule = "axle"

// Figures of the axle rule. Source: common practice, no source.
const (
	hubWidthTolerance   = 500 * Micrometer // hub against frame
	axleLengthTolerance = Millimeter       // under the head
	leastAxleThread     = 10 * Millimeter  // engaged
)

// An Axle is a wheel in its frame or fork. Lengths that are 0 and threads that
// are zero are not checked; the widths are always needed.
type Axle struct {
	Hub   Length // between the faces of the hub
	Inner Length // between the inner faces of frame or fork
	Slot  Length // depth of the slot the hub sits in, each side

	Thread, Insert joint.Thread // of a thru axle and of the insert it screws into

	Length  Length // of the thru axle, from under its head to its end
	Through Length // of frame or fork that the axle passes before the hub, head side
	Engaged Length // of thread in the insert
}

// AxleFit checks hub width against frame width ("width"), and for a thru axle
// its "thread", the "engaged thread" of at least 10 mm and its "length" under
// the head:
//
//	frame width = inner width + 2·slot
//	axle length = part passed + hub width + thread engaged, within 1 mm
//
// The pitch must be measured: 12 mm axles with 1.0, 1.5 and 1.75 mm all start.
// Source: common practice, no source.
func AxleFit(a Axle, ins Instrument) ([]Result, error) {
	var in inputs
	in.length("hub", a.Hub, 60*Millimeter, 250*Millimeter)
	in.length("inner", a.Inner, 60*Millimeter, 250*Millimeter)
	in.length("slot", a.Slot, 0, 10*Millimeter)
	in.length("length", a.Length, 0, 300*Millimeter)
	in.length("through", a.Through, 0, 60*Millimeter)
	in.length("engaged", a.Engaged, 0, 60*Millimeter)
	in.instrument(ins)
	if a.Thread.IsZero() != a.Insert.IsZero() {
		in.add("insert", "required", "give the threads of both axle and insert, or of neither")
	}
	if err := in.err(axleRule); err != nil {
		return nil, err
	}
	results := []Result{a.width(ins)}
	if !a.Thread.IsZero() {
		results = append(results, a.thread())
	}
	if a.Engaged > 0 {
		results = append(results, leastGap(axleRule, "engaged thread", a.Engaged, leastAxleThread, ins))
	}
	if a.Length > 0 {
		results = append(results, a.length(ins))
	}
	return results, nil
}

func (a Axle) width(ins Instrument) Result {
	frame := a.Inner + 2*a.Slot
	r := Result{
		Rule: axleRule, Check: "width", Instrument: ins,
		Measured: fmt.Sprintf("hub %s, frame %s + 2 x %s = %s", a.Hub, a.Inner, a.Slot, frame),
		Limit:    "equal within " + hubWidthTolerance.String(),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	off := (a.Hub - frame).Abs()
	r.judge(hubWidthTolerance-off, ins.Error)
	r.explain("Hub and frame have the same width.", tooCoarse,
		"Hub and frame differ by "+off.String()+". A frame is not sprung or squeezed to suit a hub.")
	return r
}

func (a Axle) thread() Result {
	r := Result{
		Rule: axleRule, Check: "thread", Verdict: Fits, Instrument: ThreadGauge(),
		Measured: "axle " + threadText(a.Thread) + ", insert " + threadText(a.Insert),
		Limit:    "the same thread",
		Why:      "Axle and insert have the same thread.",
		Source:   "threads go together when size, pitch and hand are equal", Confidence: Computed,
	}
	if a.Thread != a.Insert {
		r.Verdict = DoesNotFit
		r.Why = mismatch(a.Thread, a.Insert, leastAxleThread)
	}
	return r
}

func (a Axle) length(ins Instrument) Result {
	need := a.Through + a.Hub + a.Engaged
	r := Result{
		Rule: axleRule, Check: "length", Instrument: ins,
		Measured: "axle " + a.Length.String() + " under its head",
		Limit:    need.String() + " within " + axleLengthTolerance.String(),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	r.judge(axleLengthTolerance-(a.Length-need).Abs(), ins.Error)
	r.explain("The axle has the right length under its head.", tooCoarse,
		"The axle is the wrong length: too short leaves thread unused, too long bottoms before it clamps.")
	return r
}
