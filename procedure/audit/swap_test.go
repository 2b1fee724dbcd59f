package audit_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// After a part is swapped the job follows the new plan; results that the swap
// spoiled are void until they are taken again.
func TestSwappedPart(t *testing.T) {
	def, err := procedure.ReadDefinition("rich.yaml", []byte(rich))
	require.NoError(t, err)
	def.Steps[1].Parts = []string{"stem"}
	b := newBench(t, def, rows(), sheet(), rack(), procedure.Policy{})
	b.open()
	b.steps("clean", "clamp")

	res, err := procedure.Resolve(def, rows())
	require.NoError(t, err)
	other := sheet()
	other.Parts[0].Material = "carbon"
	plan, err := procedure.NewPlan(res, other, rack(), b.now, procedure.Policy{})
	require.NoError(t, err)
	_, digest, err := plan.Encode()
	require.NoError(t, err)
	b.plans[digest] = plan
	b.do(builder, procedure.SwapPart{Job: job, Role: "stem", Plan: plan, Reason: "hmac"})

	found := b.audit(b.view())
	require.Len(t, of(found, audit.RuleVoid), 1)
	require.Len(t, found, 1)
	require.Len(t, found[0].Entries, 7, "the swap, and of the step prep, four bolts and the gap: %+v", found)
	b.steps("clamp")
	require.Empty(t, b.audit(b.view()))
}
