package server

import (
	"context"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque/joint"
	"github.com/tightwright/tightwright/torque/wrench"
)

// numbersService works things out and keeps nothing: it needs no part of the
// server. What a request may say is checked by the constructors of packages joint
// and wrench.
type numbersService struct {
	pb.UnimplementedNumbersServiceServer
}

// Joint works out what a torque does to a bolt, or the torque for a preload or a
// share of the yield.
func (numbersService) Joint(_ context.Context, req *pb.JointRequest) (*pb.JointResponse, error) {
	var f fields
	if req.GetJoint() == nil {
		f.add("joint", "missing", "this field is required")
		return nil, f.err()
	}
	if req.GetJoint().GetNutFactor() != nil {
		return f.jointByNutFactor(req)
	}
	bolt := f.bolt("joint", req.GetJoint())
	before := len(f.errs)
	tq := f.torque("torque", req.GetTorque())
	engaged := f.engaged("joint", req.GetJoint(), bolt)
	f.comparedShare(req)
	if before > 0 || len(f.errs) > before {
		return nil, f.err()
	}
	var out joint.Tightened
	var err error
	switch known := req.GetKnown().(type) {
	case *pb.JointRequest_Torque:
		out, err = bolt.AtTorque(tq)
	case *pb.JointRequest_PreloadNewtons:
		out, err = bolt.AtPreload(known.PreloadNewtons)
	case *pb.JointRequest_Utilization:
		out, err = f.atUtilization(bolt, known.Utilization)
	default:
		out, err = bolt.AtUtilization(0)
	}
	f.takeNumbers("joint", err, jointPaths)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.JointResponse{Joint: tightenedToProto(out)}
	if share := req.GetCompareUtilization(); share > 0 {
		resp.Joint.ComparedUtilization, resp.Joint.IsWithinUtilization = share, new(out.YieldUtilization.Nominal <= share)
	}
	if engaged != nil {
		engaged.PreloadNewtons = out.PreloadBandNewtons
		stripping, err := engaged.Strip()
		f.takeNumbers("joint", err, stripPaths)
		resp.Joint.Stripping = strippingToProto(stripping)
	}
	f.finite("joint", resp)
	return resp, f.err()
}

// comparedShare checks the share of the yield that an answer is compared with.
func (f *fields) comparedShare(req *pb.JointRequest) {
	share := req.GetCompareUtilization()
	if share == 0 {
		return
	}
	if !(share > 0 && share <= 1) { // also catches NaN
		f.add("compare_utilization", "out-of-range", "%g is not above 0 and at most 1", share)
	}
	if req.GetTorque() == nil && req.GetPreloadNewtons() == 0 {
		f.add("compare_utilization", "contradiction", "it goes with a torque or a preload: leave it out")
	}
	if req.GetJoint().GetClass() == "" {
		f.add("joint.class", "missing", "without a strength class nothing is known of the yield")
	}
}

// atUtilization keeps a share of 0, which the library takes for "not given".
func (f *fields) atUtilization(bolt joint.Bolt, share float64) (joint.Tightened, error) {
	if share == 0 {
		f.add("utilization", "out-of-range", "0 is not above 0 and at most 1")
		return joint.Tightened{}, nil
	}
	return bolt.AtUtilization(share)
}

// Clamp works out what a clamp holds on a tube and how hard it presses.
func (numbersService) Clamp(_ context.Context, req *pb.ClampRequest) (*pb.ClampResponse, error) {
	var f fields
	if req.GetClamp() == nil {
		f.add("clamp", "missing", "this field is required")
		return nil, f.err()
	}
	clamp := f.clamp("clamp", req.GetClamp())
	if err := f.err(); err != nil {
		return nil, err
	}
	grip, err := clamp.Grip()
	f.takeNumbers("clamp", err, clampPaths)
	if err := f.err(); err != nil {
		return nil, err
	}
	out := gripToProto(clamp, grip, req.GetClamp().GetPressureLimitMegapascals())
	isFiber := clamp.Contact == joint.CarbonDry || clamp.Contact == joint.CarbonPaste
	if isFiber && !clamp.ContactFriction.IsKnown() {
		paste, err := clamp.Paste()
		if err != nil {
			return nil, err // cannot happen: the same clamp has just been worked out
		}
		out.Paste = pasteToProto(paste)
	}
	f.finite("clamp", out)
	return &pb.ClampResponse{Grip: out}, f.err()
}

// Spline works out how a sprocket or a carrier of several loads the splines of a
// hub body.
func (numbersService) Spline(_ context.Context, req *pb.SplineRequest) (*pb.SplineResponse, error) {
	var f fields
	if req.GetStack() == nil {
		f.add("stack", "missing", "this field is required")
		return nil, f.err()
	}
	stack := f.stack("stack", req.GetStack())
	if err := f.err(); err != nil {
		return nil, err
	}
	load, err := stack.Load()
	f.takeNumbers("stack", err, stackPaths)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.SplineResponse{Load: splineLoadToProto(load)}
	f.finite("stack", resp)
	return resp, f.err()
}

// Setting works out what a wrench has to be set to.
func (numbersService) Setting(_ context.Context, req *pb.SettingRequest) (*pb.SettingResponse, error) {
	var f fields
	if req.GetSetTo() != nil {
		return f.settingApplied(req)
	}
	q := f.settingQuestion(req)
	if err := f.err(); err != nil {
		return nil, err
	}
	out, err := q.answer()
	f.takeNumbers("", err, nil)
	if err := f.err(); err != nil {
		return nil, err
	}
	return &pb.SettingResponse{Setting: out}, nil
}

// settingApplied works out what comes to the fastener.
func (f *fields) settingApplied(req *pb.SettingRequest) (*pb.SettingResponse, error) {
	adapter, setTo := f.applied(req)
	if err := f.err(); err != nil {
		return nil, err
	}
	at, err := adapter.Applied(setTo)
	f.takeNumbers("", err, map[string]string{"torque": "set_to"})
	if err := f.err(); err != nil {
		return nil, err
	}
	return &pb.SettingResponse{Applied: &pb.AppliedTorque{
		Torque: at.Setting, Exact: at.Exact, IsRounded: at.Rounded, Unit: at.Unit.UCUM()}}, nil
}

// Decide says what a reading with its uncertainty proves about limits.
func (numbersService) Decide(_ context.Context, req *pb.DecideRequest) (*pb.DecideResponse, error) {
	var f fields
	q := f.decisionQuestion(req)
	if err := f.err(); err != nil {
		return nil, err
	}
	decision, err := wrench.Decide(q)
	f.takeNumbers("", err, nil)
	if err := f.err(); err != nil {
		return nil, err
	}
	return &pb.DecideResponse{Decision: decisionToProto(decision)}, nil
}
