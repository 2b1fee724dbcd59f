package audit

import (
	"fmt"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

// apart returns how far apart two moments were, by the best clock that saw
// both: the monotonic one within one boot, the tablet's own within one tablet,
// else the best estimates.
func apart(a, b procedure.Moment) time.Duration {
	if a.Tablet == b.Tablet && a.Tablet != "" {
		if a.Boot == b.Boot && a.Boot != "" {
			return microseconds(b.MonotonicUS - a.MonotonicUS)
		}
		return microseconds(b.TabletUS - a.TabletUS)
	}
	return b.Best().Sub(a.Best()).Abs()
}

// microseconds is a distance between two readings of one clock, without its
// sign: the order of entries is told by their sequence.
func microseconds(us int64) time.Duration {
	return (time.Duration(us) * time.Microsecond).Abs()
}

// inWords writes a time as a person says it: whole seconds below two minutes,
// whole minutes above.
func inWords(t time.Duration) string {
	switch {
	case t < 2*time.Minute:
		return fmt.Sprintf("%d s", t.Round(time.Second)/time.Second)
	case t < time.Hour:
		return fmt.Sprintf("%d min", t.Round(time.Minute)/time.Minute)
	}
	t = t.Round(time.Minute)
	if t%time.Hour == 0 {
		return fmt.Sprintf("%d h", t/time.Hour)
	}
	return fmt.Sprintf("%d h %d min", t/time.Hour, t%time.Hour/time.Minute)
}

// clocks looks for tablets that claim a time that had not come yet. Of the
// build as a whole only entries that belong to no job are looked at.
func (x *examiner) clocks() {
	job := ""
	if x.job != nil {
		job = x.job.ID
	}
	for _, e := range x.build.Entries() {
		if e.Job != job || !e.Moment.ClockAhead() {
			continue
		}
		x.add(Finding{Rule: RuleClockAhead, Risk: procedure.RiskOther, Sure: Certain, Status: Open, Entries: refs(e.Envelope),
			Text: fmt.Sprintf("the tablet %s claimed times that had not come yet", e.Moment.Tablet),
			Mend: "set the tablet's clock; read the order of its entries by the time the server received them"}, nil)
	}
}
