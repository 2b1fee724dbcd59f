package server

import (
	"fmt"
	"time"

	"google.golang.org/protobuf/types/known/timestamppb"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque"
)

// Bounds of a tool, so that a record stays readable.
const (
	mostCalibrations = 100
	mostAbsences     = 1000
	mostShownSigns   = 200
)

// toolFields are the fields of a tool that the API calls otherwise than the
// domain does.
var toolFields = map[string]string{"id": "name", "at": "time", "due": "due_time"}

// toolFromProto reads a tool with its calibrations. Whether it makes sense is
// for Tool.Check.
func (f *fields) toolFromProto(path, id string, w *pb.Tool) procedure.Tool {
	if w == nil {
		f.add(path, "missing", "this field is required")
		return procedure.Tool{}
	}
	unit, err := torque.ParseUCUM(w.GetUnit())
	f.take(joinPath(path, "unit"), err)
	f.line(joinPath(path, "label"), w.GetLabel(), false, mostShownSigns)
	if len(w.GetCalibrations()) > mostCalibrations {
		f.add(joinPath(path, "calibrations"), "too-many", "at most %d", mostCalibrations)
	}
	t := procedure.Tool{
		ID: id, Label: w.GetLabel(), Kind: f.toolKind(joinPath(path, "kind"), w.GetKind()), Unit: unit,
		Min: w.GetMin(), Max: w.GetMax(), Graduation: w.GetGraduation(),
	}
	for i, c := range w.GetCalibrations() {
		t.Calibrations = append(t.Calibrations, f.calibration(fmt.Sprintf("%s[%d]", joinPath(path, "calibrations"), i), c))
	}
	t.Away = f.absences(joinPath(path, "absences"), w.GetAbsences())
	return t
}

// checkTool adds what the domain says of a tool, where nothing is wrong yet.
func (f *fields) checkTool(path string, t *procedure.Tool) {
	if len(f.errs) == 0 {
		f.take(path, repath("", toolFields, t.Check()))
	}
}

func (f *fields) calibration(path string, w *pb.Calibration) procedure.Calibration {
	if w == nil {
		f.add(path, "missing", "this field is required")
		return procedure.Calibration{}
	}
	if id := w.GetCalibrationId(); id != "" {
		f.id(joinPath(path, "calibration_id"), id)
	}
	f.line(joinPath(path, "certificate"), w.GetCertificate(), false, mostShownSigns)
	c := procedure.Calibration{
		ID: w.GetCalibrationId(), At: f.time(joinPath(path, "time"), w.GetTime(), true),
		Due:     f.time(joinPath(path, "due_time"), w.GetDueTime(), true),
		AsFound: w.GetAsFound(), AsLeft: w.GetAsLeft(),
		DeviationPercent: w.GetDeviationPercent(), Certificate: w.GetCertificate(),
	}
	for i, h := range w.GetHands() {
		c.Hands = append(c.Hands, f.hand(fmt.Sprintf("%s[%d]", joinPath(path, "hands"), i), h))
	}
	return c
}

func (f *fields) absences(path string, all []*pb.Absence) []procedure.Absence {
	if len(all) > mostAbsences {
		f.add(path, "too-many", "at most %d", mostAbsences)
		return nil
	}
	var out []procedure.Absence
	for i, w := range all {
		at := fmt.Sprintf("%s[%d]", path, i)
		a := procedure.Absence{
			From: f.time(joinPath(at, "start_time"), w.GetStartTime(), true),
			To:   f.time(joinPath(at, "end_time"), w.GetEndTime(), false),
		}
		if !a.To.IsZero() && !a.To.After(a.From) {
			f.add(joinPath(at, "end_time"), "reversed-range", "the absence ends after it begins")
		}
		out = append(out, a)
	}
	return out
}

func toolToProto(t *procedure.Tool, version int64) *pb.Tool {
	w := &pb.Tool{
		Name: toolName(t.ID), Label: t.Label, Kind: toolKindToProto(t.Kind), Unit: t.Unit.UCUM(),
		Min: t.Min, Max: t.Max, Graduation: t.Graduation, Etag: etagOf(version),
	}
	for _, c := range t.Calibrations {
		w.Calibrations = append(w.Calibrations, calibrationToProto(c))
	}
	for _, q := range t.Quarantines {
		w.Quarantines = append(w.Quarantines, &pb.Quarantine{
			StartTime: timeToProto(q.From), EndTime: timeToProto(q.To), Reason: q.Reason})
	}
	for _, a := range t.Away {
		w.Absences = append(w.Absences, &pb.Absence{StartTime: timeToProto(a.From), EndTime: timeToProto(a.To)})
	}
	return w
}

func calibrationToProto(c procedure.Calibration) *pb.Calibration {
	w := &pb.Calibration{
		CalibrationId: c.ID, Time: timeToProto(c.At), DueTime: timeToProto(c.Due),
		AsFound: c.AsFound, AsLeft: c.AsLeft, DeviationPercent: c.DeviationPercent, Certificate: c.Certificate,
	}
	for _, h := range c.Hands {
		w.Hands = append(w.Hands, handToProto(h))
	}
	return w
}

// timeToProto leaves the zero time out.
func timeToProto(t time.Time) *timestamppb.Timestamp {
	if t.IsZero() {
		return nil
	}
	return timestamppb.New(t)
}
