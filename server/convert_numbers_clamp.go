package server

import (
	"math"
	"strings"

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
		BoltPreloadNewtons: f.pull(path, w),
		Contact:            f.contact(joinPath(path, "contact"), w.GetContact()),
		ContactFriction:    f.friction(joinPath(path, "contact_friction"), w.GetContactFriction()),
		Efficiency:         f.band(joinPath(path, "efficiency"), w.GetEfficiency()),
		PressureShape:      f.band(joinPath(path, "pressure_shape"), w.GetPressureShape()),
		TubeWallMM:         w.GetTubeWallMm(),
		Demand:             f.demand(path, w),
	}
}

// demand reads what a clamp has to hold, by its name or by its loads.
func (f *fields) demand(path string, w *pb.TubeClamp) joint.Demand {
	if limit := w.GetPressureLimitMegapascals(); !(limit >= 0 && limit <= math.MaxFloat64) { // also catches NaN
		f.add(joinPath(path, "pressure_limit_megapascals"), "out-of-range", "%g is not above 0", limit)
	}
	own := joint.Demand{AxialNewtons: w.GetDemandAxialNewtons(), TorqueNewtonMeters: w.GetDemandNewtonMeters()}
	if w.GetDemandName() == "" {
		return own
	}
	at := joinPath(path, "demand_name")
	if own != (joint.Demand{}) {
		f.add(at, "contradiction", "the load is given already: leave out one of them")
	}
	var names []string
	for _, d := range joint.SecurityLoads() {
		if d.Name == w.GetDemandName() {
			return d
		}
		names = append(names, d.Name)
	}
	f.add(at, "unknown-word", "%q: write one of %s", clip(w.GetDemandName()), strings.Join(names, "; "))
	return own
}

// contact may be unspecified: then a friction has to be given, which the library
// sees to.
func (f *fields) contact(path string, v pb.ContactState) joint.Contact {
	if v == pb.ContactState_CONTACT_STATE_UNSPECIFIED {
		return joint.ContactUnknown
	}
	return enumIn[joint.Contact](f, path, v, pb.ContactState_name)
}

func gripToProto(c joint.Clamp, g joint.ClampGrip, limit float64) *pb.ClampGrip {
	out := &pb.ClampGrip{
		BoltPreloadNewtons: bandToProto(c.BoltPreloadNewtons), PressureLimitMegapascals: limit,
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
	if limit > 0 {
		out.PressureStanding = standingToProto(g.PeakPressureMPa.Against(limit))
	}
	if g.Demand != (joint.Demand{}) {
		out.Demand = &pb.ClampDemand{Name: g.Demand.Name, AxialNewtons: g.Demand.AxialNewtons,
			NewtonMeters: g.Demand.TorqueNewtonMeters, Source: g.Demand.Source}
	}
	return out
}

func pasteToProto(p joint.PasteEffect) *pb.PasteEffect {
	return &pb.PasteEffect{
		AxialSlipWithoutNewtons: bandToProto(p.Without.AxialSlipNewtons),
		AxialSlipWithNewtons:    bandToProto(p.With.AxialSlipNewtons),
		EqualHoldShare:          bandToProto(p.EqualHoldShare),

		TorsionalSlipWithoutNewtonMeters: bandToProto(p.Without.TorsionalSlipNewtonMeters),
		TorsionalSlipWithNewtonMeters:    bandToProto(p.With.TorsionalSlipNewtonMeters),
	}
}

// stack reads a sprocket on a hub body.
func (f *fields) stack(path string, w *pb.SprocketStack) joint.SprocketStack {
	at := func(field string) string { return joinPath(path, field) }
	crank := f.crank(path, w, true)
	if w.GetLockringTorque() == nil {
		f.add(at("lockring_torque"), "missing", "this field is required: zero is a slack lockring")
	}
	return joint.SprocketStack{
		CrankTorque: crank, CrankSpread: f.band(at("crank_spread"), w.GetCrankSpread()),
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
