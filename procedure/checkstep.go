package procedure

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// step checks the step at place i; seen holds the ids of those before it.
func (c *checker) step(i int, seen map[string]int) {
	s := &c.def.Steps[i]
	path := fmt.Sprintf("steps[%d]", i)
	c.id(path+".id", s.ID)
	if before, twice := seen[s.ID]; twice {
		c.add(path+".id", "duplicate-id", "steps[%d] has the id %q already", before, s.ID)
	}
	seen[s.ID] = i
	// These words stand beside step ids in waits and rework paths.
	if s.ID == stopWord || s.ID == BeforeFinishing || s.ID == BeforeReleasing {
		c.add(path+".id", "reserved-id", "%q has a meaning of its own: choose another id", s.ID)
	}
	c.text(path+".title", s.Title, maxTitle)
	c.text(path+".do", s.Do, maxSentence)
	c.text(path+".why", s.Why, maxSentence)
	c.text(path+".accept", s.Accept, maxSentence)
	c.optional(path+".mistake", s.Mistake, maxSentence)
	c.texts(path+".cautions", s.Cautions, maxSentence)
	c.texts(path+".tools", s.Tools, maxShort)
	c.condition(path+".when", s.When)
	c.possible(path+".when", c.def.When, s.When)
	c.roles(path+".parts", s.Parts, c.def.handled())
	if s.Source != nil {
		c.source(path+".source", s.Source)
	}
	c.threads(path, s)
	c.prep(path, s)
	c.handsOrder(path, s)
	c.torque(path, i)
	c.checks(path, s)
	c.hold(path, s)
	c.waits(path, i)
	c.rework(path, i)
	if s.Due == BeforeFinish && i > 0 && c.def.Steps[i-1].Due == BeforeRelease {
		c.add(path+".due", "after-release", "this step belongs to the job and follows one that waits for the release: move it up")
	}
}

// stopWord stands in rework.from where the job cannot go on.
const stopWord = "stop"

// threads checks the threads that the hand starts or prepares without a
// joint; the hand of a thread is never left open.
func (c *checker) threads(path string, s *Step) {
	if len(s.Threads) > 0 && s.Torque != nil {
		c.add(path+".threads", "both", "a step with a torque takes its thread from its joint: leave threads out")
	}
	var conditions []Condition
	for j, t := range s.Threads {
		at := fmt.Sprintf("%s.threads[%d]", path, j)
		conditions = append(conditions, t.When)
		c.condition(at+".when", t.When)
		c.possible(at+".when", c.around(s), t.When)
		c.threadOrFrom(at, t.Thread, t.ThreadFrom, c.def.handled())
	}
	c.reachable(path+".threads", c.around(s), conditions)
	c.threadHands(path, s)
}

// prep checks thread and contact face, which are two answers: grease under a
// bolt head says nothing about the thread, and the other way round.
func (c *checker) prep(path string, s *Step) {
	if s.Prep == nil {
		return
	}
	path += ".prep"
	if len(s.Prep.Thread) == 0 && len(s.Prep.Face) == 0 {
		c.add(path, "missing", "say what goes on the thread, on the face or on both, or leave prep out")
	}
	if len(s.Prep.Thread) > 0 && len(s.Threads) == 0 && s.Torque == nil {
		c.add(path+".thread", "which-thread", "say in threads which thread is prepared here")
	}
	if len(s.Prep.Face) > 0 {
		c.text(path+".where", s.Prep.Where, maxSentence)
	}
	c.prepChoices(path+".thread", s.Prep.Thread)
	c.prepChoices(path+".face", s.Prep.Face)
	if s.Prep.ThreadAt == "" { // a contact serves steps for other bikes too
		c.prepReached(path+".thread", c.around(s), s.Prep.Thread)
	}
	if s.Prep.FaceAt == "" {
		c.prepReached(path+".face", c.around(s), s.Prep.Face)
	}
	for j, choice := range s.Prep.Thread {
		if choice.Use == CarbonPaste {
			c.add(fmt.Sprintf("%s.thread[%d].use", path, j), "paste-on-thread", "carbon paste is for clamped faces, never for a thread")
		}
	}
	for j, choice := range s.Prep.Face {
		if choice.Use.IsThreadlocker() {
			c.add(fmt.Sprintf("%s.face[%d].use", path, j), "compound-on-face", "threadlocker belongs on a thread, not on a face")
		}
	}
}

