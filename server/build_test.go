package server_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/proto"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

func TestBuildSheetLife(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	want := sheet(t, "b-02.yaml")
	untidy := proto.CloneOf(want)
	for _, p := range untidy.GetParts() {
		if p.GetRole() == "freehub-body" {
			p.Attributes["length"] = "36,75mm"
		}
	}
	req := &pb.CreateBuildRequest{RequestId: id(), BuildId: "b-1", Sheet: untidy}
	created, err := s.builds.CreateBuild(w.ben, req)
	require.NoError(t, err)
	equal(t, want, created.GetBuild().GetSheet()) // in canonical text
	require.Equal(t, "builds/b-1", created.GetBuild().GetName())

	changed := proto.CloneOf(want)
	changed.Label = "job card 17"
	updated, err := s.builds.UpdateSheet(w.ben, &pb.UpdateSheetRequest{RequestId: id(), Build: "builds/b-1", Sheet: changed, Etag: created.GetBuild().GetEtag()})
	require.NoError(t, err)
	equal(t, changed, updated.GetBuild().GetSheet())
	_, err = s.builds.UpdateSheet(w.sam, &pb.UpdateSheetRequest{RequestId: id(), Build: "builds/b-1", Sheet: want, Etag: created.GetBuild().GetEtag()})
	fails(t, err, codes.Aborted, "ETAG_MISMATCH", resource("", "builds/b-1"))

	got, err := s.builds.GetBuild(w.ben, &pb.GetBuildRequest{Name: "builds/b-1"})
	require.NoError(t, err)
	equal(t, updated.GetBuild(), got.GetBuild())
	again, err := s.builds.CreateBuild(w.ben, req)
	require.NoError(t, err)
	equal(t, created, again) // as it was then
	relabeled := proto.CloneOf(req)
	relabeled.Sheet.Label = "another"
	_, err = s.builds.CreateBuild(w.ben, relabeled)
	fails(t, err, codes.InvalidArgument, "REQUEST_ID_REUSED")
	_, err = s.builds.CreateBuild(w.ben, &pb.CreateBuildRequest{RequestId: id(), BuildId: "b-1", Sheet: want})
	fails(t, err, codes.AlreadyExists, "ALREADY_EXISTS", resource("build", "builds/b-1"))
}

func TestCreateBuildNamesEveryMistake(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	_, err := s.builds.CreateBuild(w.ben, &pb.CreateBuildRequest{BuildId: "B 1"})
	badFields(t, err, "request_id", "MALFORMED_REQUEST_ID", "build_id", "MALFORMED_ID", "sheet", "MISSING")
	_, err = s.builds.CreateBuild(w.ben, &pb.CreateBuildRequest{RequestId: id(), BuildId: "b-1", Sheet: &pb.Sheet{}})
	badFields(t, err, "sheet.parts", "MISSING")
	_, err = s.builds.CreateBuild(w.ben, &pb.CreateBuildRequest{RequestId: id(), BuildId: "b-1", Sheet: &pb.Sheet{Parts: []*pb.Part{
		{Role: "frame", Material: "steel"},
		{Role: "freehub-body", Material: "wood", Attributes: map[string]string{"length": "long"}},
		{Role: "cassette", Material: "steel", Printed: []*pb.PrintedFigure{{Joint: "cassette-lockring-m30-6x1", Marking: "much",
			Seen: pb.Confidence_CONFIDENCE_PRINTED, Where: "flank"}}},
	}}})
	badFields(t, err, "sheet.parts[1].material", "UNKNOWN_MATERIAL", "sheet.parts[1].attributes.length", "MALFORMED_LENGTH",
		"sheet.parts[2].printed[0].marking", "MALFORMED_MARKING")
	_, err = s.builds.CreateBuild(w.ben, &pb.CreateBuildRequest{RequestId: id(), BuildId: "b-1", Sheet: &pb.Sheet{Parts: []*pb.Part{
		{Role: "cassette", Material: "steel", Printed: []*pb.PrintedFigure{{Joint: "x", Marking: "5 Nm", Where: "flank"}}}}}})
	badFields(t, err, "sheet.parts[0].printed[0].seen", "MISSING")
	_, err = s.builds.GetBuild(w.ben, &pb.GetBuildRequest{Name: "builds/b-1"})
	notFound(t, err, "build", "builds/b-1")
	_, err = s.builds.UpdateSheet(w.ben, &pb.UpdateSheetRequest{RequestId: id(), Build: "builds/b-1", Sheet: sheet(t, "b-02.yaml"), Etag: "v1"})
	notFound(t, err, "build", "builds/b-1")
}

