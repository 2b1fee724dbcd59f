package server_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/fieldmaskpb"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// wrench is a tool that nothing is wrong with.
func wrench() *pb.Tool {
	return &pb.Tool{Label: "invented wrench", Kind: pb.ToolKind_TOOL_KIND_SETTING, Unit: "N.m", Min: "2", Max: "14", Graduation: "0.1",
		Calibrations: []*pb.Calibration{{CalibrationId: "c-1", Time: timestamppb.New(opening.AddDate(0, -1, 0)),
			DueTime: timestamppb.New(opening.AddDate(0, 11, 0)), Hands: []pb.Hand{pb.Hand_HAND_RIGHT}, AsFound: "1.004", AsLeft: "1.001"}}}
}

func TestToolLife(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	created, err := s.tools.CreateTool(w.sam, &pb.CreateToolRequest{RequestId: id(), ToolId: "tw-90", Tool: wrench()})
	require.NoError(t, err)
	want := wrench()
	want.Name, want.Etag = "tools/tw-90", "v1"
	equal(t, want, created.GetTool())

	updated, err := s.tools.UpdateTool(w.sam, &pb.UpdateToolRequest{RequestId: id(), UpdateMask: &fieldmaskpb.FieldMask{Paths: []string{"label", "max"}},
		Tool: &pb.Tool{Name: "tools/tw-90", Etag: "v1", Label: "invented wrench, bay 4", Max: "20"}})
	require.NoError(t, err)
	want.Label, want.Max, want.Etag = "invented wrench, bay 4", "20", "v2"
	equal(t, want, updated.GetTool())

	more := &pb.Calibration{CalibrationId: "c-2", Time: timestamppb.New(opening), DueTime: timestamppb.New(opening.AddDate(1, 0, 0)),
		Hands: []pb.Hand{pb.Hand_HAND_RIGHT, pb.Hand_HAND_LEFT}, DeviationPercent: "3"}
	calibrated, err := s.tools.AddCalibration(w.sam, &pb.AddCalibrationRequest{RequestId: id(), Tool: "tools/tw-90", Calibration: more})
	require.NoError(t, err)
	want.Calibrations, want.Etag = append(want.Calibrations, more), "v3"
	equal(t, want, calibrated.GetTool())

	aside, err := s.tools.QuarantineTool(w.ben, &pb.QuarantineToolRequest{RequestId: id(), Tool: "tools/tw-90", Reason: "fell off the stand"})
	require.NoError(t, err)
	want.Quarantines, want.Etag = []*pb.Quarantine{{StartTime: timestamppb.New(opening), Reason: "fell off the stand"}}, "v4"
	equal(t, want, aside.GetTool())
	_, err = s.tools.QuarantineTool(w.ben, &pb.QuarantineToolRequest{RequestId: id(), Tool: "tools/tw-90", Reason: "again"})
	fails(t, err, codes.FailedPrecondition, "TOOL_STATE", broke("tool-state", "tools/tw-90"))

	s.clock.advance(time.Hour)
	_, err = s.tools.ReturnTool(w.sam, &pb.ReturnToolRequest{RequestId: id(), Tool: "tools/tw-90"})
	fails(t, err, codes.PermissionDenied, "RANK_TOO_LOW")
	back, err := s.tools.ReturnTool(w.fay, &pb.ReturnToolRequest{RequestId: id(), Tool: "tools/tw-90"})
	require.NoError(t, err)
	want.Quarantines[0].EndTime, want.Etag = timestamppb.New(opening.Add(time.Hour)), "v5"
	equal(t, want, back.GetTool())
	_, err = s.tools.ReturnTool(w.fay, &pb.ReturnToolRequest{RequestId: id(), Tool: "tools/tw-90"})
	fails(t, err, codes.FailedPrecondition, "TOOL_STATE", broke("tool-state", "tools/tw-90"))

	got, err := s.tools.GetTool(w.ben, &pb.GetToolRequest{Name: "tools/tw-90"})
	require.NoError(t, err)
	equal(t, want, got.GetTool())
}

