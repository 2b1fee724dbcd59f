package audit

import (
	"fmt"
	"slices"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

// Bounds of what looks ticked or copied (common practice, no source).
const (
	// BatchWithin is the time in which BatchSteps different steps cannot be
	// done by one person, only ticked.
	BatchWithin = 10 * time.Second
	BatchSteps  = 3
	// SameReadings is the number of pulls on an indicating tool that do not
	// all show the same digits by chance.
	SameReadings = 4
)

// patterns looks at what no single entry shows.
func (x *examiner) patterns() {
	x.tooFast()
	x.batches()
	for _, s := range x.job.Steps {
		x.sameDigits(s)
	}
}

// tooFast compares the longest the job can have taken, from its opening to its
// finish, with the shortest it can be done in.
func (x *examiner) tooFast() {
	done := x.job.Finished
	if done == nil {
		return
	}
	took := procedure.MostElapsed(x.job.Opened.When(), done.When())
	least := time.Duration(x.job.Plan.Least) * time.Minute
	if took >= least {
		return
	}
	x.add(Finding{Rule: RuleTooFast, Sure: Likely, Status: Open, Entries: refs(x.job.Opened, *done),
		Text: fmt.Sprintf("the job was recorded in %s; it cannot be done in less than %d min", inWords(took), x.job.Plan.Least),
		Mend: "treat it as ticked, not done: examine the bike step by step"}, nil)
}

// batches looks for runs of entries in which one person went through several
// steps within seconds.
func (x *examiner) batches() {
	byActor := map[string][]*fact{}
	var actors []string
	for i := range x.facts {
		f := &x.facts[i]
		if !f.judgement.Counts {
			continue
		}
		if byActor[f.Actor] == nil {
			actors = append(actors, f.Actor)
		}
		byActor[f.Actor] = append(byActor[f.Actor], f)
	}
	for _, a := range actors {
		facts := byActor[a]
		for i := 0; i < len(facts); {
			n := runLength(facts[i:])
			if steps := distinctSteps(facts[i : i+n]); len(steps) >= BatchSteps {
				x.batch(facts[i:i+n], steps)
				i += n
				continue
			}
			i++
		}
	}
}

// runLength counts the facts from the first on that lie within BatchWithin.
func runLength(facts []*fact) int {
	n := 1
	for n < len(facts) && apart(facts[0].When(), facts[n].When()) <= BatchWithin {
		n++
	}
	return n
}

// distinctSteps lists the steps that facts are about, each once, in order.
func distinctSteps(facts []*fact) []string {
	var steps []string
	for _, f := range facts {
		if !slices.Contains(steps, f.step) {
			steps = append(steps, f.step)
		}
	}
	return steps
}

// batch reports one run of entries. It takes the class of its worst step.
func (x *examiner) batch(facts []*fact, steps []string) {
	out := Finding{Rule: RuleBatch, Sure: Likely, Status: Reworked}
	var worst *procedure.StepState
	for _, f := range facts {
		out.Entries = append(out.Entries, ref(f.Envelope))
		if !x.retaken(f) {
			out.Status = Open
		}
		if s := x.state(f.step); s != nil && (worst == nil || s.Planned.Risk > worst.Planned.Risk) {
			worst = s
		}
	}
	out.Text = fmt.Sprintf("%d steps were recorded by one person within %s, from %q to %q", len(steps),
		inWords(apart(facts[0].When(), facts[len(facts)-1].When())), x.title(steps[0]), x.title(steps[len(steps)-1]))
	out.Mend = "treat these steps as ticked, not done: look at each of them on the bike"
	x.add(out, worst)
}

// sameDigits looks for indicating tools that showed the same at every pull of
// a step. Tools that are set show their setting, which is no sign of anything.
func (x *examiner) sameDigits(s *procedure.StepState) {
	if s.Planned.Torque == nil {
		return
	}
	full := len(s.Planned.Torque.Passes) - 1
	byTool := map[string][]*fact{}
	var tools []string
	for i := range x.facts {
		f := &x.facts[i]
		t := x.tools[f.tool]
		if f.step != s.Planned.ID || t == nil || t.Kind != procedure.Indicating || f.judgement.Pass != full {
			continue
		}
		if byTool[f.tool] == nil {
			tools = append(tools, f.tool)
		}
		byTool[f.tool] = append(byTool[f.tool], f)
	}
	for _, id := range tools {
		x.same(s, id, byTool[id])
	}
}

// same reports readings that are all alike. Digits count as written: 6.5 and
// 6.50 are two readings.
func (x *examiner) same(s *procedure.StepState, tool string, facts []*fact) {
	if len(facts) < SameReadings {
		return
	}
	status := Reworked
	var entries []EntryRef
	shown := figure(facts[0])
	for _, f := range facts {
		if figure(f) != shown {
			return
		}
		entries = append(entries, ref(f.Envelope))
		if !x.retaken(f) {
			status = Open
		}
	}
	x.add(Finding{Rule: RuleSameDigits, Tool: tool, Sure: Likely, Status: status, Entries: entries,
		Text: fmt.Sprintf("%s shows what it reads, and %d pulls on %q all read %s", tool, len(facts), s.Planned.Title, shown),
		Mend: "treat the readings as copied: take the step again and watch the display"}, s)
}

// figure is a reading as the mechanic saw it.
func figure(f *fact) string {
	r, _ := f.payload.(procedure.ReadingTaken)
	return r.Figure.String()
}