func TestListBuildsInPages(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	want := []string{"builds/b-1", "builds/b-2", "builds/b-3"}
	for _, name := range want {
		s.bike(w.ben, name[len("builds/"):], "b-02.yaml")
	}
	var got []string
	req := &pb.ListBuildsRequest{PageSize: 2}
	for {
		page, err := s.builds.ListBuilds(w.ben, req)
		require.NoError(t, err)
		for _, b := range page.GetBuilds() {
			got = append(got, b.GetName())
		}
		if req.PageToken = page.GetNextPageToken(); req.GetPageToken() == "" {
			break
		}
	}
	require.Equal(t, want, got)
}

func TestPreviewPlan(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	s.bike(w.ben, "b-1", "b-02.yaml")
	stored, err := s.builds.PreviewPlan(w.ben, &pb.PreviewPlanRequest{Bike: &pb.PreviewPlanRequest_Build{Build: "builds/b-1"}, Procedure: "procedures/cassette-splined-body"})
	require.NoError(t, err)
	require.False(t, stored.GetPlan().GetBlocked(), "%v", stored.GetPlan().GetFindings())
	require.Equal(t, "builds/b-1", stored.GetPlan().GetBuild())
	require.Len(t, stored.GetPlan().GetDigest(), 64)

	sent, err := s.builds.PreviewPlan(w.ben, &pb.PreviewPlanRequest{Bike: &pb.PreviewPlanRequest_Sheet{Sheet: sheet(t, "b-02.yaml")},
		Procedure: "procedures/cassette-splined-body", Tools: []*pb.Tool{named("tools/mine", wrench())}})
	require.NoError(t, err)
	require.Empty(t, sent.GetPlan().GetBuild())
	for _, step := range sent.GetPlan().GetSteps() {
		for _, c := range step.GetTorque().GetChoices() {
			require.Equal(t, "tools/mine", c.GetTool())
		}
	}

	alone := sheet(t, "b-02.yaml")
	alone.Parts = alone.GetParts()[:1]
	blocked, err := s.builds.PreviewPlan(w.ben, &pb.PreviewPlanRequest{Bike: &pb.PreviewPlanRequest_Sheet{Sheet: alone}, Procedure: "procedures/cassette-splined-body"})
	require.NoError(t, err)
	require.True(t, blocked.GetPlan().GetBlocked())
}

func named(name string, t *pb.Tool) *pb.Tool {
	t.Name = name
	return t
}

func TestPreviewPlanRefuses(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	_, err := s.builds.PreviewPlan(w.ben, &pb.PreviewPlanRequest{})
	badFields(t, err, "bike", "MISSING", "procedure", "MALFORMED_NAME")
	_, err = s.builds.PreviewPlan(w.ben, &pb.PreviewPlanRequest{Bike: &pb.PreviewPlanRequest_Build{Build: "builds/b-9"}, Procedure: "procedures/pedals"})
	notFound(t, err, "build", "builds/b-9")
	_, err = s.builds.PreviewPlan(w.ben, &pb.PreviewPlanRequest{Bike: &pb.PreviewPlanRequest_Build{Build: "builds/b-9"}, Procedure: "procedures/nothing"})
	notFound(t, err, "procedure", "procedures/nothing")
	_, err = s.builds.PreviewPlan(w.ben, &pb.PreviewPlanRequest{Bike: &pb.PreviewPlanRequest_Sheet{Sheet: sheet(t, "b-02.yaml")},
		Procedure: "procedures/pedals", Tools: []*pb.Tool{named("tools/a", wrench()), named("tools/a", wrench())}})
	badFields(t, err, "tools[1].name", "DUPLICATE_ID")
}

// Every torque that a plan shows is finite and survives the way over the wire.
func TestPlannedTorquesAreFinite(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	r, err := s.builds.PreviewPlan(w.ben, &pb.PreviewPlanRequest{Bike: &pb.PreviewPlanRequest_Sheet{Sheet: sheet(t, "b-04.yaml")}, Procedure: "procedures/crank-two-pinch-bolts"})
	require.NoError(t, err)
	seen := 0
	for _, step := range r.GetPlan().GetSteps() {
		for _, x := range []*pb.Torque{step.GetTorque().GetAim(), step.GetTorque().GetWindow().GetMin(), step.GetTorque().GetWindow().GetMax()} {
			require.False(t, math.IsNaN(x.GetNewtonMeters()) || math.IsInf(x.GetNewtonMeters(), 0))
			seen += int(min(1, x.GetNewtonMeters()))
		}
	}
	require.Positive(t, seen)
}
