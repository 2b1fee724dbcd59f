package server

import (
	"fmt"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// jointPaths has the inputs of a bolt that lie elsewhere in the request or are
// called otherwise there.
var jointPaths = map[string]string{
	"thread_friction": "joint.friction", "torque_newton_meters": "torque.newton_meters", "torque": "torque.newton_meters",
	"preload_newtons": "preload_newtons", "utilization": "utilization", "diameter_mm": "joint.thread",
}

// bolt reads a bolt.
func (f *fields) bolt(path string, w *pb.BoltedJoint) joint.Bolt {
	b := joint.Bolt{
		Thread: f.thread(joinPath(path, "thread"), w.GetThread(), true),
		Class:  f.strengthClass(joinPath(path, "class"), w.GetClass()),
		Bearing: joint.Bearing{OuterDiameterMM: w.GetHeadBearingDiameterMm(), HoleDiameterMM: w.GetHoleDiameterMm(),
			ConeHalfAngleRad: w.GetConeHalfAngleRad()},
		ThreadFriction: f.friction(joinPath(path, "friction"), w.GetFriction()),
		HeadFriction:   f.friction(joinPath(path, "head_friction"), w.GetHeadFriction()),
		ToolDeviation:  w.GetToolDeviation(),
		Seat:           f.material(joinPath(path, "seat"), w.GetSeat()),
		Torsion:        optionalEnum[joint.Torsion](f, joinPath(path, "torsion"), w.GetTorsion(), pb.Torsion_name),
	}
	if w.GetFriction() == nil {
		f.add(joinPath(path, "friction"), "unknown-friction", "friction is unknown and never guessed: give it, or a nut factor")
	}
	return b
}

func (f *fields) strengthClass(path, text string) joint.Class {
	c, err := joint.ParseClass(text)
	if err != nil {
		f.add(path, "unknown-word", "%s", err)
	}
	return c
}

// jointByNutFactor answers by the short form T = K·d·F, which knows nothing of
// the head.
func (f *fields) jointByNutFactor(req *pb.JointRequest) (*pb.JointResponse, error) {
	w := req.GetJoint()
	f.leftOut(req)
	k := f.nutFactor("joint.nut_factor", w.GetNutFactor())
	thread, class := f.thread("joint.thread", w.GetThread(), true), f.strengthClass("joint.class", w.GetClass())
	tq := f.torque("torque", req.GetTorque())
	if err := f.err(); err != nil {
		return nil, err
	}
	var err error
	diameter := thread.Diameter().Float64()
	if known, ok := req.GetKnown().(*pb.JointRequest_PreloadNewtons); ok {
		tq, err = k.Torque(diameter, known.PreloadNewtons)
	}
	var pull joint.Band
	if err == nil {
		pull, err = k.Preload(diameter, tq)
	}
	var out *pb.TightenedJoint
	if err == nil {
		out, err = shortToProto(thread, class, k, tq, pull)
	}
	f.takeNumbers("joint", err, jointPaths)
	if err := f.err(); err != nil {
		return nil, err
	}
	f.finite("joint", out)
	return &pb.JointResponse{Joint: out}, f.err()
}

// leftOut wants the fields left out that do not go with a nut factor.
func (f *fields) leftOut(req *pb.JointRequest) {
	w := req.GetJoint()
	for _, field := range []struct {
		path string
		set  bool
	}{
		{"joint.head_friction", w.GetHeadFriction() != nil},
		{"joint.head_bearing_diameter_mm", w.GetHeadBearingDiameterMm() != 0},
		{"joint.hole_diameter_mm", w.GetHoleDiameterMm() != 0},
		{"joint.cone_half_angle_rad", w.GetConeHalfAngleRad() != 0},
		{"joint.tool_deviation", w.GetToolDeviation() != 0},
		{"joint.seat", w.GetSeat() != ""},
		{"joint.torsion", w.GetTorsion() != 0},
	} {
		if field.set {
			f.add(field.path, "contradiction", "it does not go with a nut factor: leave it out, or give friction")
		}
	}
	switch req.GetKnown().(type) {
	case *pb.JointRequest_Torque, *pb.JointRequest_PreloadNewtons:
	default:
		f.add("torque", "missing", "with a nut factor a torque or a preload is required")
	}
}

func shortToProto(thread joint.Thread, class joint.Class, k joint.NutFactor, tq torque.Torque, pull joint.Band) (*pb.TightenedJoint, error) {
	profile := thread.BasicProfile()
	out := &pb.TightenedJoint{
		Thread: thread.String(), Class: class.String(),
		TorqueNewtonMeters: tq.NewtonMeters(), PreloadNewtons: pull.Nominal, PreloadBandNewtons: bandToProto(pull),
		PreloadFigures: int32(joint.FiguresDeserved(pull)),
		StressAreaMm2:  profile.StressAreaMM2, PitchDiameterMm: profile.PitchDiameterMM,
		NutFactor: bandToProto(k.K()),
		Warnings:  warningsToProto(1 << joint.MoreFiguresThanScatter),
		Use:       joint.ExplanationText,
	}
	if !k.HasBand() {
		out.Assumptions = assumptionsToProto(1 << joint.AssumedTorqueWrenchScatter)
	}
	if class.IsZero() {
		return out, nil
	}
	loads, err := class.Loads(thread)
	if err != nil {
		return nil, fmt.Errorf("class: %w", err)
	}
	out.ProofLoadNewtons, out.YieldLoadNewtons = loads.ProofNewtons, loads.YieldNewtons
	return out, nil
}

func tightenedToProto(t joint.Tightened) *pb.TightenedJoint {
	return &pb.TightenedJoint{
		Thread: t.Thread.String(), Class: t.Class.String(),
		TorqueNewtonMeters: t.TorqueNewtonMeters, PreloadNewtons: t.PreloadNewtons,
		PreloadBandNewtons: bandToProto(t.PreloadBandNewtons), PreloadFigures: int32(t.PreloadFigures),
		StressAreaMm2: t.StressAreaMM2, PitchDiameterMm: t.PitchDiameterMM, BearingDiameterMm: t.BearingDiameterMM,
		ProofLoadNewtons: t.ProofLoadNewtons, YieldLoadNewtons: t.YieldLoadNewtons,
		PitchNewtonMeters: t.PitchNewtonMeters, ThreadNewtonMeters: t.ThreadNewtonMeters, HeadNewtonMeters: t.HeadNewtonMeters,
		LooseningNewtonMeters: t.LooseningNewtonMeters, IsSelfLocking: t.IsSelfLocking,
		NutFactor: bandToProto(t.NutFactor.K()), TotalFriction: bandToProto(t.TotalFriction.Mu()),
		TensileStressMegapascals: t.TensileStressMPa, YieldUtilization: bandToProto(t.YieldUtilization),
		HeadPressureMegapascals: bandToProto(t.HeadPressureMPa), HeadPressureLimitMegapascals: t.HeadPressureLimitMPa,
		HeadPressureStanding: standingToProto(t.HeadPressureStanding),
		Assumptions:          assumptionsToProto(t.Assumptions), Warnings: warningsToProto(t.Warnings), Use: t.Use.String(),
	}
}
