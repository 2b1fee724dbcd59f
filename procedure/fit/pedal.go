package fit

import "github.com/tightwright/tightwright/torque/joint"

// A Pedal is one pedal axle and the crank arm it is to go into.
type Pedal struct {
	Side      Side         // side of the bicycle
	Axle, Arm joint.Thread // as measured or marked, hand included
	CarbonArm bool         // the arm is carbon round the thread
}

// PedalThread compares a pedal axle with the thread in the crank arm: size,
// pitch and hand must agree with each other and with the side. The right pedal
// is right-hand and the left pedal left-hand, so that riding tightens both.
// A carbon arm needs a washer.
//
// Source of the hands: thread lists that quote DIN 79012 (FG 14.3 and its
// left-hand form), and common practice.
func PedalThread(p Pedal) (Result, error) {
	var in inputs
	if p.Side != Left && p.Side != Right {
		in.add("side", "required", "say which side of the bicycle: left or right")
	}
	in.thread("axle", p.Axle)
	in.thread("arm", p.Arm)
	if err := in.err("pedal-thread"); err != nil {
		return Result{}, err
	}
	r := Result{
		Rule: "pedal-thread", Verdict: Fits, Instrument: ThreadGauge(),
		Measured:   p.Side.String() + " side: axle " + threadText(p.Axle) + ", arm " + threadText(p.Arm),
		Limit:      "axle and arm the same thread, " + pedalHand(p.Side).String() + " on the " + p.Side.String(),
		Source:     "DIN 79012 as quoted in public thread lists; hand by side: common practice",
		Confidence: Published,
	}
	r.pedal(p)
	return r, nil
}

func (r *Result) pedal(p Pedal) {
	hand := pedalHand(p.Side)
	switch {
	case p.Axle.Hand() != hand:
		r.Verdict = DoesNotFit
		r.Why = "This pedal is " + p.Axle.Hand().String() + "; the " + p.Side.String() + " side takes a " + hand.String() + " one. Turned in, it would ruin the thread of the arm."
	case p.Arm.Hand() != hand:
		r.Verdict = DoesNotFit
		r.Why = "This arm has a " + p.Arm.Hand().String() + " pedal thread; it belongs on the other side."
	case p.Axle != p.Arm:
		r.Verdict = DoesNotFit
		r.Why = mismatch(p.Axle, p.Arm, pedalEngagement)
	default:
		r.Why = "Axle and arm have the same thread and the hand of the " + p.Side.String() + " side."
		if p.CarbonArm {
			r.need("a flat steel washer between axle and carbon arm")
		}
	}
}

// pedalEngagement is how much of a pedal thread is engaged, about 12 mm to
// 15 mm. Source: common practice, no source.
const pedalEngagement = 12 * Millimeter

func pedalHand(s Side) joint.Hand {
	if s == Left {
		return joint.LeftHand
	}
	return joint.RightHand
}
