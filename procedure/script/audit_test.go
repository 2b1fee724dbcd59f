package script_test

import (
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
	"github.com/tightwright/tightwright/procedure/script"
)

// auditBuild asks the auditor with what the shop knows.
func auditBuild(b *procedure.Build, view audit.View) ([]script.Found, error) {
	findings, err := audit.Build(b, view)
	var out []script.Found
	for _, f := range findings {
		out = append(out, script.Found{Rule: f.Rule, Risk: f.Risk, Job: f.Job, Step: f.Step, Text: f.Text, Status: f.Status, Note: f.Note})
	}
	return out, err
}
