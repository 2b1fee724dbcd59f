package server_test

import (
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

func TestCatalogue(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	procedures, vocabulary := loaded()
	var names []string
	req := &pb.ListProceduresRequest{PageSize: 2}
	for {
		page, err := s.catalogue.ListProcedures(w.ben, req)
		require.NoError(t, err)
		for _, p := range page.GetProcedures() {
			require.Empty(t, p.GetSteps())
			names = append(names, p.GetName())
		}
		if req.PageToken = page.GetNextPageToken(); req.GetPageToken() == "" {
			break
		}
	}
	require.Len(t, names, len(procedures))
	require.IsIncreasing(t, names)
	for _, p := range procedures {
		r, err := s.catalogue.GetProcedure(w.ben, &pb.GetProcedureRequest{Name: "procedures/" + p.ID})
		require.NoError(t, err)
		got := r.GetProcedure()
		require.Equal(t, p.Revision.String(), got.GetRevision())
		require.Len(t, got.GetSteps(), len(p.Steps))
		require.Len(t, got.GetJoints(), len(p.Joints))
		for i, step := range p.Steps {
			require.Equal(t, step.ID, got.GetSteps()[i].GetStepId())
			require.Equal(t, step.Do, got.GetSteps()[i].GetInstruction())
			require.Len(t, got.GetSteps()[i].GetChecks(), len(step.Checks))
		}
	}
	_, err := s.catalogue.GetProcedure(w.ben, &pb.GetProcedureRequest{Name: "procedures/nothing"})
	notFound(t, err, "procedure", "procedures/nothing")
	roles, err := s.catalogue.ListPartRoles(w.ben, &pb.ListPartRolesRequest{})
	require.NoError(t, err)
	require.Len(t, roles.GetPartRoles(), len(vocabulary.Roles))
	require.Equal(t, vocabulary.Materials, roles.GetMaterials())
}

// contacts are those of the built-in catalogue, read once.
var contacts = sync.OnceValue(func() []procedure.Contact {
	c, err := catalogue.Load()
	if err != nil {
		panic(err)
	}
	return c.Contacts
})

func TestContacts(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	r, err := s.catalogue.ListContacts(w.ben, &pb.ListContactsRequest{})
	require.NoError(t, err)
	require.NotEmpty(t, r.GetContacts())
	require.Len(t, r.GetContacts(), len(contacts()))
	for i, want := range contacts() {
		got := r.GetContacts()[i]
		require.Equal(t, want.ID, got.GetContactId())
		require.Equal(t, want.Between, got.GetBetween())
		require.Equal(t, want.Source.Text, got.GetSource().GetText())
		require.Len(t, got.GetUses(), len(want.Uses))
		for j, use := range want.Uses {
			require.Equal(t, pb.Prep(use.Use), got.GetUses()[j].GetUse())
			require.Equal(t, pb.PrepReason(use.Reason), got.GetUses()[j].GetReason())
			require.Len(t, got.GetUses()[j].GetNever(), len(use.Never))
			require.Equal(t, use.Why, got.GetUses()[j].GetWhy())
		}
	}
}

// The enums of the API and of the domain count alike: each value has the same
// name on both sides, and the API has no value that the domain lacks.
func TestEnumsCountAlike(t *testing.T) {
	for _, tt := range []struct {
		name   string
		prefix string
		values map[int32]string
		first  int32 // the API's number of the domain's 0
		domain func(v uint8) string
	}{
		{"rank", "RANK_", pb.Rank_name, 0, func(v uint8) string { return procedure.Rank(v).String() }},
		{"risk", "RISK_", pb.Risk_name, 0, func(v uint8) string { return procedure.Risk(v).String() }},
		{"prep", "PREP_", pb.Prep_name, 0, func(v uint8) string { return procedure.Prep(v).String() }},
		{"confidence", "CONFIDENCE_", pb.Confidence_name, 0, func(v uint8) string { return procedure.Confidence(v).String() }},
		{"verdict", "VERDICT_", pb.Verdict_name, 0, func(v uint8) string { return procedure.Verdict(v).String() }},
		{"kind of tool", "TOOL_KIND_", pb.ToolKind_name, 0, func(v uint8) string { return procedure.ToolKind(v).String() }},
		{"kind of check", "CHECK_KIND_", pb.CheckKind_name, 0, func(v uint8) string { return procedure.CheckKind(v).String() }},
		{"signer", "SIGNER_", pb.Signer_name, 0, func(v uint8) string { return procedure.Signer(v).String() }},
		{"status of a step", "STATUS_", pb.StepState_Status_name, 0, func(v uint8) string { return procedure.StepStatus(v).String() }},
		{"hands", "HANDS_", pb.Hands_name, 0, func(v uint8) string { return procedure.Hands(v).String() }},
		{"reason of a prep", "PREP_REASON_", pb.PrepReason_name, 0, func(v uint8) string { return procedure.Reason(v).String() }},
		{"state of a job of a whole", "STATE_", pb.JobProgress_State_name, 1, func(v uint8) string { return procedure.JobState(v).String() }},
		{"due", "DUE_", pb.Due_name, 1, func(v uint8) string { return procedure.Due(v).String() }},
		{"allowance", "ALLOWANCE_", pb.Allowance_name, 1, func(v uint8) string { return procedure.Allowance(v).String() }},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for number := int32(1); number < int32(len(tt.values)); number++ {
				name := strings.ToLower(strings.ReplaceAll(strings.TrimPrefix(tt.values[number], tt.prefix), "_", "-"))
				require.Equal(t, tt.domain(uint8(number-tt.first)), name)
			}
			require.Contains(t, tt.domain(uint8(int32(len(tt.values))-tt.first)), "unknown(")
		})
	}
}
