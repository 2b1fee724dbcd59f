package server

import (
	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// payloadToProto puts what an entry says into w. A kind that this server does
// not know stays out: its name stands in the entry.
func payloadToProto(w *pb.Entry, e procedure.Entry) {
	switch p := e.Payload.(type) {
	case procedure.JobOpened:
		w.Payload = &pb.Entry_JobOpened{JobOpened: &pb.JobOpened{Procedure: procedureName(p.Procedure),
			Revision: p.Revision, PlanDigest: p.PlanDigest, Engine: int32(p.Engine),
			Supervisor: personName(p.Supervisor), SupervisorRank: rankToProto(p.SupervisorRank)}}
	case procedure.ReadingTaken:
		w.Payload = &pb.Entry_ReadingTaken{ReadingTaken: readingToProto(e.Build, p)}
	case procedure.MeasureTaken:
		w.Payload = &pb.Entry_MeasureTaken{MeasureTaken: &pb.MeasureTaken{Step: p.Step, Check: p.Check, Value: p.Value,
			Unit: p.Unit, Instrument: p.Instrument, Judgement: judged(e.Build, p.Judgement)}}
	case procedure.LookTaken:
		w.Payload = &pb.Entry_LookTaken{LookTaken: &pb.LookTaken{Step: p.Step, Check: p.Check, Ok: p.OK,
			Note: noteToProto(e.Build, p.Note), Judgement: judged(e.Build, p.Judgement)}}
	case procedure.PhotoTaken:
		w.Payload = &pb.Entry_PhotoTaken{PhotoTaken: &pb.PhotoTaken{Step: p.Step, Check: p.Check,
			Picture: noteToProto(e.Build, p.Picture), Judgement: judged(e.Build, p.Judgement)}}
	case procedure.PrepDone:
		w.Payload = &pb.Entry_PrepDone{PrepDone: prepDoneToProto(e.Build, p)}
	case procedure.ReworkBegun:
		w.Payload = &pb.Entry_ReworkBegun{ReworkBegun: &pb.ReworkBegun{Step: p.Step, BackTo: p.From,
			Reason: noteToProto(e.Build, p.Reason), Voids: each(p.Voids, resultRefToProto(e.Build))}}
	default:
		intentionToProto(w, e)
	}
}

func intentionToProto(w *pb.Entry, e procedure.Entry) {
	note := func(ref procedure.NoteRef) *pb.Note { return noteToProto(e.Build, ref) }
	switch p := e.Payload.(type) {
	case procedure.HoldSigned:
		w.Payload = &pb.Entry_HoldSigned{HoldSigned: &pb.HoldSigned{Step: p.Step, Saw: note(p.Saw), Rank: rankToProto(p.Rank)}}
	case procedure.ResultAccepted:
		w.Payload = &pb.Entry_ResultAccepted{ResultAccepted: &pb.ResultAccepted{Entry: entryName(e.Build, p.Entry),
			Reason: note(p.Reason), Rank: rankToProto(p.Rank)}}
	case procedure.FigureAccepted:
		w.Payload = &pb.Entry_FigureAccepted{FigureAccepted: &pb.FigureAccepted{Joint: p.Joint, Window: windowToProto(p.Window),
			Reason: note(p.Reason), Rank: rankToProto(p.Rank)}}
	case procedure.EntryWithdrawn:
		w.Payload = &pb.Entry_EntryWithdrawn{EntryWithdrawn: &pb.EntryWithdrawn{Entry: entryName(e.Build, p.Entry),
			Cause: causeToProto(p.Cause), Reason: note(p.Reason), MovedTo: buildName(p.MovedTo)}}
	case procedure.ToolCorrected:
		w.Payload = &pb.Entry_ToolCorrected{ToolCorrected: &pb.ToolCorrected{Entry: entryName(e.Build, p.Entry),
			Tool: toolName(p.Tool), Reason: note(p.Reason), Judgement: judgedReading(e.Build, p.Judgement)}}
	case procedure.PartSwapped:
		w.Payload = &pb.Entry_PartSwapped{PartSwapped: &pb.PartSwapped{Role: p.Role, PlanDigest: p.PlanDigest,
			Revision: p.Revision, Engine: int32(p.Engine), Reason: note(p.Reason), Voids: each(p.Voids, resultRefToProto(e.Build))}}
	case procedure.JobFinished:
		w.Payload = &pb.Entry_JobFinished{JobFinished: &pb.JobFinished{}}
	case procedure.JobAbandoned:
		w.Payload = &pb.Entry_JobAbandoned{JobAbandoned: &pb.JobAbandoned{Reason: note(p.Reason)}}
	case procedure.BuildReleased:
		w.Payload = &pb.Entry_BuildReleased{BuildReleased: &pb.BuildReleased{Rank: rankToProto(p.Rank)}}
	default: // a kind of a newer version
	}
}

func readingToProto(build string, p procedure.ReadingTaken) *pb.ReadingTaken {
	w := &pb.ReadingTaken{Step: p.Step, Bolt: p.Bolt, Figure: figureToProto(p.Figure), Value: torqueToProto(p.Value),
		Tool: toolName(p.Tool), Turned: p.Turned, AngleDeg: p.AngleDeg, Judgement: judgedReading(build, p.Judgement)}
	if p.From != nil {
		w.MovedFrom = &pb.ReadingTaken_MovedFrom{Build: buildName(p.From.Build), Entry: entryName(p.From.Build, p.From.Entry)}
	}
	return w
}

func prepDoneToProto(build string, p procedure.PrepDone) *pb.PrepDone {
	w := &pb.PrepDone{Step: p.Step, Thread: prepToProto(p.Thread), Face: prepToProto(p.Face), Batch: p.Batch,
		Metal: p.Metal, Judgement: judged(build, p.Judgement)}
	if p.Celsius != nil {
		c := int32(*p.Celsius)
		w.Celsius = &c
	}
	return w
}

func judged(build string, j procedure.Judgement) *pb.Judgement {
	return &pb.Judgement{
		Counts: j.Counts, Rule: j.Rule, Text: j.Text, Verdict: verdictToProto(j.Verdict),
		Probability: j.Probability, Retake: j.Retake, Voids: each(j.Voids, resultRefToProto(build)),
	}
}

// judgedReading also says which pass, from 1, and which closing round.
func judgedReading(build string, j procedure.Judgement) *pb.Judgement {
	w := judged(build, j)
	w.Pass, w.Round = int32(j.Pass)+1, int32(j.Round)
	return w
}

func causeToProto(cause string) pb.WithdrawEntry_Cause {
	for w, c := range causes {
		if c == cause {
			return w
		}
	}
	return pb.WithdrawEntry_CAUSE_UNSPECIFIED
}