func TestCreateToolRefuses(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	with := func(edit func(*pb.Tool)) *pb.Tool {
		x := wrench()
		edit(x)
		return x
	}
	for _, tt := range []struct {
		name string
		id   string
		tool *pb.Tool
		want []string
	}{
		{"no tool", "tw-90", nil, []string{"tool", "MISSING"}},
		{"an id of another form", "TW 90", wrench(), []string{"tool_id", "MALFORMED_ID"}},
		{"no kind", "tw-90", with(func(x *pb.Tool) { x.Kind = 0 }), []string{"tool.kind", "MISSING"}},
		{"a kind that is none", "tw-90", with(func(x *pb.Tool) { x.Kind = 7 }), []string{"tool.kind", "UNKNOWN_VALUE"}},
		{"a unit that is none", "tw-90", with(func(x *pb.Tool) { x.Unit = "Nm" }), []string{"tool.unit", "MALFORMED"}},
		{"a scale turned round", "tw-90", with(func(x *pb.Tool) { x.Min = "30" }), []string{"tool.max", "REVERSED_RANGE"}},
		{"figures that are none", "tw-90", with(func(x *pb.Tool) { x.Min, x.Max = "two", "NaN" }), []string{"tool.min", "MALFORMED", "tool.max", "MALFORMED"}},
		{"a calibration without time", "tw-90", with(func(x *pb.Tool) { x.Calibrations[0].Time = nil }), []string{"tool.calibrations[0].time", "MISSING"}},
		{"a calibration due before it was made", "tw-90", with(func(x *pb.Tool) { x.Calibrations[0].DueTime = x.Calibrations[0].Time }),
			[]string{"tool.calibrations[0].due_time", "REVERSED_RANGE"}},
		{"a direction that is none", "tw-90", with(func(x *pb.Tool) { x.Calibrations[0].Hands[0] = 3 }), []string{"tool.calibrations[0].hands[0]", "UNKNOWN_VALUE"}},
		{"a label too long", "tw-90", with(func(x *pb.Tool) { x.Label = strings.Repeat("w", 201) }), []string{"tool.label", "TOO_LONG"}},
		{"a quarantine", "tw-90", with(func(x *pb.Tool) { x.Quarantines = []*pb.Quarantine{{}} }), []string{"tool.quarantines", "NOT_HERE"}},
		{"an absence that ends before it begins", "tw-90", with(func(x *pb.Tool) {
			x.Absences = []*pb.Absence{{StartTime: timestamppb.New(opening), EndTime: timestamppb.New(opening)}}
		}), []string{"tool.absences[0].end_time", "REVERSED_RANGE"}},
		{"a time that is none", "tw-90", with(func(x *pb.Tool) { x.Calibrations[0].Time = &timestamppb.Timestamp{Nanos: -1} }),
			[]string{"tool.calibrations[0].time", "OUT_OF_RANGE"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := s.tools.CreateTool(w.sam, &pb.CreateToolRequest{RequestId: id(), ToolId: tt.id, Tool: tt.tool})
			badFields(t, err, tt.want...)
		})
	}
	_, err := s.tools.CreateTool(w.sam, &pb.CreateToolRequest{RequestId: id(), ToolId: "tw-01", Tool: wrench()})
	fails(t, err, codes.AlreadyExists, "ALREADY_EXISTS", resource("tool", "tools/tw-01"))
	_, err = s.tools.CreateTool(w.ben, &pb.CreateToolRequest{RequestId: id(), ToolId: "tw-90", Tool: wrench()})
	fails(t, err, codes.PermissionDenied, "RANK_TOO_LOW")
}

func TestToolChangesRefuse(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	_, err := s.tools.GetTool(w.ben, &pb.GetToolRequest{Name: "tools/tw-99"})
	notFound(t, err, "tool", "tools/tw-99")
	_, err = s.tools.GetTool(w.ben, &pb.GetToolRequest{Name: "tw-99"})
	badFields(t, err, "name", "MALFORMED_NAME")
	_, err = s.tools.UpdateTool(w.sam, &pb.UpdateToolRequest{RequestId: id(), Tool: &pb.Tool{Name: "tools/tw-01"},
		UpdateMask: &fieldmaskpb.FieldMask{Paths: []string{"label"}}})
	badFields(t, err, "tool.etag", "MISSING")
	_, err = s.tools.UpdateTool(w.sam, &pb.UpdateToolRequest{RequestId: id(), Tool: &pb.Tool{Name: "tools/tw-01", Etag: "v9", Label: "x"},
		UpdateMask: &fieldmaskpb.FieldMask{Paths: []string{"label"}}})
	fails(t, err, codes.Aborted, "ETAG_MISMATCH", resource("", "tools/tw-01"))
	_, err = s.tools.UpdateTool(w.sam, &pb.UpdateToolRequest{RequestId: id(), Tool: &pb.Tool{Name: "tools/tw-01", Etag: "v1", Max: "1"},
		UpdateMask: &fieldmaskpb.FieldMask{Paths: []string{"max"}}})
	badFields(t, err, "tool.max", "REVERSED_RANGE")
	_, err = s.tools.AddCalibration(w.sam, &pb.AddCalibrationRequest{RequestId: id(), Tool: "tools/tw-01", Calibration: &pb.Calibration{
		Time: timestamppb.New(opening), DueTime: timestamppb.New(opening), AsFound: "-1"}})
	badFields(t, err, "calibration.due_time", "REVERSED_RANGE", "calibration.hands", "MISSING", "calibration.as_found", "MALFORMED")
	_, err = s.tools.QuarantineTool(w.ben, &pb.QuarantineToolRequest{RequestId: id(), Tool: "tools/tw-01"})
	badFields(t, err, "reason", "MISSING")
}

func TestToolChangeOnceForARequest(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	req := &pb.QuarantineToolRequest{RequestId: id(), Tool: "tools/tw-01", Reason: "fell off the stand"}
	first, err := s.tools.QuarantineTool(w.ben, req)
	require.NoError(t, err)
	_, err = s.tools.ReturnTool(w.fay, &pb.ReturnToolRequest{RequestId: id(), Tool: "tools/tw-01"})
	require.NoError(t, err)
	again, err := s.tools.QuarantineTool(w.ben, req)
	require.NoError(t, err)
	equal(t, first, again) // as it was then, not as it is now

	other := proto.CloneOf(req)
	other.Reason = "was lent out"
	_, err = s.tools.QuarantineTool(w.ben, other)
	fails(t, err, codes.InvalidArgument, "REQUEST_ID_REUSED")
	_, err = s.tools.QuarantineTool(w.sam, req) // another person's request
	fails(t, err, codes.InvalidArgument, "REQUEST_ID_REUSED")
}

func TestListToolsInPages(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	var names []string
	req := &pb.ListToolsRequest{PageSize: 4}
	for {
		page, err := s.tools.ListTools(w.ben, req)
		require.NoError(t, err)
		for _, x := range page.GetTools() {
			names = append(names, x.GetName())
		}
		if req.PageToken = page.GetNextPageToken(); req.GetPageToken() == "" {
			break
		}
	}
	require.Len(t, names, len(rack(t)))
	require.IsIncreasing(t, names)
}
