package procedure

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"github.com/tightwright/tightwright/torque/joint"
	"github.com/tightwright/tightwright/torque/wrench"
)

// NewPlan works a resolved procedure out for the bike of the sheet, with the
// tools on the rack at that time, under the shop's policy. It is pure: the
// same arguments give the same plan, byte for byte.
//
// What the bike or the shop lacks does not fail the call; it stands in the
// plan's findings, and a finding that blocks stops the job. The lowest
// maximum of all parts of a joint governs. Nothing is guessed: a joint
// without a known limit blocks, and so does a safety-critical window from
// memory that no foreman answers for.
//
// An error means that the arguments themselves cannot be used.
func NewPlan(res *Resolved, sheet *Sheet, tools []Tool, at time.Time, policy Policy) (*Plan, error) {
	if err := policy.check(); err != nil {
		return nil, fmt.Errorf("plan %s: %w", res.Definition.ID, err)
	}
	if err := checkTools(tools); err != nil {
		return nil, fmt.Errorf("plan %s: %w", res.Definition.ID, err)
	}
	digest, err := sheetDigest(sheet)
	if err != nil {
		return nil, err
	}
	level, err := wrench.NewLevel(policy.probability())
	if err != nil {
		return nil, fmt.Errorf("plan %s: %w", res.Definition.ID, err)
	}
	p := &planner{res: res, sheet: sheet, at: at, policy: policy, level: level, accepts: map[acceptanceKey]wrench.Acceptance{}}
	p.ready(tools)
	d := res.Definition
	p.plan = &Plan{
		Engine: EngineVersion, Build: sheet.Build, Label: sheet.Label,
		Procedure: d.ID, Title: d.Title, Edition: d.Edition, Revision: res.Revision.String(),
		SheetDigest: digest, At: at.UTC(), Risk: d.Risk, Allowance: d.Allowance, Policy: policy,
		Minutes: d.Minutes, Least: d.LeastMinutes,
		Tools: d.Tools, Consumables: d.Consumables, Cautions: d.Cautions,
	}
	p.roles()
	p.rightProcedure()
	p.fit()
	for i := range d.Steps {
		p.step(&d.Steps[i])
	}
	return p.plan, nil
}

func checkTools(tools []Tool) error {
	var p problems
	for i := range tools {
		p.take(fmt.Sprintf("tools[%d]", i), tools[i].Check())
	}
	return p.err()
}

func sheetDigest(s *Sheet) (string, error) {
	data, err := json.Marshal(s)
	if err != nil {
		return "", fmt.Errorf("encode sheet of %s: %w", s.Build, err)
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:]), nil
}

// planner carries what the parts of NewPlan share.
type planner struct {
	res    *Resolved
	sheet  *Sheet
	tools  []plannedTool
	level  wrench.Level
	at     time.Time
	policy Policy
	plan   *Plan
	// accepts holds acceptance limits that were worked out already.
	accepts map[acceptanceKey]wrench.Acceptance
	// verdicts holds the outcome of each fit rule for conditions.
	verdicts map[string]string
}

func (p *planner) find(f PlanFinding) { p.plan.Findings = append(p.plan.Findings, f) }

func (p *planner) roles() {
	for _, role := range p.res.Definition.Roles {
		if _, ok := p.sheet.Part(role); !ok {
			p.find(PlanFinding{Rule: FindingPartMissing, About: role, Blocks: true,
				Text: fmt.Sprintf("the build sheet has no %s: look at the part and enter it", words(role))})
		}
	}
}

// rightProcedure stops the plan on a bike that the procedure is not for.
func (p *planner) rightProcedure() {
	when := p.res.Definition.When
	ok, missing := when.holds(p.look)
	for _, key := range missing {
		p.missing(key, "")
	}
	if !ok && len(missing) == 0 {
		p.find(PlanFinding{Rule: FindingOtherProcedure, About: p.res.Definition.ID, Blocks: true,
			Text: fmt.Sprintf("this procedure is for bikes on which %s: choose the one for these parts", words(when.String()))})
	}
}

// look answers conditions: attributes of the sheet, and verdicts of fit rules.
func (p *planner) look(key string) (string, bool) {
	if rule, ok := strings.CutPrefix(key, "fit."); ok {
		v, known := p.verdicts[rule]
		return v, known
	}
	return p.sheet.Attribute(key)
}

// holds evaluates a condition for a step and reports what it lacks once.
func (p *planner) holds(c Condition, step string) bool {
	ok, missing := c.holds(p.look)
	for _, key := range missing {
		p.missing(key, step)
	}
	return ok
}

// missing reports an attribute that is not known, once for the whole plan. A
// part that is not on the sheet, or a fit rule that did not come out, has its
// own finding already.
func (p *planner) missing(key, step string) {
	role, name, _ := cutLast(key, '.')
	if role == "fit" {
		return
	}
	if _, there := p.sheet.Part(role); !there {
		p.partMissing(role, step)
		return
	}
	for _, f := range p.plan.Findings {
		if f.Rule == FindingAttributeMissing && f.About == key {
			return
		}
	}
	p.find(PlanFinding{Rule: FindingAttributeMissing, Step: step, About: key, Blocks: true,
		Text: fmt.Sprintf("the build sheet does not say the %s of the %s: find it on the bike and enter it", words(name), words(role))})
}

