package procedure

import (
	"fmt"
	"slices"
	"strings"
	"time"

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
	level, err := wrench.NewLevel(policy.probability())
	if err != nil {
		return nil, fmt.Errorf("plan %s: %w", res.Definition.ID, err)
	}
	p := &planner{res: res, sheet: sheet, at: at, policy: policy, level: level, accepts: map[acceptanceKey]wrench.Acceptance{}, read: newReadTexts()}
	p.ready(tools)
	d := res.Definition
	p.plan = &Plan{
		Engine: EngineVersion, Build: sheet.Build, Label: sheet.Label,
		Procedure: d.ID, Title: d.Title, Edition: d.Edition, Revision: res.Revision.String(), Origin: res.Origin,
		SheetDigest: sheet.digest(), At: at.UTC(), Risk: d.Risk, Allowance: d.Allowance, Policy: policy,
		Minutes: d.Minutes, Least: d.LeastMinutes,
		Tools: d.Tools, Consumables: d.Consumables, Cautions: d.Cautions, Takes: d.Takes(),
	}
	p.roles()
	p.rightProcedure()
	p.fit()
	for i := range d.Steps {
		p.step(&d.Steps[i])
	}
	p.waysBack()
	return p.plan, nil
}

func checkTools(tools []Tool) error {
	var p problems
	for i := range tools {
		if err := tools[i].Check(); err != nil {
			p.take(fmt.Sprintf("tools[%d]", i), err)
		}
	}
	return p.err()
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
	// read holds the markings and threads of the sheet.
	read readTexts
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
			Text: fmt.Sprintf("this procedure is for bikes on which %s: choose the one for these parts", when.Words())})
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
	role, name, _ := cutLast(key)
	if role == "fit" {
		p.unlistedFit(name, step)
		return
	}
	if _, there := p.sheet.Part(role); !there {
		if !slices.Contains(p.res.MayHave, role) {
			p.partMissing(role, step)
		}
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

// unlistedFit reports a condition on a fit rule that the procedure does not
// run: the condition would never hold, and its step would be left out.
func (p *planner) unlistedFit(rule, step string) {
	if slices.Contains(p.res.Definition.Fit, rule) {
		return
	}
	p.find(PlanFinding{Rule: FindingAttributeMissing, Step: step, About: "fit." + rule, Blocks: true,
		Text: fmt.Sprintf("a step depends on the fit rule %s, which the procedure does not run: mend the procedure", rule)})
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

// words turns an identifier into words for a person. A side stands in front,
// as it is spoken: pedal-left is the left pedal.
func words(id string) string {
	for _, side := range []string{"left", "right", "front", "rear"} {
		if part, ok := strings.CutSuffix(id, "-"+side); ok {
			id = side + "-" + part
		}
	}
	return strings.Map(func(r rune) rune {
		if r == '-' || r == '_' || r == '.' {
			return ' '
		}
		return r
	}, id)
}
