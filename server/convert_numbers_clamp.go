package server

import (
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque/joint"
)

// Inputs of a clamp and of a stack that are called otherwise in the API.
var (
	clampPaths = map[string]string{"axial_newtons": "clamp.demand_axial_newtons"}
	stackPaths = map[string]string{"crank_newton_meters": "stack.crank_torque.newton_meters",
		"lockring_newton_meters": "stack.lockring_torque.newton_meters"}
)

// clamp reads a clamp.
func (f *fields) clamp(path string, w *pb.TubeClamp) joint.Clamp {
	return joint.Clamp{
		Style:          optionalEnum[joint.ClampStyle](f, joinPath(path, "style"), w.GetStyle(), pb.ClampStyle_name),
		TubeDiameterMM: w.GetTubeDiameterMm(), LengthMM: w.GetLengthMm(), Bolts: int(w.GetBolts()),
		BoltPreloadNewtons: f.band(joinPath(path, "bolt_preload_newtons"), w.GetBoltPreloadNewtons()),
		Contact:            f.contact(joinPath(path, "contact"), w.GetContact()),
		ContactFriction:    f.friction(joinPath(path, "contact_friction"), w.GetContactFriction()),
		Efficiency:         f.band(joinPath(path, "efficiency"), w.GetEfficiency()),
		PressureShape:      f.band(joinPath(path, "pressure_shape"), w.GetPressureShape()),
		TubeWallMM:         w.GetTubeWallMm(),
		Demand:             joint.Demand{AxialNewtons: w.GetDemandAxialNewtons(), TorqueNewtonMeters: w.GetDemandNewtonMeters()},
	}
}

// contact may be unspecified: then a friction has to be given, which the library
// sees to.
func (f *fields) contact(path string, v pb.ContactState) joint.Contact {
	if v == pb.ContactState_CONTACT_STATE_UNSPECIFIED {
		return joint.ContactUnknown
	}
	return enumIn[joint.Contact](f, path, v, pb.ContactState_name)
}

func gripToProto(g joint.ClampGrip) *pb.ClampGrip {
	return &pb.ClampGrip{
		CrossForceNewtons: bandToProto(g.CrossForceNewtons), NormalForceNewtons: bandToProto(g.NormalForceNewtons),
		ContactFriction:  bandToProto(g.ContactFriction),
		AxialSlipNewtons: bandToProto(g.AxialSlipNewtons), TorsionalSlipNewtonMeters: bandToProto(g.TorsionalSlipNewtonMeters),
		MeanPressureMegapascals: bandToProto(g.MeanPressureMPa), PeakPressureMegapascals: bandToProto(g.PeakPressureMPa),
		HoopStressMegapascals: bandToProto(g.HoopStressMPa), PeakHoopStressMegapascals: bandToProto(g.PeakHoopStressMPa),
		DemandOverGrip: bandToProto(g.DemandOverGrip), Standing: standingToProto(g.Standing), Verdict: g.Verdict,
		OneBoltLoose: &pb.LooseGrip{
			AxialSlipNewtons:          bandToProto(g.OneLoose.AxialSlipNewtons),
			TorsionalSlipNewtonMeters: bandToProto(g.OneLoose.TorsionalSlipNewtonMeters),
			Standing:                  standingToProto(g.OneLoose.Standing), Verdict: g.OneLoose.Verdict,
		},
		Assumptions: assumptionsToProto(g.Assumptions), Warnings: warningsToProto(g.Warnings), Use: g.Use.String(),
	}
}

func pasteToProto(p joint.PasteEffect) *pb.PasteEffect {
	return &pb.PasteEffect{
		AxialSlipWithoutNewtons: bandToProto(p.Without.AxialSlipNewtons),
		AxialSlipWithNewtons:    bandToProto(p.With.AxialSlipNewtons),
		EqualHoldShare:          bandToProto(p.EqualHoldShare),
	}
}

// stack reads a sprocket on a hub body.
func (f *fields) stack(path string, w *pb.SprocketStack) joint.SprocketStack {
	at := func(field string) string { return joinPath(path, field) }
	if w.GetCrankTorque() == nil {
		f.add(at("crank_torque"), "missing", "this field is required")
	}
	if w.GetLockringTorque() == nil {
		f.add(at("lockring_torque"), "missing", "this field is required: zero is a slack lockring")
	}
	return joint.SprocketStack{
		CrankTorque: f.torque(at("crank_torque"), w.GetCrankTorque()), CrankSpread: f.band(at("crank_spread"), w.GetCrankSpread()),
		ChainringTeeth: int(w.GetChainringTeeth()), SprocketTeeth: int(w.GetSprocketTeeth()), WidthMM: w.GetWidthMm(),
		LockringTorque: f.torque(at("lockring_torque"), w.GetLockringTorque()), LockringSpread: w.GetLockringSpread(),
		Lockring: f.thread(at("lockring_thread"), w.GetLockringThread(), false), LockringSeatMM: w.GetLockringSeatMm(),
		LockringFriction: f.friction(at("lockring_friction"), w.GetLockringFriction()),
		Splines:          int(w.GetSplines()), SplineShare: f.band(at("spline_share"), w.GetSplineShare()),
		FlankHeightMM: f.band(at("flank_height_mm"), w.GetFlankHeightMm()), FlankRadiusMM: w.GetFlankRadiusMm(),
		FaceRadiusMM: w.GetFaceRadiusMm(), FaceFriction: f.friction(at("face_friction"), w.GetFaceFriction()),
		Faces: int(w.GetFaces()), Body: f.material(at("body"), w.GetBody()),
	}
}

func splineLoadToProto(l joint.SplineLoad) *pb.SplineLoad {
	return &pb.SplineLoad{
		SprocketNewtonMeters: bandToProto(l.SprocketNewtonMeters), LockringPreloadNewtons: bandToProto(l.LockringPreloadNewtons),
		FaceNewtonMeters: bandToProto(l.FaceNewtonMeters), FlankNewtonMeters: bandToProto(l.FlankNewtonMeters),
		FlankPressureMegapascals: bandToProto(l.FlankPressureMPa),
		Body:                     l.Body.String(), PressureLimitMegapascals: l.PressureLimitMPa, LimitSource: l.LimitSource,
		Standing: standingToProto(l.Standing), Verdict: l.Verdict, CapacityNewtonMeters: bandToProto(l.CapacityNewtonMeters),
		Assumptions: assumptionsToProto(l.Assumptions), Warnings: warningsToProto(l.Warnings), Use: l.Use.String(),
	}
}
