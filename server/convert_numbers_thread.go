package server

import (
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque/joint"
)

func threadSizesToProto(t joint.Thread) *pb.ThreadSizes {
	p := t.BasicProfile()
	out := &pb.ThreadSizes{
		Thread: t.String(), Hand: handToProto(t.Hand()), DiameterMm: t.Diameter().Float64(),
		PitchMm: t.Pitch().Float64(), ExactPitch: t.Pitch().String(), TurnsPerInch: int32(t.TurnsPerInch()),
		PitchDiameterMm: p.PitchDiameterMM, BoltMinorDiameterMm: p.MinorDiameterMM, NutMinorDiameterMm: p.InnerMinorDiameterMM,
		StressAreaMm2: p.StressAreaMM2,
	}
	if out.GetTurnsPerInch() > 0 {
		out.UnifiedStressAreaMm2 = t.UnifiedStressAreaMM2()
	}
	for _, k := range joint.KnownThreads() {
		if k.Thread == t {
			out.Uses = append(out.Uses, threadUseToProto(k))
		}
	}
	return out
}

func threadUseToProto(k joint.Known) *pb.ThreadUse {
	return &pb.ThreadUse{Use: k.Use, Source: k.Source}
}

// measured reads what was measured of a part. A pitch of 0 is one that was not
// given, which the library says.
func (f *fields) measured(path string, w *pb.MeasuredThread) joint.LookAlikeQuestion {
	return joint.LookAlikeQuestion{
		DiameterMM: w.GetDiameterMm(), PitchMM: w.GetPitchMm(), TurnsPerInch: w.GetTurnsPerInch(),
		DiameterErrorMM: w.GetDiameterErrorMm(), PitchErrorMM: w.GetPitchErrorMm(), EngagedMM: w.GetEngagedMm(),
		Hand: optionalEnum[joint.Hand](f, joinPath(path, "hand"), w.GetHand(), pb.Hand_name), IsInner: w.GetIsInner(),
	}
}

func lookAlikesToProto(w *pb.MeasuredThread, a joint.LookAlikeAnswer) *pb.LookAlikesResponse {
	m := a.Measured
	filled := &pb.MeasuredThread{
		DiameterMm: m.DiameterMM, DiameterErrorMm: m.DiameterErrorMM, PitchErrorMm: m.PitchErrorMM,
		EngagedMm: a.EngagedMM, Hand: handToProto(m.Hand), IsInner: m.IsInner, Pitch: w.GetPitch(),
	}
	return &pb.LookAlikesResponse{
		MayBe: each(a.MayBe, likenessToProto), Wrecks: each(a.Wrecks, likenessToProto),
		Measured: filled, Assumptions: assumptionsToProto(a.Assumptions),
	}
}

func likenessToProto(l joint.Likeness) *pb.ThreadLikeness {
	return &pb.ThreadLikeness{
		Thread: l.Known.Thread.String(), Use: threadUseToProto(l.Known), Match: pb.ThreadMatch(l.Match),
		PitchDifferenceMm: l.Mating.PitchDifferenceMM, AccumulatedMm: l.Mating.AccumulatedMM,
		FlankShare: l.Mating.FlankShare, Why: l.Why,
	}
}
