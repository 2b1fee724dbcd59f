package server_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/types/known/timestamppb"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque/joint"
)

// The tests read the files of the invented week and send them as a client
// would.

func week(name string) string { return filepath.Join("..", "testdata", "week", name) }

func rack(t testing.TB) []procedure.Tool {
	t.Helper()
	tools, err := procedure.ReadTools("tools.yaml", readFile(t, week("tools.yaml")))
	require.NoError(t, err)
	return tools
}

func toolOf(t procedure.Tool) *pb.Tool {
	out := &pb.Tool{Label: t.Label, Kind: pb.ToolKind(t.Kind), Unit: t.Unit.UCUM(), Min: t.Min, Max: t.Max, Graduation: t.Graduation}
	for _, c := range t.Calibrations {
		out.Calibrations = append(out.Calibrations, calibrationOf(c))
	}
	for _, a := range t.Away {
		w := &pb.Absence{StartTime: timestamppb.New(a.From)}
		if !a.To.IsZero() {
			w.EndTime = timestamppb.New(a.To)
		}
		out.Absences = append(out.Absences, w)
	}
	return out
}

func calibrationOf(c procedure.Calibration) *pb.Calibration {
	out := &pb.Calibration{CalibrationId: c.ID, Time: timestamppb.New(c.At), DueTime: timestamppb.New(c.Due),
		AsFound: c.AsFound, AsLeft: c.AsLeft, DeviationPercent: c.DeviationPercent, Certificate: c.Certificate}
	for _, h := range c.Hands {
		out.Hands = append(out.Hands, map[joint.Hand]pb.Hand{joint.RightHand: pb.Hand_HAND_RIGHT, joint.LeftHand: pb.Hand_HAND_LEFT}[h])
	}
	return out
}

func sheet(t testing.TB, file string) *pb.Sheet {
	t.Helper()
	_, vocabulary := loaded()
	s, err := procedure.ReadSheet(file, readFile(t, week(filepath.Join("bikes", file))), vocabulary)
	require.NoError(t, err)
	out := &pb.Sheet{Label: s.Label, Invented: s.Invented}
	for _, p := range s.Parts {
		out.Parts = append(out.Parts, partOf(p))
	}
	return out
}

func partOf(p procedure.Part) *pb.Part {
	w := &pb.Part{Role: p.Role, Material: p.Material, Attributes: p.Is}
	for _, f := range p.Printed {
		w.Printed = append(w.Printed, &pb.PrintedFigure{Joint: f.Joint, Marking: f.Marking, Seen: pb.Confidence(f.Seen), Where: f.Where})
	}
	return w
}
