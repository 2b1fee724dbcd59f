package server_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/testing/protocmp"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// equal compares two messages and shows where they differ.
func equal(t testing.TB, want, got any) {
	t.Helper()
	require.Empty(t, cmp.Diff(want, got, protocmp.Transform()))
}

func TestJobFromOpeningToReleaseByTheGuideAlone(t *testing.T) {
	for _, tt := range []struct{ name, bike, procedure string }{
		{"a cassette with a spacer", "b-02.yaml", "cassette-splined-body"},
		{"a crank with two pinch bolts", "b-04.yaml", "crank-two-pinch-bolts"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := newShop(t)
			w := s.staffed()
			s.bike(w.ben, "b-1", tt.bike)
			opened := s.open(w.ben, "b-1", "j-1", tt.procedure)
			require.Equal(t, pb.Job_STATE_OPEN, opened.GetState())
			equal(t, opened, s.job(w.ben, "b-1", "j-1"))

			m := &mechanic{shop: s, by: w.ben, second: w.sam, build: "b-1", job: "j-1"}
			m.until("")
			j := s.job(w.ben, "b-1", "j-1")
			require.Equal(t, j.GetStepsTotal(), j.GetStepsDone())
			s.clock.advance(j.GetFinishWait().AsDuration())
			s.record(w.ben, "b-1", finish(j.GetName()))

			m.until("")
			s.record(w.fay, "b-1", &pb.Command{Action: &pb.Command_ReleaseBuild{ReleaseBuild: &pb.ReleaseBuild{}}})
			b, err := s.builds.GetBuild(w.ben, &pb.GetBuildRequest{Name: "builds/b-1"})
			require.NoError(t, err)
			require.True(t, b.GetBuild().GetReleased())
			require.Equal(t, pb.Job_STATE_FINISHED, s.job(w.ben, "b-1", "j-1").GetState())
		})
	}
}
