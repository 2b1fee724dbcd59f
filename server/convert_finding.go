package server

import (
	"github.com/tightwright/tightwright/procedure/audit"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

func findingToProto(build string) func(audit.Finding) *pb.Finding {
	return func(x audit.Finding) *pb.Finding {
		return &pb.Finding{
			Rule: x.Rule, Risk: riskToProto(x.Risk), Procedure: procedureName(x.Procedure), Job: jobName(build, x.Job),
			Step: x.Step, Item: x.Item, Tool: toolName(x.Tool), Because: x.Because,
			Evidence: each(x.Entries, func(e audit.EntryRef) *pb.Finding_Evidence {
				return &pb.Finding_Evidence{Entry: entryName(build, e.ID), Seq: e.Seq, Actor: personName(e.Actor)}
			}),
			Text: x.Text, Mend: x.Mend, Sureness: pb.Finding_Sureness(x.Sure), Status: pb.Finding_Status(x.Status), Note: x.Note,
		}
	}
}

func summaryToProto(findings []audit.Finding) *pb.AuditSummary {
	s := audit.Summarize(findings)
	return &pb.AuditSummary{Open: int32(s.Open), Reworked: int32(s.Reworked), Notes: int32(s.Notes)}
}
