package server

import (
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
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
		Thread:         f.thread(joinPath(path, "thread"), w.GetThread(), true),
		Class:          f.strengthClass(joinPath(path, "class"), w.GetClass()),
		ThreadFriction: f.friction(joinPath(path, "friction"), w.GetFriction()),
		HeadFriction:   f.friction(joinPath(path, "head_friction"), w.GetHeadFriction()),
		ToolDeviation:  w.GetToolDeviation(),
		Seat:           f.material(joinPath(path, "seat"), w.GetSeat()),
		Torsion:        optionalEnum[joint.Torsion](f, joinPath(path, "torsion"), w.GetTorsion(), pb.Torsion_name),
	}
	b.Bearing = f.bearing(path, w, b.Thread)
	if w.GetFriction() == nil {
		f.add(joinPath(path, "friction"), "unknown-friction", "friction is unknown and never guessed: give it, or a nut factor")
	}
	return b
}

// bearing reads where the head turns: a standard head, or what is stated.
func (f *fields) bearing(path string, w *pb.BoltedJoint, thread joint.Thread) joint.Bearing {
	const socket = 1
	var b joint.Bearing
	if optionalEnum[uint8](f, joinPath(path, "head"), w.GetHead(), pb.HeadKind_name) == socket && !thread.IsZero() {
		head, ok := joint.SocketHead(thread)
		if !ok {
			f.add(joinPath(path, "head"), "out-of-range", "no socket head is listed for %v: state its diameter and that of its hole", thread)
		}
		b = head
	}
	if x := w.GetHeadBearingDiameterMm(); x != 0 {
		b.OuterDiameterMM = x
	}
	if x := w.GetHoleDiameterMm(); x != 0 {
		b.HoleDiameterMM = x
	}
	b.ConeHalfAngleRad = w.GetConeHalfAngleRad()
	return b
}

// stripPaths has the inputs of an engaged thread that are called otherwise.
var stripPaths = map[string]string{"part_tensile_megapascals": "joint.part_strength_megapascals",
	"part_shear_megapascals": "joint.part_strength_megapascals", "bolt_tensile_megapascals": "joint.class", "limits": "joint.fit", "diameter_mm": "joint.thread"}

// engaged reads what a bolt is screwed into, nil where nothing is said of it.
func (f *fields) engaged(path string, w *pb.BoltedJoint, b joint.Bolt) *joint.Engaged {
	if w.GetEngagementMm() == 0 && w.GetPartStrengthMegapascals() == 0 && w.GetFit() == "" {
		return nil
	}
	e := &joint.Engaged{Thread: b.Thread, Class: b.Class, EngagedMM: w.GetEngagementMm(), PartTensileMPa: w.GetPartStrengthMegapascals()}
	if e.EngagedMM == 0 {
		f.add(joinPath(path, "engagement_mm"), "missing", "this field is required with the strength or the fit of the part")
	}
	switch at := joinPath(path, "part_strength_megapascals"); {
	case e.PartTensileMPa == 0:
		f.add(at, "missing", "this field is required with an engagement")
	case !(e.PartTensileMPa > 0): // also catches NaN
		f.add(at, "out-of-range", "%g is not above 0", e.PartTensileMPa)
	}
	if w.GetClass() == "" {
		f.add(joinPath(path, "class"), "missing", "without a strength class nothing is known of the thread of the bolt")
	}
	if w.GetFit() != "" {
		if err := e.Fit.UnmarshalText([]byte(w.GetFit())); err != nil {
			f.add(joinPath(path, "fit"), "unknown-word", "%q: write one of 6H/6g, 6H/4g6g, 2B/2A, 3B/3A", clip(w.GetFit()))
		}
	}
	return e
}

func strippingToProto(s joint.Stripping) *pb.ThreadStripping {
	return &pb.ThreadStripping{
		OuterStripNewtons: s.OuterStripNewtons, InnerStripNewtons: s.InnerStripNewtons, BoltBreakNewtons: s.BoltBreakNewtons,
		GivesWay: s.GivesWay, NeededEngagementMm: s.NeededMM, PreloadShare: bandToProto(s.PreloadShare),
		Assumptions: assumptionsToProto(s.Assumptions), Warnings: warningsToProto(s.Warnings),
	}
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
	var short joint.ShortForm
	var err error
	if known, ok := req.GetKnown().(*pb.JointRequest_PreloadNewtons); ok {
		short, err = k.AtPreload(thread, class, known.PreloadNewtons)
	} else {
		short, err = k.AtTorque(thread, class, tq)
	}
	f.takeNumbers("joint", err, jointPaths)
	if err := f.err(); err != nil {
		return nil, err
	}
	out := shortToProto(short)
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
		{"joint.head", w.GetHead() != 0},
		{"joint.engagement_mm", w.GetEngagementMm() != 0},
		{"joint.part_strength_megapascals", w.GetPartStrengthMegapascals() != 0},
		{"joint.fit", w.GetFit() != ""},
		{"compare_utilization", req.GetCompareUtilization() != 0},
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

func shortToProto(s joint.ShortForm) *pb.TightenedJoint {
	return &pb.TightenedJoint{
		Thread: s.Thread.String(), Class: s.Class.String(),
		TorqueNewtonMeters: s.TorqueNewtonMeters, PreloadNewtons: s.PreloadNewtons,
		PreloadBandNewtons: bandToProto(s.PreloadBandNewtons), PreloadFigures: int32(s.PreloadFigures),
		StressAreaMm2: s.StressAreaMM2, PitchDiameterMm: s.PitchDiameterMM,
		ProofLoadNewtons: s.ProofLoadNewtons, YieldLoadNewtons: s.YieldLoadNewtons,
		NutFactor:   bandToProto(s.NutFactor.K()),
		Assumptions: assumptionsToProto(s.Assumptions), Warnings: warningsToProto(s.Warnings), Use: s.Use.String(),
	}
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