// prepChoices wants each choice to give its reason, because a mechanic who
// knows why does not improvise.
func (c *checker) prepChoices(path string, choices []PrepChoice) {
	for j, choice := range choices {
		at := fmt.Sprintf("%s[%d]", path, j)
		c.condition(at+".when", choice.When)
		c.text(at+".why", choice.Why, maxSentence)
		if choice.Use == 0 {
			c.add(at+".use", "missing", "say what goes on: %s", strings.Join(prepNames[1:], ", "))
		}
	}
}

// prepReached wants every choice of a step to count on some bike.
func (c *checker) prepReached(path string, around Condition, choices []PrepChoice) {
	var conditions []Condition
	for j, choice := range choices {
		conditions = append(conditions, choice.When)
		c.possible(fmt.Sprintf("%s[%d].when", path, j), around, choice.When)
	}
	c.reachable(path, around, conditions)
}

// hold wants somebody to sign and something to look at.
func (c *checker) hold(path string, s *Step) {
	if s.Hold == nil {
		return
	}
	c.condition(path+".hold.when", s.Hold.When)
	c.possible(path+".hold.when", c.around(s), s.Hold.When)
	if s.Hold.By == 0 {
		c.add(path+".hold.by", "missing", "say who signs: %s", strings.Join(signerNames[1:], ", "))
	}
	c.text(path+".hold.looks_at", s.Hold.LooksAt, maxSentence)
}

// waits checks the clocks of a step, and that no compound cures unwatched.
// A coating that came on the bolt sets while it is tightened and needs none
// (common practice, no source).
func (c *checker) waits(path string, i int) {
	s := &c.def.Steps[i]
	for j := range s.Waits {
		c.wait(fmt.Sprintf("%s.waits[%d]", path, j), i, &s.Waits[j])
	}
	if s.Prep == nil {
		return
	}
	for j, choice := range s.Prep.Thread {
		if choice.Use < ThreadlockerLow || choice.Use > ThreadlockerHigh {
			continue
		}
		if !slices.ContainsFunc(s.Waits, func(w Wait) bool { return len(w.With) == 0 || slices.Contains(w.With, choice.Use) }) {
			c.add(fmt.Sprintf("%s.prep.thread[%d].use", path, j), "no-wait", "threadlocker cures: say in waits how long and what has to wait")
		}
	}
}

// longestWait bounds a wait, so that a slip of the pen is found and the longest
// factor cannot overflow it.
const longestWait = Duration(30 * 24 * time.Hour)

// wait checks one clock: how long, for what, why, and what makes it longer.
func (c *checker) wait(path string, i int, w *Wait) {
	if w.For <= 0 {
		c.add(path+".for", "missing", "say how long, such as 24h")
	}
	if w.For > longestWait {
		c.add(path+".for", "out-of-range", "no compound needs more than %d days: write hours, such as 24h", longestWait/Duration(24*time.Hour))
	}
	c.text(path+".why", w.Why, maxSentence)
	c.source(path+".source", &w.Source)
	c.waitBefore(path+".before", i, w.Before)
	for j, prep := range w.With {
		if !c.usesPrep(i, prep) {
			c.add(fmt.Sprintf("%s.with[%d]", path, j), "unused-prep", "no prep of this step uses %s", prep)
		}
	}
	if c.cures(i, w) {
		c.cureConditions(path+".longer", w.Longer)
	}
	for j, l := range w.Longer {
		at := fmt.Sprintf("%s.longer[%d]", path, j)
		if len(l.Metals) == 0 && l.BelowCelsius == nil {
			c.add(at, "no-condition", "say on which metals or below which temperature")
		}
		if l.Times < 2 || l.Times > 10 {
			c.add(at+".times", "out-of-range", "write how many times longer, from 2 to 10")
		}
		for k, metal := range l.Metals {
			checkWord(&c.problems, fmt.Sprintf("%s.metals[%d]", at, k), "unknown-material", "material", metal, c.vocab.Materials)
		}
	}
}

