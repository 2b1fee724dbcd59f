package main

import (
	"context"
	"fmt"

	"google.golang.org/protobuf/types/known/fieldmaskpb"
	"google.golang.org/protobuf/types/known/timestamppb"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/script"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// Change implements script.Bench.
func (w *wireBench) Change(at script.Hand, c script.Change) error {
	w.set(at.Now)
	switch c := c.(type) {
	case script.UseCatalogue:
		return w.hall.catalogue(c.Catalogue)
	case script.CalibrateTool, script.QuarantineTool, script.ReturnTool:
		return w.changeTool(at, c)
	case script.UpdateSheet:
		return w.updateSheet(at, c)
	}
	ctx, err := w.office()
	if err != nil {
		return err
	}
	return w.setUp(ctx, c)
}

// setUp carries out what the first person of the workshop does.
func (w *wireBench) setUp(ctx context.Context, c script.Change) error {
	switch c := c.(type) {
	case script.Enrol:
		r, err := w.people.EnrolPerson(ctx, &pb.EnrolPersonRequest{RequestId: newRequestID(), DisplayName: c.Name, Rank: pb.Rank(c.Rank)})
		if err != nil {
			return err
		}
		w.persons[c.Name], w.names[r.GetPerson().GetName()] = r.GetPerson(), c.Name
		if w.first == "" {
			w.first = c.Name
		}
		return nil
	case script.ProveSkill:
		return w.prove(ctx, c)
	case script.AddTool:
		_, err := w.tools.CreateTool(ctx, &pb.CreateToolRequest{RequestId: newRequestID(), ToolId: c.Tool.ID, Tool: wireTool(c.Tool)})
		return err
	case script.AddBuild:
		_, err := w.builds.CreateBuild(ctx, &pb.CreateBuildRequest{RequestId: newRequestID(), BuildId: c.Build, Sheet: wireSheet(c.Sheet)})
		return err
	}
	return fmt.Errorf("change %T has no place in a script", c)
}

// prove adds a line to a register.
func (w *wireBench) prove(ctx context.Context, c script.ProveSkill) error {
	p, ok := w.persons[c.Person]
	if !ok {
		return fmt.Errorf("person %s: %w", c.Person, procedure.ErrNotFound)
	}
	line := &pb.HeldSkill{Skill: c.Skill.Skill, ProvenTime: timestamppb.New(c.Skill.Proven)}
	if !c.Skill.Lapses.IsZero() {
		line.LapseTime = timestamppb.New(c.Skill.Lapses)
	}
	r, err := w.people.UpdatePerson(ctx, &pb.UpdatePersonRequest{RequestId: newRequestID(),
		Person:     &pb.Person{Name: p.GetName(), Etag: p.GetEtag(), Skills: &pb.SkillRegister{Held: append(p.GetSkills().GetHeld(), line)}},
		UpdateMask: &fieldmaskpb.FieldMask{Paths: []string{"skills"}}})
	if err != nil {
		return err
	}
	w.persons[c.Person] = r.GetPerson()
	return nil
}

// changeTool carries out what the person at hand does to a tool.
func (w *wireBench) changeTool(at script.Hand, c script.Change) error {
	ctx, err := w.as(at)
	if err != nil {
		return err
	}
	switch c := c.(type) {
	case script.CalibrateTool:
		_, err = w.tools.AddCalibration(ctx, &pb.AddCalibrationRequest{RequestId: newRequestID(), Tool: "tools/" + c.Tool, Calibration: wireCalibration(c.Calibration)})
	case script.QuarantineTool:
		_, err = w.tools.QuarantineTool(ctx, &pb.QuarantineToolRequest{RequestId: newRequestID(), Tool: "tools/" + c.Tool, Reason: c.Reason})
	case script.ReturnTool:
		_, err = w.tools.ReturnTool(ctx, &pb.ReturnToolRequest{RequestId: newRequestID(), Tool: "tools/" + c.Tool})
	}
	return err
}

// updateSheet replaces the sheet of the bike at hand.
func (w *wireBench) updateSheet(at script.Hand, c script.UpdateSheet) error {
	ctx, err := w.as(at)
	if err != nil {
		return err
	}
	now, err := w.builds.GetBuild(ctx, &pb.GetBuildRequest{Name: "builds/" + at.Build})
	if err != nil {
		return err
	}
	_, err = w.builds.UpdateSheet(ctx, &pb.UpdateSheetRequest{RequestId: newRequestID(), Build: "builds/" + at.Build,
		Etag: now.GetBuild().GetEtag(), Sheet: wireSheet(c.Sheet)})
	return err
}
