package server

import (
	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/torque/joint"
)

// The enums of the API count like those of the domain, in which 0 is "not
// said"; a test holds each pair together by name. Hand, Due, Allowance
// and JobState start at 0 in the domain and at 1 in the API.

func enumIn[D ~uint8, W ~int32](f *fields, path string, value W, known map[int32]string) D {
	f.enum(path, int32(value), int32(len(known)-1))
	if value < 0 || int(value) >= len(known) {
		return 0
	}
	return D(value)
}

func (f *fields) rank(path string, v pb.Rank) procedure.Rank {
	return enumIn[procedure.Rank](f, path, v, pb.Rank_name)
}

func (f *fields) toolKind(path string, v pb.ToolKind) procedure.ToolKind {
	return enumIn[procedure.ToolKind](f, path, v, pb.ToolKind_name)
}

func (f *fields) confidence(path string, v pb.Confidence) procedure.Confidence {
	return enumIn[procedure.Confidence](f, path, v, pb.Confidence_name)
}

func (f *fields) hand(path string, v pb.Hand) joint.Hand {
	return enumIn[joint.Hand](f, path, v, pb.Hand_name) - 1
}

// prep may be unspecified: nothing was put on.
func (f *fields) prep(path string, v pb.Prep) procedure.Prep {
	if v == pb.Prep_PREP_UNSPECIFIED {
		return 0
	}
	return enumIn[procedure.Prep](f, path, v, pb.Prep_name)
}

func handToProto(h joint.Hand) pb.Hand                       { return pb.Hand(h) + 1 }
func dueToProto(d procedure.Due) pb.Due                      { return pb.Due(d) + 1 }
func allowanceToProto(a procedure.Allowance) pb.Allowance    { return pb.Allowance(a) + 1 }
func rankToProto(r procedure.Rank) pb.Rank                   { return pb.Rank(r) }
func riskToProto(r procedure.Risk) pb.Risk                   { return pb.Risk(r) }
func prepToProto(p procedure.Prep) pb.Prep                   { return pb.Prep(p) }
func confidenceToProto(c procedure.Confidence) pb.Confidence { return pb.Confidence(c) }
func verdictToProto(v procedure.Verdict) pb.Verdict          { return pb.Verdict(v) }
func toolKindToProto(k procedure.ToolKind) pb.ToolKind       { return pb.ToolKind(k) }
func checkKindToProto(k procedure.CheckKind) pb.CheckKind    { return pb.CheckKind(k) }
func signerToProto(s procedure.Signer) pb.Signer             { return pb.Signer(s) }
func stepStatusToProto(s procedure.StepStatus) pb.StepState_Status {
	return pb.StepState_Status(s)
}

func handsToProto(h procedure.Hands) pb.Hands                   { return pb.Hands(h) }
func reasonToProto(r procedure.Reason) pb.PrepReason            { return pb.PrepReason(r) }
func jobStateToProto(s procedure.JobState) pb.JobProgress_State { return pb.JobProgress_State(s) + 1 }

func personToProto(id string, version int64, p personDoc, n nameDoc) *pb.Person {
	return &pb.Person{Name: personName(id), DisplayName: n.DisplayName, Rank: rankToProto(p.Rank),
		Retired: p.Retired, Etag: etagOf(version)}
}
