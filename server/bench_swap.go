package server

import (
	"context"
	"fmt"
	"time"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// A swap is a call of SwapPart as it was read.
type swap struct {
	build, job string
	part       procedure.Part
	based      int64
	entry      string
	reason     procedure.NoteRef
	note       *store.Attachment
}

// SwapPart puts another part on the sheet and the job on a new plan.
func (s benchService) SwapPart(ctx context.Context, req *pb.SwapPartRequest) (*pb.SwapPartResponse, error) {
	w, err := s.readSwap(req)
	if err != nil {
		return nil, err
	}
	resp := &pb.SwapPartResponse{}
	var head int64
	err = s.mutate(ctx, req, change{
		do:   func(tx store.Tx, at time.Time) (answer, error) { return s.swapPart(ctx, tx, at, req, w) },
		same: func(r store.Reader, a answer) (bool, error) { return sealed(r, kindSheet, a.ID, a.Version, req) },
		show: func(r store.Reader, a answer) (err error) {
			head = a.Head
			if resp.Job, err = s.jobThen(ctx, r, w.build, w.job, a); err != nil {
				return err
			}
			if err := a.complete(r); err != nil {
				return err
			}
			resp.Entry, err = entryToProto(*a.Outcomes[0].stored)
			return err
		},
	})
	if err != nil {
		return nil, err
	}
	s.recorded(ctx, w.build, head)
	return resp, nil
}

func (s *Server) readSwap(req *pb.SwapPartRequest) (*swap, error) {
	f := mutating(req)
	build, job, err := parseUnder(jobs, req.GetJob())
	f.take("job", err)
	w := &swap{build: build, job: job, based: req.GetBasedOnSeq()}
	if req.GetPart() == nil {
		f.add("part", "missing", "this field is required")
	} else {
		w.part = f.partFromProto("part", req.GetPart())
	}
	if w.based < 0 {
		f.add("based_on_seq", "out-of-range", "the last entry that was seen cannot be negative: 0 makes no claim")
	}
	f.free("reason", req.GetReason(), true)
	if w.entry, err = s.entryID(f, "entry_id", req.GetEntryId()); err != nil {
		return nil, err
	}
	if err := f.err(); err != nil {
		return nil, err
	}
	w.note, w.reason, err = newNote(s.options.Random, w.entry, req.GetReason())
	return w, err
}

func (s *Server) swapPart(ctx context.Context, tx store.Tx, at time.Time, req mutation, w *swap) (answer, error) {
	by, err := s.actor(ctx, tx)
	if err != nil {
		return answer{}, err
	}
	d, sheet, err := readSheet(tx, w.build)
	if err != nil {
		return answer{}, err
	}
	if sheet, err = sheetWith(sheet, w.part, s.vocabulary()); err != nil {
		return answer{}, err
	}
	a := answer{}
	err = s.writing.with(tx, s.workshop(ctx), w.build, func(f *fold) error {
		j, ok := f.build.Job(w.job)
		if !ok {
			return &missingError{kind: "job", name: jobName(w.build, w.job)}
		}
		if w.based > f.build.Seq {
			return &procedure.FieldError{Path: "based_on_seq", Rule: "out-of-range",
				Text: fmt.Sprintf("the last entry of this build is %d, so %d was not seen", f.build.Seq, w.based)}
		}
		plan, err := s.planFor(tx, j.Plan.Procedure, sheet, f.build.Accepted, at)
		if err != nil {
			return err
		}
		rec := s.newRecorder(ctx, tx, f, by, at)
		p, _ := principalOf(ctx)
		t := &told{path: "swap", entry: w.entry, moment: here(p, at),
			command: procedure.SwapPart{Job: w.job, Role: w.part.Role, Plan: plan, Reason: w.reason}}
		e, err := rec.decide(t, w.based)
		if err != nil {
			return swapError(tx, err, plan, w, f.build.Seq)
		}
		if a, err = s.putSheet(tx, at, req, by.Person, sheet, d.Version); err != nil {
			return err
		}
		if err := putPlan(tx, plan, by.Person, at); err != nil {
			return err
		}
		stored, err := rec.add(e)
		if err != nil {
			return err
		}
		rec.keep(w.note)
		a.Outcomes, a.Head = []outcome{{Entry: w.entry, stored: stored}}, f.build.Seq
		return storeAll(rec)
	})
	return a, err
}

// sheetWith returns a copy of a sheet with another part in a role that it has.
func sheetWith(s *procedure.Sheet, part procedure.Part, v *procedure.Vocabulary) (*procedure.Sheet, error) {
	out := *s
	out.Parts = append([]procedure.Part(nil), s.Parts...)
	for i := range out.Parts {
		if out.Parts[i].Role != part.Role {
			continue
		}
		out.Parts[i] = part
		if err := out.Normalize(v); err != nil {
			return nil, partError(err, fmt.Sprintf("parts[%d]", i))
		}
		return &out, nil
	}
	return nil, &procedure.FieldError{Path: "part.role", Rule: "no-such-part",
		Text: fmt.Sprintf("the sheet has no part in the role %q: there is nothing to swap", clip(part.Role))}
}

// partError gives what the domain says of one part of a sheet the paths that
// it has in SwapPartRequest.
func partError(err error, place string) error {
	var f fields
	for _, fe := range procedure.FieldErrors(err) {
		path := fe.Path
		if len(path) > len(place) && path[:len(place)] == place {
			path = "part" + path[len(place):]
		}
		f.add(rename(path, sheetFields), fe.Rule, "%s", fe.Text)
	}
	return f.err()
}

// swapError gives a refusal to swap a part its place in the table of errors.
func swapError(tx store.Tx, err error, plan *procedure.Plan, w *swap, head int64) error {
	r, ok := refusalOf(err)
	switch {
	case !ok:
		return err
	case r.Rule == procedure.RuleBlocked:
		return checkBlocked(plan)
	case r.isConflict():
		return (&refusedError{refusals: []refusal{r}}).showing(tx, w.build, w.based, r.ChangedSeq, head)
	}
	return &refusedError{refusals: []refusal{r}}
}
