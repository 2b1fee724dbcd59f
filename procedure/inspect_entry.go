package procedure

import (
	"slices"
	"time"
)

// When returns the moment the hand did what the entry says: Happened where it
// is given, else Moment.
func (e Envelope) When() Moment { return e.when() }

// LeastElapsed returns a time that has certainly passed between two moments:
// the monotonic difference within one boot of one tablet, else the earliest
// the second can have been less the latest the first can have been. It is
// never negative, and 0 where the clocks prove nothing.
func LeastElapsed(from, to Moment) time.Duration { return leastElapsed(from, to) }

// MostElapsed returns a time that was certainly not exceeded between two
// moments: the monotonic difference within one boot of one tablet, else the
// latest the second can have been less the earliest the first can have been.
// It is never negative.
func MostElapsed(from, to Moment) time.Duration {
	if from.Tablet == to.Tablet && from.Boot == to.Boot && from.Boot != "" {
		return leastElapsed(from, to)
	}
	return microseconds(to.ServerUS - from.earliestUS())
}

// StepOf returns the step that a payload is about, or "" for one that is about
// no step.
func StepOf(p Payload) string { return factStep(p) }

// ItemOf returns the item of its step that a fact gives a result for, or ""
// for payloads that give none.
func ItemOf(p Payload) string {
	switch p := p.(type) {
	case ReadingTaken:
		return BoltItem(p.Bolt)
	case MeasureTaken:
		return CheckItem(p.Check)
	case LookTaken:
		return CheckItem(p.Check)
	case PhotoTaken:
		return CheckItem(p.Check)
	case PrepDone:
		return PrepItem
	}
	return ""
}

// JudgementOf returns what the rules of the day said of a fact, and false for
// payloads that are no judged fact. A ToolCorrected is none: it judges the
// reading that it names.
func JudgementOf(p Payload) (Judgement, bool) {
	switch p := p.(type) {
	case ReadingTaken:
		return p.Judgement, true
	case MeasureTaken:
		return p.Judgement, true
	case LookTaken:
		return p.Judgement, true
	case PhotoTaken:
		return p.Judgement, true
	case PrepDone:
		return p.Judgement, true
	}
	return Judgement{}, false
}

// VoidsOf lists the results that a payload spoiled, those that were void before
// it included.
func VoidsOf(p Payload) []ResultRef {
	switch p := p.(type) {
	case ReworkBegun:
		return slices.Concat(p.Voids, p.StillVoid)
	case PartSwapped:
		return slices.Concat(p.Voids, p.StillVoid)
	}
	j, _ := JudgementOf(p)
	return slices.Concat(j.Voids, j.StillVoid)
}
