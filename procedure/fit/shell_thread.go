package fit

import "github.com/tightwright/tightwright/torque/joint"

// cupThread compares one side of the shell with its cup.
func cupThread(check string, shell, cup joint.Thread) Result {
	shellText := threadText(shell)
	cupText := shellText
	if shell != cup {
		cupText = threadText(cup)
	}
	r := Result{
		Rule: shellRule, Check: check, Verdict: Fits, Instrument: ThreadGauge(),
		Measured: "shell " + shellText + ", cup " + cupText,
		Limit:    "the same thread and hand",
		Why:      "Shell and cup have the same thread: " + shellText + ".",
		Source:   "threads go together when size, pitch and hand are equal", Confidence: Computed,
	}
	if shell != cup {
		r.Verdict = DoesNotFit
		r.Why = mismatch(cup, shell, cupEngagement)
	}
	return r
}

// cupEngagement is how much of a cup thread is engaged, about 10 mm.
// Source: common practice, no source.
const cupEngagement = 10 * Millimeter

// handPair asks whether the two hands of the shell are a pair that exists.
func handPair(s Shell, kinds []ShellKind) Result {
	r := Result{
		Rule: shellRule, Check: "hand", Verdict: Fits, Instrument: ThreadGauge(),
		Measured: "drive side " + s.Drive.Hand().String() + ", other side " + s.NonDrive.Hand().String(),
		Limit:    "the hands of a known kind of shell",
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	if len(kinds) == 0 {
		r.Verdict = TryAndMeasure
		r.Why = "No known shell has these threads with these hands. Look at the lean of the threads again before any cup goes in."
		return r
	}
	r.Limit, r.Source, r.Confidence = kinds[0].ID, kinds[0].Source, kinds[0].Confidence
	r.Why = "The drive side tightens " + turn(s.Drive.Hand()) + ", the other side " + turn(s.NonDrive.Hand()) + ", each seen from its own side."
	return r
}

func turn(h joint.Hand) string {
	if h == joint.LeftHand {
		return "counterclockwise"
	}
	return "clockwise"
}
