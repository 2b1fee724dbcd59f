package server_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// A server plans by the catalogue that it was given last; a job keeps its plan,
// and a catalogue that cannot be used changes nothing.
func TestUseCatalogue(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	s.bike(w.ben, "b-1", "b-02.yaml")
	job := s.open(w.ben, "b-1", "cassette", "cassette-splined-body")
	c, err := catalogue.Load()
	require.NoError(t, err)
	row, ok := c.Joint("cassette-lockring-m30-6x1")
	require.True(t, ok)
	row.Window, row.Aim = "38 N·m to 45 N·m", "41 N·m"
	p, err := c.Resolve("cassette-splined-body")
	require.NoError(t, err)
	require.NoError(t, s.server.UseCatalogue([]*procedure.Resolved{p}, c.Vocabulary, nil))
	require.Error(t, s.server.UseCatalogue([]*procedure.Resolved{p, p}, c.Vocabulary, nil))
	require.Error(t, s.server.UseCatalogue([]*procedure.Resolved{p}, nil, nil))

	list, err := s.catalogue.ListProcedures(w.ben, &pb.ListProceduresRequest{})
	require.NoError(t, err)
	require.Len(t, list.GetProcedures(), 1)
	plan, err := s.builds.PreviewPlan(w.ben, &pb.PreviewPlanRequest{Bike: &pb.PreviewPlanRequest_Build{Build: "builds/b-1"}, Procedure: "procedures/cassette-splined-body"})
	require.NoError(t, err)
	require.NotEqual(t, job.GetRevision(), plan.GetPlan().GetRevision())
	require.Equal(t, job.GetRevision(), s.job(w.ben, "b-1", "cassette").GetRevision())
}