// cures reports whether a wait of step i is for a threadlocker.
func (c *checker) cures(i int, w *Wait) bool {
	if len(w.With) > 0 {
		return slices.ContainsFunc(w.With, Prep.IsThreadlocker)
	}
	p := c.def.Steps[i].Prep
	return p != nil && slices.ContainsFunc(p.Thread, func(pc PrepChoice) bool { return pc.Use.IsThreadlocker() })
}

// cureConditions wants both things that slow an anaerobic compound down: a
// metal that does not start it, and cold.
func (c *checker) cureConditions(path string, longer []Longer) {
	if !slices.ContainsFunc(longer, func(l Longer) bool { return len(l.Metals) > 0 }) {
		c.add(path, "no-condition", "threadlocker cures slower on some metals: say on which, and how much longer")
	}
	if !slices.ContainsFunc(longer, func(l Longer) bool { return l.BelowCelsius != nil }) {
		c.add(path, "no-condition", "threadlocker cures slower in the cold: say below how many degrees, and how much longer")
	}
}

// waitBefore wants a later step of this procedure, or a step of another one
// that does not come first.
func (c *checker) waitBefore(path string, i int, before string) {
	id, step, isOther := strings.Cut(before, "/")
	switch {
	case isOther:
		c.voidTarget(path, before)
		if step == "*" || slices.Contains(c.def.After, id) {
			c.add(path, "unknown-step", "name one step of a procedure that comes later, not %q", before)
		}
	case before != BeforeFinishing && before != BeforeReleasing && c.stepIndex(before) <= i:
		c.add(path, "unknown-step", "name a later step, %s or %s, not %q", BeforeFinishing, BeforeReleasing, before)
	}
}

// usesPrep reports whether the step can put this prep on its thread.
func (c *checker) usesPrep(i int, prep Prep) bool {
	p := c.def.Steps[i].Prep
	return p != nil && slices.ContainsFunc(p.Thread, func(pc PrepChoice) bool { return pc.Use == prep })
}

// rework wants a way back for each step, and only back: a way forward would
// skip what was not done.
func (c *checker) rework(path string, i int) {
	s := &c.def.Steps[i]
	if len(s.Rework) == 0 {
		c.add(path+".rework", "missing", "say what to do when the step does not come out")
	}
	for j, r := range s.Rework {
		at := fmt.Sprintf("%s.rework[%d]", path, j)
		c.text(at+".if", r.If, maxSentence)
		c.text(at+".do", r.Do, maxSentence)
		if r.From == "" || r.From == stopWord {
			continue
		}
		if k := c.stepIndex(r.From); k < 0 || k > i {
			c.add(at+".from", "unknown-step", "name this step, an earlier one or %s%s, not %q", stopWord, meant(r.From, c.stepIDs()), r.From)
		}
	}
}

// stepIndex returns the place of a step, or -1.
func (c *checker) stepIndex(id string) int {
	return slices.IndexFunc(c.def.Steps, func(s Step) bool { return s.ID == id })
}

func (c *checker) stepIDs() []string { return stepIDs(c.def) }

func (d *Definition) hasStep(id string) bool {
	return slices.ContainsFunc(d.Steps, func(s Step) bool { return s.ID == id })
}

func stepIDs(d *Definition) []string {
	ids := make([]string, 0, len(d.Steps))
	for i := range d.Steps {
		ids = append(ids, d.Steps[i].ID)
	}
	return ids
}
