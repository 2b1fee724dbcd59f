package server

import (
	"context"
	"errors"
	"time"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// OpenJob plans a procedure and opens a job on the plan.
func (s benchService) OpenJob(ctx context.Context, req *pb.OpenJobRequest) (*pb.OpenJobResponse, error) {
	f := mutating(req)
	build, err := parseID(builds, req.GetBuild())
	f.take("build", err)
	f.id("job_id", req.GetJobId())
	procedureID, err := parseID(procedures, req.GetProcedure())
	f.take("procedure", err)
	o := opening{build: build, job: req.GetJobId(), procedure: procedureID}
	if req.GetSupervisor() != "" {
		o.supervisor, err = parseID(people, req.GetSupervisor())
		f.take("supervisor", err)
	}
	o.entry, err = s.entryID(f, "entry_id", req.GetEntryId())
	if err != nil {
		return nil, err
	}
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.OpenJobResponse{}
	var head int64
	err = s.mutate(ctx, req, change{
		do: func(tx store.Tx, at time.Time) (answer, error) {
			return s.openJob(ctx, tx, at, o)
		},
		show: func(r store.Reader, a answer) (err error) {
			head = a.Head
			resp.Job, err = s.jobThen(ctx, r, build, req.GetJobId(), a)
			return err
		},
	})
	if err != nil {
		return nil, err
	}
	s.recorded(ctx, build, head)
	return resp, nil
}

// An opening is a call of OpenJob as it was read. supervisor is the id of a
// person, empty for none.
type opening struct{ build, job, procedure, entry, supervisor string }

func (s *Server) openJob(ctx context.Context, tx store.Tx, at time.Time, o opening) (answer, error) {
	by, err := s.actor(ctx, tx)
	if err != nil {
		return answer{}, err
	}
	supervisor, err := supervisorOf(tx, o.supervisor)
	if err != nil {
		return answer{}, err
	}
	_, sheet, err := readSheet(tx, o.build)
	if err != nil {
		return answer{}, err
	}
	a := answer{ID: o.build, Outcomes: []outcome{{Entry: o.entry}}}
	err = s.writing.with(tx, s.workshop(ctx), o.build, func(f *fold) error {
		plan, err := s.planFor(tx, o.procedure, sheet, f.build.Accepted, at)
		if err != nil {
			return err
		}
		rec := s.newRecorder(ctx, tx, f, by, at)
		p, _ := principalOf(ctx)
		e, err := rec.ask(procedure.OpenJob{Job: o.job, Plan: plan, Supervisor: supervisor}, rec.call(o.entry, here(p, at), 0))
		if err != nil {
			return openError(err, plan, o)
		}
		if err := putPlan(tx, plan, by.Person, at); err != nil {
			return err
		}
		if _, err := rec.add(e); err != nil {
			return err
		}
		a.Head = f.build.Seq
		return storeAll(rec)
	})
	return a, err
}

// supervisorOf is the person who stays with the work as the domain knows
// people; nil where nobody was named. Who works here no more stays with nothing.
func supervisorOf(r store.Reader, id string) (*procedure.Actor, error) {
	if id == "" {
		return nil, nil
	}
	_, person, err := readDocument[personDoc](r, kindPerson, id)
	if isMissing(err) || err == nil && person.Retired {
		var f fields
		f.add("supervisor", "not-found", "nobody of that name works here")
		return nil, errors.Join(&missingError{kind: "person", name: personName(id)}, f.err())
	}
	if err != nil {
		return nil, err
	}
	return &procedure.Actor{Person: id, Rank: person.Rank, Skills: person.Skills}, nil
}

// openError gives a refusal to open a job its place in the table of errors.
func openError(err error, plan *procedure.Plan, o opening) error {
	r, ok := refusalOf(err)
	switch {
	case !ok:
		return repath("", map[string]string{"job": "job_id"}, err)
	case r.Rule == procedure.RuleTaken:
		return &takenError{kind: "job", name: jobName(o.build, o.job)}
	case r.Rule == procedure.RuleBlocked:
		return checkBlocked(plan)
	}
	return &refusedError{refusals: []refusal{r}}
}

// entryID reads the id of an entry that the caller may choose, or makes one.
func (s *Server) entryID(f *fields, path, id string) (string, error) {
	if id == "" {
		return randomID(s.options.Random, "e-")
	}
	f.id(path, id)
	return id, nil
}

// jobThen shows a job as it was right after a call.
func (s *Server) jobThen(ctx context.Context, r store.Reader, build, job string, a answer) (*pb.Job, error) {
	b, err := foldAt(r, s.writing.plans, foldKey{s.workshop(ctx), build}, a.Head)
	if err != nil {
		return nil, err
	}
	return jobToProto(b, job, time.UnixMicro(a.AtUS), true)
}
