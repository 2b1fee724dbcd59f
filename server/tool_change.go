package server

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// CreateTool adds a tool.
func (s toolService) CreateTool(ctx context.Context, req *pb.CreateToolRequest) (*pb.CreateToolResponse, error) {
	f := mutating(req)
	f.id("tool_id", req.GetToolId())
	t := f.toolFromProto("tool", req.GetToolId(), req.GetTool())
	if len(req.GetTool().GetQuarantines()) > 0 {
		f.add("tool.quarantines", "not-here", "set the tool aside with QuarantineTool after it was added")
	}
	f.checkTool("tool", &t)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.CreateToolResponse{}
	err := s.mutate(ctx, req, toolChange(req, &resp.Tool, func(tx store.Tx, at time.Time) (answer, error) {
		by, err := s.actor(ctx, tx)
		if err != nil {
			return answer{}, err
		}
		if _, err := tx.Document(kindTool, t.ID); err == nil {
			return answer{}, &takenError{kind: "tool", name: toolName(t.ID)}
		} else if !isMissing(err) {
			return answer{}, err
		}
		return s.putTool(tx, at, req, by.Person, &t, 0)
	}))
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// UpdateTool changes what is known about a tool.
func (s toolService) UpdateTool(ctx context.Context, req *pb.UpdateToolRequest) (*pb.UpdateToolResponse, error) {
	f := mutating(req)
	id, err := parseID(tools, req.GetTool().GetName())
	f.take("tool.name", err)
	expected := f.etag("tool.etag", req.GetTool().GetEtag())
	mask := f.mask(req.GetUpdateMask(), "label", "kind", "unit", "min", "max", "graduation", "absences")
	edit := f.toolEdit(mask, req.GetTool())
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.UpdateToolResponse{}
	err = s.mutate(ctx, req, toolChange(req, &resp.Tool, func(tx store.Tx, at time.Time) (answer, error) {
		return s.changeTool(ctx, tx, at, req, id, expected, edit)
	}))
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// toolEdit reads the fields of the mask, and only those.
func (f *fields) toolEdit(mask map[string]bool, w *pb.Tool) func(*procedure.Tool) error {
	only := &pb.Tool{Label: w.GetLabel(), Kind: pb.ToolKind_TOOL_KIND_FIXED, Unit: "N.m", Absences: w.GetAbsences()}
	if mask["kind"] {
		only.Kind = w.GetKind()
	}
	if mask["unit"] {
		only.Unit = w.GetUnit()
	}
	read := f.toolFromProto("tool", "", only)
	return func(t *procedure.Tool) error {
		for name, set := range map[string]func(){
			"label":      func() { t.Label = read.Label },
			"kind":       func() { t.Kind = read.Kind },
			"unit":       func() { t.Unit = read.Unit },
			"min":        func() { t.Min = w.GetMin() },
			"max":        func() { t.Max = w.GetMax() },
			"graduation": func() { t.Graduation = w.GetGraduation() },
			"absences":   func() { t.Away = read.Away },
		} {
			if mask[name] {
				set()
			}
		}
		return nil
	}
}

// AddCalibration adds a calibration.
func (s toolService) AddCalibration(ctx context.Context, req *pb.AddCalibrationRequest) (*pb.AddCalibrationResponse, error) {
	f := mutating(req)
	id, err := parseID(tools, req.GetTool())
	f.take("tool", err)
	c := f.calibration("calibration", req.GetCalibration())
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.AddCalibrationResponse{}
	err = s.mutate(ctx, req, toolChange(req, &resp.Tool, func(tx store.Tx, at time.Time) (answer, error) {
		return s.changeTool(ctx, tx, at, req, id, 0, func(t *procedure.Tool) error {
			alone := *t
			alone.Calibrations = []procedure.Calibration{c}
			if err := calibrationError(alone.Check()); err != nil {
				return err
			}
			t.Calibrations = append(t.Calibrations, c)
			return nil
		})
	}))
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// QuarantineTool sets a tool aside from now on.
func (s toolService) QuarantineTool(ctx context.Context, req *pb.QuarantineToolRequest) (*pb.QuarantineToolResponse, error) {
	f := mutating(req)
	id, err := parseID(tools, req.GetTool())
	f.take("tool", err)
	f.line("reason", req.GetReason(), true, mostShownSigns)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.QuarantineToolResponse{}
	err = s.mutate(ctx, req, toolChange(req, &resp.Tool, func(tx store.Tx, at time.Time) (answer, error) {
		return s.changeTool(ctx, tx, at, req, id, 0, func(t *procedure.Tool) error {
			if openQuarantine(t) != nil {
				return toolState(t.ID, "tool %s is set aside already", t.ID)
			}
			t.Quarantines = append(t.Quarantines, procedure.Quarantine{From: at, Reason: req.GetReason()})
			return nil
		})
	}))
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// ReturnTool puts a tool back that was set aside.
func (s toolService) ReturnTool(ctx context.Context, req *pb.ReturnToolRequest) (*pb.ReturnToolResponse, error) {
	f := mutating(req)
	id, err := parseID(tools, req.GetTool())
	f.take("tool", err)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.ReturnToolResponse{}
	err = s.mutate(ctx, req, toolChange(req, &resp.Tool, func(tx store.Tx, at time.Time) (answer, error) {
		return s.changeTool(ctx, tx, at, req, id, 0, func(t *procedure.Tool) error {
			q := openQuarantine(t)
			if q == nil {
				return toolState(t.ID, "tool %s is not set aside", t.ID)
			}
			q.To = at
			return nil
		})
	}))
	if err != nil {
		return nil, err
	}
	return resp, nil
}

func openQuarantine(t *procedure.Tool) *procedure.Quarantine {
	for i := range t.Quarantines {
		if t.Quarantines[i].To.IsZero() {
			return &t.Quarantines[i]
		}
	}
	return nil
}

func toolState(id, format string, args ...any) error {
	return &stateError{reason: pb.ErrorReason_ERROR_REASON_TOOL_STATE, rule: "tool-state",
		subject: toolName(id), text: fmt.Sprintf(format, args...)}
}

// calibrationError gives what the domain says of the only calibration of a tool
// the paths that it has in AddCalibrationRequest.
func calibrationError(err error) error {
	var f fields
	for _, fe := range procedure.FieldErrors(repath("", toolFields, err)) {
		if name, ok := strings.CutPrefix(fe.Path, "calibrations[0]."); ok {
			f.add("calibration."+name, fe.Rule, "%s", fe.Text)
		}
	}
	return f.err()
}
