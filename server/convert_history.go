package server

import (
	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// historyToProto tells what a record says was done, a line a job.
func historyToProto(b *procedure.Build) *pb.BuildHistory {
	w := &pb.BuildHistory{Build: buildName(b.ID), HeadSeq: b.Seq}
	lines := map[string]*pb.JobHistory{}
	for _, j := range b.Jobs {
		line := jobHistoryToProto(b, j)
		lines[j.ID] = line
		w.Jobs = append(w.Jobs, line)
	}
	for _, e := range b.Entries() {
		switch p := e.Payload.(type) {
		case procedure.PartSwapped:
			if line := lines[e.Job]; line != nil {
				line.Swaps = append(line.Swaps, &pb.PartSwap{Entry: entryName(b.ID, e.ID), Role: p.Role,
					Person: personName(e.Actor), Moment: momentToProto(e.Moment)})
			}
		case procedure.BuildReleased:
			w.Releases = append(w.Releases, &pb.Release{Entry: entryName(b.ID, e.ID), Person: personName(e.Actor),
				Moment: momentToProto(e.Moment), Stands: b.Released != nil && b.Released.ID == e.ID})
		}
	}
	return w
}

func jobHistoryToProto(b *procedure.Build, j *procedure.Job) *pb.JobHistory {
	w := &pb.JobHistory{
		Name: jobName(b.ID, j.ID), Procedure: procedureName(j.Plan.Procedure), Title: j.Plan.Title,
		Edition: int32(j.Plan.Edition), Revision: j.Plan.Revision, Origin: j.Plan.Origin, PlanDigest: j.PlanDigest,
		State: pb.Job_STATE_OPEN, OpenedBy: personName(j.Opened.Actor), Opened: momentToProto(j.Opened.Moment),
		Superseded: b.Superseded(j), Outdated: j.Outdated != nil,
	}
	switch {
	case j.Finished != nil:
		w.State, w.ClosedBy, w.Closed = pb.Job_STATE_FINISHED, personName(j.Finished.Actor), momentToProto(j.Finished.Moment)
	case j.Abandoned != nil:
		w.State, w.ClosedBy, w.Closed = pb.Job_STATE_ABANDONED, personName(j.Abandoned.Actor), momentToProto(j.Abandoned.Moment)
	}
	return w
}