func (p *planner) partMissing(role, step string) {
	for _, f := range p.plan.Findings {
		if f.Rule == FindingPartMissing && f.About == role {
			return
		}
	}
	p.find(PlanFinding{Rule: FindingPartMissing, Step: step, About: role, Blocks: true,
		Text: fmt.Sprintf("the build sheet has no %s: look at the part and enter it", words(role))})
}

func (p *planner) step(s *Step) {
	if !p.holds(s.When, s.ID) {
		p.plan.Skipped = append(p.plan.Skipped, SkippedStep{ID: s.ID, Title: s.Title,
			Reason: "only when " + s.When.String()})
		return
	}
	out := PlannedStep{
		ID: s.ID, Title: s.Title, Do: s.Do, Why: s.Why, Accept: s.Accept, Mistake: s.Mistake,
		Risk: s.Risk, Parts: s.Parts, Tools: s.Tools, Cautions: s.Cautions, Voids: s.Voids, Rework: s.Rework, Due: s.Due,
		Waits: s.Waits, Source: p.res.Definition.Source,
	}
	if s.Source != nil {
		out.Source = *s.Source
	}
	if out.Risk == 0 {
		out.Risk = p.res.Definition.Risk
	}
	p.thread(s, &out)
	p.prep(s, &out)
	if s.Torque != nil {
		p.torque(s, &out)
	}
	p.checks(s, &out)
	if s.Hold != nil && p.holds(s.Hold.When, s.ID) {
		hold := *s.Hold
		hold.When = nil
		out.Hold = &hold
	}
	p.plan.Steps = append(p.plan.Steps, out)
}

func (p *planner) thread(s *Step, out *PlannedStep) {
	for _, c := range s.Threads {
		if !p.holds(c.When, s.ID) {
			continue
		}
		p.threadOr(c.Thread, c.ThreadFrom, out)
		return
	}
}

// threadOr takes the thread as written, else from the attribute that holds it.
func (p *planner) threadOr(text, from string, out *PlannedStep) {
	if text == "" && from != "" {
		var known bool
		if text, known = p.sheet.Attribute(from); !known {
			p.missing(from, out.ID)
			return
		}
	}
	p.setThread(text, out)
}

// setThread puts a thread and its hand on the step. Text that is not a
// thread, such as the maker's own, is shown and taken as right-hand only
// where it says so.
func (p *planner) setThread(text string, out *PlannedStep) {
	out.Thread = text
	if t, err := joint.ParseThread(text); err == nil {
		out.Hand = t.Hand()
	}
}

func (p *planner) prep(s *Step, out *PlannedStep) {
	if s.Prep == nil {
		return
	}
	out.ThreadPrep = p.choosePrep(s.Prep.Thread, s.ID, "thread")
	out.FacePrep = p.choosePrep(s.Prep.Face, s.ID, "contact face")
	out.FaceWhere = s.Prep.Where
}

func (p *planner) choosePrep(choices []PrepChoice, step, surface string) *PlannedPrep {
	if len(choices) == 0 {
		return nil
	}
	for _, c := range choices {
		if p.holds(c.When, step) {
			return &PlannedPrep{Use: c.Use, Why: c.Why}
		}
	}
	p.find(PlanFinding{Rule: FindingNoPrep, Step: step, About: surface, Blocks: true,
		Text: fmt.Sprintf("no prep is known for the %s with these materials: ask the foreman, do not assume", surface)})
	return nil
}

func (p *planner) checks(s *Step, out *PlannedStep) {
	for _, c := range s.Checks {
		if !p.holds(c.When, s.ID) {
			continue
		}
		pc := PlannedCheck{ID: c.ID, Kind: c.Kind, Ask: c.Ask, Unit: c.Unit, Min: c.Min, Max: c.Max,
			Instrument: c.Instrument, Error: c.Error}
		if c.Expect != "" && !p.expect(c, &pc) {
			p.find(PlanFinding{Rule: FindingAttributeMissing, Step: s.ID, About: c.Expect, Blocks: true,
				Text: fmt.Sprintf("the fit rule did not work out %s: mend the fit findings first", words(c.Expect))})
		}
		out.Checks = append(out.Checks, pc)
	}
}

// expect takes a check's limits from a number that a fit rule worked out.
func (p *planner) expect(c Check, out *PlannedCheck) bool {
	rule, name, _ := cutLast(c.Expect, '.')
	for _, f := range p.plan.Fit {
		if f.Rule != rule {
			continue
		}
		v, err := parseDecimal(f.Numbers[name])
		within, errWithin := parseDecimal(c.Within)
		if err != nil || errWithin != nil {
			return false
		}
		out.Min = formatRat(ratSub(v, within), 9)
		out.Max = formatRat(ratAdd(v, within), 9)
		return true
	}
	return false
}

// words turns an identifier into words for a person. A side stands in front,
// as it is spoken: pedal-left is the left pedal.
func words(id string) string {
	for _, side := range []string{"left", "right"} {
		if part, ok := strings.CutSuffix(id, "-"+side); ok {
			id = side + "-" + part
		}
	}
	return strings.NewReplacer("-", " ", "_", " ", ".", " ").Replace(id)
}
