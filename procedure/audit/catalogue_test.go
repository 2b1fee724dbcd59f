package audit_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/torque"
)

// The built-in procedures, done as planned on the invented bikes, give no
// finding, only the notes about windows that a foreman answers for.
func TestBuiltInProceduresDoneRight(t *testing.T) {
	c, err := catalogue.Load()
	require.NoError(t, err)
	var files []string
	for _, pattern := range []string{"../../testdata/week/bikes/*.yaml", "../../testdata/sheets/*.yaml"} {
		found, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, found, pattern)
		files = append(files, found...)
	}
	done := map[string]bool{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		sheet, err := procedure.ReadSheet(file, data, c.Vocabulary)
		require.NoError(t, err)
		for _, id := range c.IDs() {
			plan := planFor(t, c, id, sheet)
			if plan.Blocked() {
				continue // the bike has none of these parts
			}
			t.Run(filepath.Base(file)+" "+id, func(t *testing.T) {
				b := benchFor(t, plan, fullRack())
				b.ideal()
				for _, f := range b.audit(b.view()) {
					require.True(t, f.Note, "%+v", f)
				}
			})
			done[id] = true
		}
	}
	require.Len(t, done, len(c.IDs()), "every procedure was done on some bike: %v", done)
}

func planFor(t testing.TB, c *catalogue.Catalogue, id string, sheet *procedure.Sheet) *procedure.Plan {
	t.Helper()
	res, err := c.Resolve(id)
	require.NoError(t, err)
	var policy procedure.Policy
	for _, row := range res.Joints {
		policy.Accepted = append(policy.Accepted, procedure.Acceptance{Joint: row.ID, Person: foreman.Person, At: monday})
	}
	plan, err := procedure.NewPlan(res, sheet, fullRack(), monday, policy)
	require.NoError(t, err)
	return plan
}

// fullRack has a sound tool for everything that the procedures ask for, and a
// fine one for windows that are too narrow for the others.
func fullRack() []procedure.Tool {
	cal := rack()[0].Calibrations
	tool := func(id, low, high, step string) procedure.Tool {
		return procedure.Tool{ID: id, Kind: procedure.Setting, Unit: torque.NewtonMeters, Min: low, Max: high, Graduation: step, Calibrations: cal}
	}
	fine := tool("fine", "10", "50", "0.1")
	fine.Calibrations = slices.Clone(cal)
	for i := range fine.Calibrations {
		fine.Calibrations[i].DeviationPercent = "1"
	}
	return []procedure.Tool{tool("driver", "0.2", "2", "0.05"), tool("small", "2", "14", "0.1"), tool("middle", "3", "20", "0.2"), tool("large", "15", "75", "0.5"), fine}
}
