package script_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/script"
)

// What the server refuses, the domain refuses as well, so that a script that
// one of them plays is played by the other.
func TestChangesThatTheShopRefuses(t *testing.T) {
	monday := time.Date(2025, 3, 3, 9, 0, 0, 0, time.UTC)
	by := func(person string) script.Hand { return script.Hand{Person: person, Now: monday} }
	ready := func() *script.Domain {
		d := script.NewDomain(nil, auditBuild)
		for name, rank := range map[string]procedure.Rank{"fay": procedure.Foreman, "sam": procedure.SeniorBuilder, "ana": procedure.Builder} {
			require.NoError(t, d.Change(by(name), script.Enrol{Name: name, Rank: rank}))
		}
		require.NoError(t, d.Change(by("fay"), script.AddTool{Tool: procedure.Tool{ID: "tw", Kind: procedure.Setting, Min: "2", Max: "20", Graduation: "0.1"}}))
		return d
	}
	for _, tt := range []struct {
		name   string
		by     string
		change script.Change
		says   string
	}{
		{"calibration by a builder", "ana", script.CalibrateTool{Tool: "tw"}, "rank"},
		{"calibration that cannot be", "sam", script.CalibrateTool{Tool: "tw", Calibration: procedure.Calibration{At: monday}}, "calibrations[0]"},
		{"return by a senior builder", "sam", script.ReturnTool{Tool: "tw"}, "rank"},
		{"return of what is on the rack", "fay", script.ReturnTool{Tool: "tw"}, "not set aside"},
		{"a tool that is not there", "ana", script.QuarantineTool{Tool: "tx", Reason: "r"}, "tx"},
		{"a tool that cannot be", "fay", script.AddTool{}, "id"},
		{"a skill that nobody knows", "fay", script.ProveSkill{Person: "ana", Skill: procedure.HeldSkill{Skill: "juggling", Proven: monday}}, "juggling"},
		{"the skill of nobody", "fay", script.ProveSkill{Person: "cid"}, "cid"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.ErrorContains(t, ready().Change(by(tt.by), tt.change), tt.says)
		})
	}
	d := ready()
	require.NoError(t, d.Change(by("ana"), script.QuarantineTool{Tool: "tw", Reason: "r"}))
	require.ErrorContains(t, d.Change(by("ana"), script.QuarantineTool{Tool: "tw", Reason: "r"}), "already")
}
