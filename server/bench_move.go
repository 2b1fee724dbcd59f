package server

import (
	"context"
	"errors"
	"time"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// A move is a call of MoveEntry as it was read.
type move struct {
	from, entry      string
	to, job, step    string
	bolt             string
	withdrawal, anew string
	reason           procedure.NoteRef
	note             *store.Attachment
}

// MoveEntry withdraws a reading on one bike and records it on another.
func (s benchService) MoveEntry(ctx context.Context, req *pb.MoveEntryRequest) (*pb.MoveEntryResponse, error) {
	m, err := s.readMove(req)
	if err != nil {
		return nil, err
	}
	resp := &pb.MoveEntryResponse{}
	err = s.mutate(ctx, req, change{
		do: func(tx store.Tx, at time.Time) (answer, error) { return s.moveEntry(ctx, tx, at, m) },
		same: func(r store.Reader, a answer) (bool, error) {
			return sameEntryText(r, a.Outcomes[0].Entry, req.GetReason())
		},
		show: func(r store.Reader, a answer) error {
			if err := a.complete(r); err != nil {
				return err
			}
			for i, into := range []**pb.Entry{&resp.Withdrawal, &resp.Reading} {
				if *into, err = entryToProto(*a.Outcomes[i].stored); err != nil {
					return err
				}
			}
			return nil
		},
	})
	if err != nil {
		return nil, err
	}
	s.recorded(ctx, m.from, resp.GetWithdrawal().GetSeq())
	s.recorded(ctx, m.to, resp.GetReading().GetSeq())
	return resp, nil
}

func (s *Server) readMove(req *pb.MoveEntryRequest) (*move, error) {
	f := mutating(req)
	m := &move{step: req.GetToStep(), bolt: req.GetToBolt()}
	var err error
	m.from, m.entry, err = parseUnder(entries, req.GetEntry())
	f.take("entry", err)
	m.to, m.job, err = parseUnder(jobs, req.GetToJob())
	f.take("to_job", err)
	if err == nil && m.from == m.to {
		f.add("to_job", "same-build", "the reading is on this build already: withdraw it, and record it where it belongs")
	}
	f.free("reason", req.GetReason(), true)
	if m.withdrawal, err = s.entryID(f, "withdrawal_entry_id", req.GetWithdrawalEntryId()); err != nil {
		return nil, err
	}
	if m.anew, err = s.entryID(f, "reading_entry_id", req.GetReadingEntryId()); err != nil {
		return nil, err
	}
	if m.withdrawal == m.anew {
		f.add("reading_entry_id", "duplicate-id", "the two entries need two ids")
	}
	if err := f.err(); err != nil {
		return nil, err
	}
	m.note, m.reason, err = newNote(s.options.Random, m.withdrawal, req.GetReason())
	return m, err
}

func (s *Server) moveEntry(ctx context.Context, tx store.Tx, at time.Time, m *move) (answer, error) {
	by, err := s.actor(ctx, tx)
	if err != nil {
		return answer{}, err
	}
	for _, build := range []string{m.from, m.to} {
		if err := s.hasBuild(tx, build); err != nil {
			return answer{}, err
		}
	}
	a := answer{}
	err = s.writing.with(tx, s.workshop(ctx), m.from, func(from *fold) error {
		return s.writing.with(tx, s.workshop(ctx), m.to, func(to *fold) error {
			out, back := s.newRecorder(ctx, tx, from, by, at), s.newRecorder(ctx, tx, to, by, at)
			p, _ := principalOf(ctx)
			withdrawn, err := out.withdraw(m, here(p, at))
			if err != nil {
				return err
			}
			reading, err := back.retake(m, from.build, here(p, at))
			if err != nil {
				return err
			}
			out.keep(m.note)
			a.Outcomes = []outcome{{Entry: m.withdrawal, stored: withdrawn}, {Entry: m.anew, stored: reading}}
			return storeAll(out, back)
		})
	})
	return a, moveError(err, m)
}

// withdraw takes the reading back where it was recorded.
func (rec *recorder) withdraw(m *move, now procedure.Moment) (*store.Entry, error) {
	was, ok := rec.fold.build.Entry(m.entry)
	if !ok {
		return nil, &missingError{kind: "entry", name: entryName(m.from, m.entry)}
	}
	if _, isReading := was.Payload.(procedure.ReadingTaken); !isReading {
		return nil, &refusedError{refusals: []refusal{{Rule: procedure.RuleNotAFact, Subject: m.entry,
			Text: "only a reading can be moved to another bike: withdraw this entry, and record it where it belongs"}}}
	}
	e, err := rec.ask(procedure.WithdrawEntry{Entry: m.entry, Cause: procedure.CauseWrongBike, Reason: m.reason, MovedTo: m.to},
		rec.call(m.withdrawal, now, 0))
	if err != nil {
		return nil, err
	}
	return rec.add(e)
}

// retake records the reading where it belongs, with its own time and the tool
// that it was really taken with.
func (rec *recorder) retake(m *move, from *procedure.Build, now procedure.Moment) (*store.Entry, error) {
	was, _ := from.Entry(m.entry)
	r, _ := was.Payload.(procedure.ReadingTaken)
	happened := was.When()
	e, err := rec.ask(procedure.TakeReading{Job: m.job, Step: m.step, Bolt: m.bolt, Figure: r.Figure,
		Tool: toolOf(from, was), Turned: r.Turned, AngleDeg: r.AngleDeg,
		From: &procedure.MovedFrom{Build: m.from, Entry: m.entry}, Happened: &happened},
		rec.call(m.anew, now, 0))
	if err != nil {
		return nil, err
	}
	return rec.add(e)
}

// toolOf is the tool of a reading, with the last correction of it.
func toolOf(b *procedure.Build, reading procedure.Entry) string {
	r, _ := reading.Payload.(procedure.ReadingTaken)
	tool := r.Tool
	for _, e := range b.Entries() {
		if c, ok := e.Payload.(procedure.ToolCorrected); ok && c.Entry == reading.ID && !b.IsWithdrawn(e.ID) {
			tool = c.Tool
		}
	}
	return tool
}

// moveError gives an error of the domain its place in the request.
func moveError(err error, m *move) error {
	if r, ok := refusalOf(err); ok {
		return &refusedError{refusals: []refusal{r}}
	}
	if errors.Is(err, procedure.ErrNotFound) {
		return &missingError{kind: "job", name: jobName(m.to, m.job)}
	}
	if e, ok := errors.AsType[*reusedError](err); ok {
		path := "withdrawal_entry_id"
		if e.entry == m.anew {
			path = "reading_entry_id"
		}
		return &reusedError{path: path, entry: e.entry}
	}
	return repath("", map[string]string{"step": "to_step", "bolt": "to_bolt", "job": "to_job"}, err)
}
