package script

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure"
)

// ViewPlan is what a script shows of a plan.
func ViewPlan(p *procedure.Plan) *PlanView {
	v := &PlanView{Blocked: p.Blocked(), Findings: p.Findings}
	for _, f := range p.Fit {
		v.Fit = append(v.Fit, FitLine(f))
	}
	for _, s := range p.Steps {
		if s.Torque == nil {
			continue
		}
		v.Steps = append(v.Steps, fmt.Sprintf("%s: %v; %s", s.Title, s.Torque.Window, s.Torque.Governs))
	}
	return v
}

// FitLine is one fit check on one line.
func FitLine(f procedure.PlannedFit) string {
	line := "fit " + f.Rule
	if f.Check != "" {
		line += " (" + f.Check + ")"
	}
	line += ": " + f.Verdict
	for i, n := range f.Needs {
		if i > 0 {
			line += " and"
		}
		line += " " + n
	}
	if f.Margin != "" {
		line += ", margin " + f.Margin
	}
	return line
}

// ViewJob joins a plan with its guide.
func ViewJob(p *procedure.Plan, g *procedure.Guide) *JobView {
	v := &JobView{Current: g.Current}
	for i, gs := range g.Steps {
		s := p.Steps[i]
		sv := StepView{ID: s.ID, Title: s.Title, Status: gs.Status, Missing: gs.Missing, Bolt: gs.Bolt, Pass: gs.Pass, Checks: s.Checks}
		if s.Hold != nil {
			sv.Hold = s.Hold.By
		}
		if s.ThreadPrep != nil {
			sv.ThreadPrep = s.ThreadPrep.Use
		}
		if s.FacePrep != nil {
			sv.FacePrep = s.FacePrep.Use
		}
		if s.Torque != nil {
			for _, c := range s.Torque.Choices {
				if c.Can() {
					sv.Settings = append(sv.Settings, Setting{Tool: c.Tool, Passes: c.Passes})
				}
			}
		}
		v.Steps = append(v.Steps, sv)
	}
	return v
}
