package main

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/png"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/script"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque"
)

// command words a command for the wire.
func (w *wireBench) command(ctx context.Context, at script.Hand, r script.Request) (*pb.Command, error) {
	switch c := r.Command.(type) {
	case procedure.TakeReading:
		return &pb.Command{Action: &pb.Command_TakeReading{TakeReading: &pb.TakeReading{Job: jobOf(at, c.Job), Step: c.Step, Bolt: c.Bolt,
			Figure: wireFigure(c.Figure), Tool: "tools/" + c.Tool, Turned: c.Turned, AngleDeg: c.AngleDeg}}}, nil
	case procedure.TakeMeasure:
		return &pb.Command{Action: &pb.Command_TakeMeasure{TakeMeasure: &pb.TakeMeasure{Job: jobOf(at, c.Job), Step: c.Step, Check: c.Check,
			Value: c.Value, Unit: c.Unit, Instrument: c.Instrument}}}, nil
	case procedure.TakeLook:
		return &pb.Command{Action: &pb.Command_TakeLook{TakeLook: &pb.TakeLook{Job: jobOf(at, c.Job), Step: c.Step, Check: c.Check, Ok: c.OK}}}, nil
	case procedure.TakePhoto:
		picture, err := w.picture(ctx, at)
		if err != nil {
			return nil, err
		}
		return &pb.Command{Action: &pb.Command_TakePhoto{TakePhoto: &pb.TakePhoto{Job: jobOf(at, c.Job), Step: c.Step, Check: c.Check, Picture: picture}}}, nil
	case procedure.DoPrep:
		return &pb.Command{Action: &pb.Command_DoPrep{DoPrep: wirePrep(at, c)}}, nil
	case procedure.BeginRework:
		return &pb.Command{Action: &pb.Command_BeginRework{BeginRework: &pb.BeginRework{Job: jobOf(at, c.Job), Step: c.Step, BackTo: c.From, Reason: r.Note}}}, nil
	case procedure.SignHold:
		return &pb.Command{Action: &pb.Command_SignHold{SignHold: &pb.SignHold{Job: jobOf(at, c.Job), Step: c.Step, Saw: r.Note}}}, nil
	}
	return w.correction(ctx, at, r)
}

// correction words the commands that speak of what is recorded already.
func (w *wireBench) correction(ctx context.Context, at script.Hand, r script.Request) (*pb.Command, error) {
	switch c := r.Command.(type) {
	case procedure.AcceptResult:
		return &pb.Command{Action: &pb.Command_AcceptResult{AcceptResult: &pb.AcceptResult{Entry: entryOf(at, c.Entry), Reason: r.Note}}}, nil
	case procedure.AcceptFigure:
		window, err := w.fromMemory(ctx, at, c.Joint)
		return &pb.Command{Action: &pb.Command_AcceptFigure{AcceptFigure: &pb.AcceptFigure{Joint: c.Joint, Window: window, Reason: r.Note}}}, err
	case procedure.WithdrawEntry:
		causes := map[string]pb.WithdrawEntry_Cause{procedure.CauseMisTap: pb.WithdrawEntry_CAUSE_MIS_TAP,
			procedure.CauseWrongBike: pb.WithdrawEntry_CAUSE_WRONG_BIKE, procedure.CauseDoubtful: pb.WithdrawEntry_CAUSE_DOUBTFUL}
		return &pb.Command{Action: &pb.Command_WithdrawEntry{WithdrawEntry: &pb.WithdrawEntry{Entry: entryOf(at, c.Entry), Cause: causes[c.Cause], Reason: r.Note}}}, nil
	case procedure.CorrectTool:
		return &pb.Command{Action: &pb.Command_CorrectTool{CorrectTool: &pb.CorrectTool{Entry: entryOf(at, c.Entry), Tool: "tools/" + c.Tool, Reason: r.Note}}}, nil
	case procedure.FinishJob:
		return &pb.Command{Action: &pb.Command_FinishJob{FinishJob: &pb.FinishJob{Job: jobOf(at, c.Job)}}}, nil
	case procedure.AbandonJob:
		return &pb.Command{Action: &pb.Command_AbandonJob{AbandonJob: &pb.AbandonJob{Job: jobOf(at, c.Job), Reason: r.Note}}}, nil
	case procedure.ReleaseBuild:
		return &pb.Command{Action: &pb.Command_ReleaseBuild{ReleaseBuild: &pb.ReleaseBuild{}}}, nil
	}
	return nil, fmt.Errorf("command %T has no place in a script", r.Command)
}

// fromMemory asks the plans of the build for the window of a joint.
func (w *wireBench) fromMemory(ctx context.Context, at script.Hand, joint string) (*pb.Window, error) {
	list, err := w.procedures.ListProcedures(ctx, &pb.ListProceduresRequest{PageSize: 100})
	if err != nil {
		return nil, err
	}
	for _, p := range list.Procedures {
		r, err := w.builds.PreviewPlan(ctx, &pb.PreviewPlanRequest{Bike: &pb.PreviewPlanRequest_Build{Build: "builds/" + at.Build}, Procedure: p.Name})
		if err != nil {
			return nil, err
		}
		for _, s := range r.Plan.Steps {
			if t := s.Torque; t != nil && t.Joint == joint && t.Window != nil {
				return t.Window, nil
			}
		}
	}
	return nil, fmt.Errorf("no plan of build %s has the joint %s", at.Build, joint)
}

func wirePrep(at script.Hand, c procedure.DoPrep) *pb.DoPrep {
	out := &pb.DoPrep{Job: jobOf(at, c.Job), Step: c.Step, Thread: pb.Prep(c.Thread), Face: pb.Prep(c.Face), Batch: c.Batch, Metal: c.Metal}
	if c.Celsius != nil {
		degrees := int32(*c.Celsius)
		out.Celsius = &degrees
	}
	return out
}

func wireFigure(f torque.Figure) *pb.Figure {
	return &pb.Figure{Digits: f.Digits(), Unit: f.Unit().UCUM()}
}

// picture uploads a small plain picture: the demonstration has no camera.
func (w *wireBench) picture(ctx context.Context, at script.Hand) (string, error) {
	img := image.NewGray(image.Rect(0, 0, 8, 8))
	img.SetGray(3, 3, color.Gray{Y: uint8(w.seq)})
	var content bytes.Buffer
	if err := png.Encode(&content, img); err != nil {
		return "", fmt.Errorf("encode picture: %w", err)
	}
	r, err := w.bench.AddPicture(ctx, &pb.AddPictureRequest{RequestId: newRequestID(), Build: "builds/" + at.Build,
		MediaType: "image/png", Content: content.Bytes()})
	if err != nil {
		return "", err
	}
	return r.Attachment.Name, nil
}
