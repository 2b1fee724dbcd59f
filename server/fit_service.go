package server

import (
	"context"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/fit"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// mostFitValues is more than any rule asks for.
const mostFitValues = 40

// fitService answers whether parts go together, from the rules of package
// procedure and the vocabulary of the catalogue.
type fitService struct {
	pb.UnimplementedFitServiceServer
	*Server
}

// ListFitRules lists the rules with what they want to know.
func (s fitService) ListFitRules(context.Context, *pb.ListFitRulesRequest) (*pb.ListFitRulesResponse, error) {
	resp := &pb.ListFitRulesResponse{Instruments: each(fit.Measuring(), fitInstrumentToProto)}
	for _, id := range procedure.FitRules() {
		resp.Rules = append(resp.Rules, fitRuleToProto(id, s.vocabulary()))
	}
	return resp, nil
}

// CheckFit asks one rule about a few values.
func (s fitService) CheckFit(_ context.Context, req *pb.CheckFitRequest) (*pb.CheckFitResponse, error) {
	var f fields
	if req.GetRule() == "" {
		f.add("rule", "missing", "this field is required")
	}
	if n := len(req.GetValues()); n > mostFitValues {
		f.add("values", "too-many", "%d values are more than the %d that are read", n, mostFitValues)
	}
	with := f.measuredWith("instrument", req.GetInstrument())
	if err := f.err(); err != nil {
		return nil, err
	}
	answer, err := procedure.AskFit(req.GetRule(), req.GetValues(), s.vocabulary(), with)
	f.takeFit(err)
	if err := f.err(); err != nil {
		return nil, err
	}
	return &pb.CheckFitResponse{Verdict: fitVerdictToProto(answer.Verdict()), Results: each(answer.Results, fitResultToProto)}, nil
}

// CheckSheetFit asks every rule about a sheet.
func (s fitService) CheckSheetFit(_ context.Context, req *pb.CheckSheetFitRequest) (*pb.CheckSheetFitResponse, error) {
	var f fields
	sheet := f.sheetFromProto("", req.GetSheet(), s.vocabulary())
	with := f.measuredWith("instrument", req.GetInstrument())
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.CheckSheetFitResponse{}
	for _, answer := range procedure.AskSheetFit(sheet, with) {
		w := sheetFitToProto(answer)
		resp.Rules = append(resp.Rules, w)
		resp.Verdict = max(resp.GetVerdict(), w.GetVerdict())
	}
	return resp, nil
}

// FindBodies goes through the known freehub bodies and hubs for a cassette.
func (s fitService) FindBodies(_ context.Context, req *pb.FindBodiesRequest) (*pb.FindBodiesResponse, error) {
	var f fields
	c := fit.Cassette{Splines: req.GetSplines(), MadeFor: f.fitLength("made_for_length", req.GetMadeForLength()),
		OwnSpacer: f.fitLength("own_spacer", req.GetOwnSpacer()), SmallestSprocket: int(req.GetSmallestSprocket())}
	if c.Splines == "" {
		f.add("splines", "missing", "this field is required")
	}
	ins := f.readWith(req.GetInstrument())
	if err := f.err(); err != nil {
		return nil, err
	}
	bodies, err := fit.FindBodies(c, ins)
	if err != nil {
		return nil, procedure.FitErrors(err)
	}
	resp := &pb.FindBodiesResponse{Bodies: each(bodies, bodyChoiceToProto)}
	if req.GetLooseSprockets() {
		resp.Notes = append(resp.Notes, fit.LooseSprocketNote())
	}
	return resp, nil
}

// FindShells goes through the known bottom bracket shells for a crank.
func (s fitService) FindShells(_ context.Context, req *pb.FindShellsRequest) (*pb.FindShellsResponse, error) {
	var f fields
	c := fit.Crank{Spindle: req.GetSpindle(), Width: f.fitLength("needs_width", req.GetNeedsWidth()), Spacer: f.fitLength("spacer", req.GetSpacer())}
	if c.Spindle == "" {
		f.add("spindle", "missing", "this field is required")
	}
	ins := f.readWith(req.GetInstrument())
	if err := f.err(); err != nil {
		return nil, err
	}
	shells, err := fit.FindShells(c, ins)
	if err != nil {
		return nil, procedure.FitErrors(err)
	}
	return &pb.FindShellsResponse{Shells: each(shells, shellChoiceToProto), Notes: []string{fit.OlderShellNote()}}, nil
}

// CheckDiscChange says what a change from rim to disc brakes needs.
func (s fitService) CheckDiscChange(_ context.Context, req *pb.CheckDiscChangeRequest) (*pb.CheckDiscChangeResponse, error) {
	needs, err := procedure.AskDiscChange(discEndFromProto(req.GetFront()), discEndFromProto(req.GetRear()))
	if err != nil {
		return nil, err
	}
	resp := &pb.CheckDiscChangeResponse{Needs: each(needs, discNeedToProto)}
	for _, w := range resp.GetNeeds() {
		resp.Verdict = max(resp.GetVerdict(), w.GetVerdict())
	}
	return resp, nil
}
