package procedure

import (
	"fmt"
	"slices"
)

func (d *decision) withdraw(c WithdrawEntry) (Entry, error) {
	if err := needs("entry", c.Entry, "reason", string(c.Reason)); err != nil {
		return Entry{}, err
	}
	if !slices.Contains([]string{CauseMisTap, CauseWrongBike, CauseDoubtful}, c.Cause) {
		return Entry{}, &FieldError{Path: "cause", Rule: "unknown-cause",
			Text: fmt.Sprintf("write %s, %s or %s", CauseMisTap, CauseWrongBike, CauseDoubtful)}
	}
	was, err := d.fact(c.Entry)
	if err != nil {
		return Entry{}, err
	}
	//nolint:staticcheck // field by field: the record must not change when the command does
	return entry(was.Job, EntryWithdrawn{Entry: c.Entry, Cause: c.Cause, Reason: c.Reason, MovedTo: c.MovedTo}), nil
}

// fact finds an entry that this person may correct.
func (d *decision) fact(id string) (Entry, error) {
	was, ok := d.b.Entry(id)
	if !ok {
		return Entry{}, fmt.Errorf("build %s: entry %q: %w", d.b.ID, id, ErrNotFound)
	}
	switch {
	case factStep(was.Payload) == "":
		return Entry{}, refuse(RuleNotAFact, id, "only readings, measures, looks, photos, prep, rework and signatures can be corrected")
	case d.b.gone[id]:
		return Entry{}, refuse(RuleWithdrawn, id, "this entry was withdrawn already")
	case was.Actor != d.call.By.Person && !d.call.By.Rank.MayRelease():
		return Entry{}, refuse(RuleNotYours, id, "an entry is corrected by the person who made it, or by the foreman")
	}
	return was, nil
}

func (d *decision) correctTool(c CorrectTool) (Entry, error) {
	if err := needs("entry", c.Entry, "tool", c.Tool, "reason", string(c.Reason)); err != nil {
		return Entry{}, err
	}
	was, err := d.fact(c.Entry)
	if err != nil {
		return Entry{}, err
	}
	r, ok := was.Payload.(ReadingTaken)
	if !ok {
		return Entry{}, refuse(RuleNotAFact, c.Entry, "only a reading has a tool to correct")
	}
	j, s, err := d.b.jobAndStep(was.Job, r.Step)
	if err != nil {
		return Entry{}, err
	}
	if s.Planned.Torque == nil {
		return Entry{}, refuse(RuleNotAFact, c.Entry, "step %q tightens nothing any more: there is nothing to judge", s.Planned.Title)
	}
	r.Tool, r.Judgement = c.Tool, d.b.judged(was)
	return entry(was.Job, ToolCorrected{Entry: c.Entry, Tool: c.Tool, Reason: c.Reason,
		Judgement: d.judgeTool(j, s, r, was)}), nil
}

// judgeTool judges a reading again for the tool that it names now. One that
// did not count only because of its tool is judged whole, against the present
// state, unless the step has gone on since; of any other, whether it was in
// order stands as it was judged at the time.
func (d *decision) judgeTool(j *Job, s *StepState, r ReadingTaken, was Entry) Judgement {
	at, before, t := was.when(), r.Judgement, s.Planned.Torque
	if !before.Counts && isToolRule(before.Rule) {
		return d.judgeReading(j, s, r, pulled{at: at, later: func(e Entry) bool { return e.Seq > was.Seq }})
	}
	jd := Judgement{Counts: before.Counts, Rule: before.Rule, Text: before.Text, Pass: before.Pass, Round: before.Round}
	full := jd.Pass == len(t.Passes)-1
	jd.Verdict, jd.Probability = d.readingVerdict(j, t, r, at, full)
	jd.Retake = jd.Verdict == Nonconforming && t.isShort(r.Value)
	if rule, text := d.toolObstacle(s, r, at, full); rule != "" {
		jd.Counts, jd.Rule, jd.Text = false, rule, text
	}
	return jd
}
