package server

import (
	"time"

	"google.golang.org/protobuf/types/known/durationpb"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque"
)

// mostDuration bounds what is sent as a duration.
const mostDuration = 10 * 365 * 24 * time.Hour

func (f *fields) figure(path string, w *pb.Figure) torque.Figure {
	if w == nil {
		f.add(path, "missing", "this field is required")
		return torque.Figure{}
	}
	unit, err := torque.ParseUCUM(w.GetUnit())
	if err != nil {
		f.add(joinPath(path, "unit"), "unknown-unit", "%s", err)
		return torque.Figure{}
	}
	figure, err := torque.ParseFigure(w.GetDigits(), unit)
	if err != nil {
		f.add(joinPath(path, "digits"), "malformed-figure", "write plain decimal digits such as 5.0, not %q", clip(w.GetDigits()))
	}
	return figure
}

func (f *fields) torque(path string, w *pb.Torque) torque.Torque {
	t, err := torque.FromNewtonMeters(w.GetNewtonMeters())
	if err != nil {
		f.add(joinPath(path, "newton_meters"), "out-of-range", "%s", err)
	}
	return t
}

// window reads a window that must state a limit.
func (f *fields) window(path string, w *pb.Window) torque.Window {
	if w.GetMin() == nil && w.GetMax() == nil {
		f.add(path, "missing", "state a minimum, a maximum or both")
		return torque.Window{}
	}
	before := len(f.errs)
	low, high := f.torque(joinPath(path, "min"), w.GetMin()), f.torque(joinPath(path, "max"), w.GetMax())
	nominal := f.torque(joinPath(path, "nominal"), w.GetNominal())
	if len(f.errs) > before {
		return torque.Window{}
	}
	var out torque.Window
	var err error
	switch {
	case w.GetMin() == nil:
		out, err = torque.AtMost(high)
	case w.GetMax() == nil:
		out, err = torque.AtLeast(low)
	default:
		out, err = torque.NewWindow(low, high)
	}
	if err == nil && w.GetNominal() != nil {
		out, err = out.WithNominal(nominal)
	}
	if err != nil {
		f.add(path, "malformed-window", "%s", err)
	}
	return out
}

func torqueToProto(t torque.Torque) *pb.Torque { return &pb.Torque{NewtonMeters: t.NewtonMeters()} }

func figureToProto(f torque.Figure) *pb.Figure {
	if f.IsZero() {
		return nil
	}
	return &pb.Figure{Digits: f.Digits(), Unit: f.Unit().UCUM()}
}

func windowToProto(w torque.Window) *pb.Window {
	if w.IsZero() {
		return nil
	}
	out := &pb.Window{}
	if t, ok := w.Min(); ok {
		out.Min = torqueToProto(t)
	}
	if t, ok := w.Max(); ok {
		out.Max = torqueToProto(t)
	}
	if t, ok := w.Nominal(); ok {
		out.Nominal = torqueToProto(t)
	}
	return out
}

// time reads a point in time, in whole microseconds.
func (f *fields) time(path string, w *timestamppb.Timestamp, required bool) time.Time {
	if w == nil {
		if required {
			f.add(path, "missing", "this field is required")
		}
		return time.Time{}
	}
	if err := w.CheckValid(); err != nil {
		f.add(path, "out-of-range", "a time lies between the years 1 and 9999")
		return time.Time{}
	}
	return w.AsTime().Truncate(time.Microsecond)
}

// duration reads a duration of at most mostDuration; where signed, either way.
func (f *fields) duration(path string, w *durationpb.Duration, signed bool) time.Duration {
	if w == nil {
		return 0
	}
	d := w.AsDuration()
	switch {
	case w.CheckValid() != nil || d > mostDuration || d < -mostDuration:
		f.add(path, "out-of-range", "a duration is at most 10 years")
	case !signed && d < 0:
		f.add(path, "out-of-range", "this duration cannot be negative")
	}
	return d
}
