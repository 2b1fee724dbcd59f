package server

import (
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque/joint"
)

// taperPaths has the inputs of a taper that are called otherwise in the API.
var taperPaths = map[string]string{"crank_newton_meters": "taper.crank_torque.newton_meters"}

// taper reads a crank on its axle.
func (f *fields) taper(path string, w *pb.SquareTaper) joint.Taper {
	return joint.Taper{
		BoltPreloadNewtons: f.pull(path, w),
		Friction:           f.friction(joinPath(path, "flat_friction"), w.GetFlatFriction()),
		HalfAngleRad:       w.GetHalfAngleRad(), FlatLengthMM: w.GetFlatLengthMm(), FlatWidthMM: w.GetFlatWidthMm(),
		CrankTorque: f.crank(path, w, false), Arm: f.material(joinPath(path, "arm"), w.GetArm()),
	}
}

func taperSeatToProto(t joint.Taper, s joint.TaperSeat) *pb.TaperSeat {
	return &pb.TaperSeat{
		BoltPreloadNewtons: bandToProto(t.BoltPreloadNewtons), FlatForceNewtons: bandToProto(s.FlatForceNewtons),
		FlatPressureMegapascals: bandToProto(s.FlatPressureMPa), EdgePressureMegapascals: s.EdgePressureMPa,
		GapNewtonMeters: bandToProto(s.GapTorqueNewtonMeters), Contact: standingToProto(s.Contact), Verdict: s.Verdict,
		PressureLimitMegapascals: s.PressureLimitMPa, PressureStanding: standingToProto(s.PressureStanding),
		Assumptions: assumptionsToProto(s.Assumptions), Warnings: warningsToProto(s.Warnings), Use: s.Use.String(),
	}
}
