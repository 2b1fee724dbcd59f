package audit

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

// lacks says which of the skills a person had not shown at a time, and which
// had lapsed. Where no register was kept then, nothing is lacking.
func (v *View) lacks(person string, skills []string, at time.Time) (missing, lapsed []string) {
	var then, now *procedure.SkillRegister
	var thenSince, nowSince time.Time
	for i := range v.Skills {
		s := &v.Skills[i]
		if s.Person != person {
			continue
		}
		if !s.Since.After(at) && !s.Since.Before(thenSince) {
			then, thenSince = s.Skills, s.Since
		}
		if s.Skills != nil && !s.Since.Before(nowSince) {
			now, nowSince = s.Skills, s.Since
		}
	}
	if then == nil {
		return nil, nil
	}
	missingThen, lapsedThen := then.Lacks(skills, at)
	missingNow, lapsedNow := now.Lacks(skills, at)
	for _, skill := range skills {
		switch {
		case !slices.Contains(missingThen, skill) && !slices.Contains(lapsedThen, skill),
			!slices.Contains(missingNow, skill) && !slices.Contains(lapsedNow, skill):
		case slices.Contains(lapsedThen, skill) || slices.Contains(lapsedNow, skill):
			lapsed = append(lapsed, skill)
		default:
			missing = append(missing, skill)
		}
	}
	return missing, lapsed
}

// skills looks at work by people who had not shown the skills that the plan of
// the job takes, unless it was supervised. A supervisor stays with the job,
// whoever works in it.
func (x *examiner) skills() {
	takes := x.job.Plan.Takes
	if len(takes) == 0 || x.supervised() {
		return
	}
	for i := range x.facts {
		f := &x.facts[i]
		missing, lapsed := x.view.lacks(f.Actor, takes, f.When().Best())
		if len(missing) > 0 {
			x.add(Finding{Rule: RuleSkillMissing, Sure: Certain, Status: x.madeGood(f, false), Entries: refs(f.Envelope),
				Text: fmt.Sprintf("work in this job by somebody who had not shown %s, and nobody who had it stayed with it", skillWords(missing)),
				Mend: "have a person with the skill look at what can be seen and take again what cannot; then teach it, or supervise"}, nil)
		}
		if len(lapsed) > 0 {
			x.add(Finding{Rule: RuleSkillLapsed, Sure: Certain, Status: x.madeGood(f, false), Entries: refs(f.Envelope),
				Text: fmt.Sprintf("work in this job by somebody whose proof of %s had lapsed, and nobody who had it stayed with it", skillWords(lapsed)),
				Mend: "have a person with the skill look at the work; let the skill be shown again under supervision"}, nil)
		}
	}
}

// supervised reports whether somebody stays with the job who may and can: by
// the rank and the register that the auditor knows of that day.
func (x *examiner) supervised() bool {
	if x.job.Supervisor == "" {
		return false
	}
	opened, ok := x.build.Entry(x.job.Opened.ID)
	if !ok {
		return false
	}
	at := opened.When().Best()
	rank, known := x.view.rankAt(x.job.Supervisor, at)
	if p, ok := opened.Payload.(procedure.JobOpened); ok && !known {
		rank = p.SupervisorRank
	}
	missing, lapsed := x.view.lacks(x.job.Supervisor, x.job.Plan.Takes, at)
	return rank.MaySecond() && len(missing)+len(lapsed) == 0
}

// signerSkill looks at a signature by somebody who could not have judged the
// work.
func (x *examiner) signerSkill(s *procedure.StepState, e procedure.Entry, status Status) {
	missing, lapsed := x.view.lacks(e.Actor, x.job.Plan.Takes, e.When().Best())
	var why string
	switch {
	case len(missing) > 0:
		why = "who had not shown " + skillWords(missing)
	case len(lapsed) > 0:
		why = "whose proof of " + skillWords(lapsed) + " had lapsed"
	default:
		return
	}
	x.add(Finding{Rule: RuleSignedUnskilled, Sure: Certain, Status: status, Entries: refs(e.Envelope),
		Text: fmt.Sprintf("entry %d was signed by somebody %s", e.Seq, why),
		Mend: "have it looked at and signed again by a person who has the skill"}, s)
}

// skillWords names skills for a person.
func skillWords(ids []string) string {
	names := make([]string, 0, len(ids))
	for _, id := range ids {
		names = append(names, plain(id))
	}
	if len(names) == 1 {
		return "the skill " + names[0]
	}
	return "the skills " + strings.Join(names, " and ")
}
