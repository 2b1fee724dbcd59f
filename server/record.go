package server

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/server/store"
)

// A recorder judges commands of one build inside a transaction and gathers
// what is to be stored.
type recorder struct {
	server *Server
	tx     store.Tx
	fold   *fold
	by     procedure.Actor
	tablet string
	at     time.Time
	tools  *finder

	appended []*store.Entry
	notes    []*store.Attachment
}

func (s *Server) newRecorder(ctx context.Context, tx store.Tx, f *fold, by procedure.Actor, at time.Time) *recorder {
	p, _ := principalOf(ctx)
	return &recorder{server: s, tx: tx, fold: f, by: by, tablet: p.Tablet, at: at, tools: s.newFinder(tx)}
}

// recordBatch judges the commands of a batch in order and stores what is to be
// recorded.
func (s *Server) recordBatch(ctx context.Context, tx store.Tx, at time.Time, b *batch) (answer, error) {
	by, err := s.teller(ctx, tx, b)
	if err != nil {
		return answer{}, err
	}
	a := answer{ID: b.build}
	err = s.writing.with(tx, s.workshop(ctx), b.build, func(f *fold) error {
		a.Before = f.build.Seq
		if a.Before == 0 { // a build with a record is there
			if err := s.hasBuild(tx, b.build); err != nil {
				return err
			}
		}
		if b.based > a.Before {
			return &procedure.FieldError{Path: "based_on_seq", Rule: "out-of-range",
				Text: fmt.Sprintf("the last entry of this build is %d, so %d was not seen", a.Before, b.based)}
		}
		rec := s.newRecorder(ctx, tx, f, by, at)
		for _, t := range b.told {
			o, err := rec.one(t, b.based)
			if err != nil {
				return err
			}
			a.Outcomes = append(a.Outcomes, o)
		}
		a.Head = f.build.Seq
		return storeAll(rec)
	})
	if err != nil {
		return answer{}, placed(err, b.told)
	}
	return a, allRefused(tx, b, a)
}

// teller is who tells a batch. Only intentions depend on the rank of today:
// facts are recorded whoever tells them.
func (s *Server) teller(ctx context.Context, tx store.Tx, b *batch) (procedure.Actor, error) {
	p, ok := principalOf(ctx)
	if ok && !slices.ContainsFunc(b.told, func(t *told) bool { return !isFact(t.command) }) {
		return procedure.Actor{Person: p.Person, Rank: p.Rank}, nil
	}
	return s.actor(ctx, tx)
}

func isFact(c procedure.Command) bool {
	switch c.(type) {
	case procedure.TakeReading, procedure.TakeMeasure, procedure.TakeLook, procedure.TakePhoto, procedure.DoPrep, procedure.BeginRework:
		return true
	case procedure.OpenJob, procedure.SignHold, procedure.AcceptResult, procedure.AcceptFigure, procedure.WithdrawEntry,
		procedure.CorrectTool, procedure.SwapPart, procedure.FinishJob, procedure.AbandonJob, procedure.ReleaseBuild:
	}
	return false
}

// hasBuild gives a *missingError for a build without a sheet.
func (s *Server) hasBuild(r store.Reader, build string) error {
	_, err := r.Document(kindSheet, build)
	if isMissing(err) {
		return &missingError{kind: "build", name: buildName(build)}
	}
	return err
}

// one judges one command. Only a refusal is no error: nothing is recorded and
// the rest goes on.
func (rec *recorder) one(t *told, based int64) (outcome, error) {
	if was, ok := rec.fold.build.Entry(t.entry); ok {
		return rec.again(t, was)
	}
	e, err := rec.decide(t, based)
	if r, ok := refusalOf(err); ok {
		return outcome{Entry: t.entry, Refused: &r}, nil
	}
	if err != nil {
		return outcome{}, commandError(t, err)
	}
	stored, err := rec.add(e)
	if err != nil {
		return outcome{}, err
	}
	if t.note != nil {
		rec.keep(t.note)
	}
	return outcome{Entry: t.entry, stored: stored}, nil
}

// again answers a command whose entry is recorded already.
func (rec *recorder) again(t *told, was procedure.Entry) (outcome, error) {
	same, err := sameCommand(rec.tx, t, was)
	if err != nil {
		return outcome{}, err
	}
	if !same {
		return outcome{}, &reusedError{path: entryIDPath(t.path), entry: t.entry}
	}
	for _, e := range rec.appended {
		if e.ID == t.entry {
			return outcome{Entry: t.entry, stored: e}, nil
		}
	}
	return outcome{Entry: t.entry}, nil
}

// decide asks the domain. What this very tablet recorded since the person
// looked is no surprise to the person, so only what others did is a conflict.
func (rec *recorder) decide(t *told, based int64) (procedure.Entry, error) {
	call := rec.call(t.entry, t.moment, based)
	e, err := rec.ask(t.command, call)
	conflict, ok := errors.AsType[*procedure.ConflictError](err)
	if !ok || rec.othersTouched(jobOf(rec.fold.build, t.command), conflict) {
		return e, err
	}
	call.BasedOn = conflict.Changed
	e, err = rec.ask(t.command, call)
	e.BasedOn = based
	return e, err
}

func (rec *recorder) ask(c procedure.Command, call procedure.Call) (procedure.Entry, error) {
	e, err := rec.fold.build.Decide(c, call)
	if rec.tools.err != nil {
		return procedure.Entry{}, rec.tools.err
	}
	return e, err
}

func (rec *recorder) call(entry string, m procedure.Moment, based int64) procedure.Call {
	m.ServerUS = rec.at.UnixMicro()
	return procedure.Call{EntryID: entry, Workshop: rec.fold.key.workshop, By: rec.by, BasedOn: based,
		Moment: m, Tools: rec.tools.find}
}

// add applies a decided entry, to be stored.
func (rec *recorder) add(e procedure.Entry) (*store.Entry, error) {
	stored, err := entryToStore(e)
	if err != nil {
		return nil, err
	}
	if err := rec.fold.add(e, stored); err != nil {
		return nil, err
	}
	rec.appended = append(rec.appended, &stored)
	return &stored, nil
}

// keep takes a text to be stored with its entry.
func (rec *recorder) keep(a *store.Attachment) {
	a.Build, a.Person, a.ServerUS = rec.fold.key.build, rec.by.Person, rec.at.UnixMicro()
	rec.notes = append(rec.notes, a)
}

// storeAll writes what several recorders of one transaction have gathered.
func storeAll(all ...*recorder) error {
	var entries []store.Entry
	for _, rec := range all {
		for _, e := range rec.appended {
			entries = append(entries, *e)
		}
	}
	if len(entries) == 0 {
		return nil
	}
	tx := all[0].tx
	if err := tx.Append(entries); err != nil {
		if d, ok := errors.AsType[*store.DuplicateError](err); ok {
			return &reusedError{entry: d.Existing.ID}
		}
		return fmt.Errorf("append: %w", err)
	}
	i := 0
	for _, rec := range all {
		for _, e := range rec.appended {
			*e = entries[i]
			i++
		}
		for _, a := range rec.notes {
			if err := tx.PutAttachment(*a); err != nil {
				return fmt.Errorf("store text: %w", err)
			}
		}
	}
	return nil
}

// placed gives an entry id that another build has its place in the request.
func placed(err error, all []*told) error {
	if e, ok := errors.AsType[*reusedError](err); ok && e.path == "" {
		for _, t := range all {
			if t.entry == e.entry {
				return &reusedError{path: entryIDPath(t.path), entry: e.entry}
			}
		}
	}
	return err
}

// commandError gives an error of Decide its place in the request.
func commandError(t *told, err error) error {
	if errors.Is(err, procedure.ErrNotFound) {
		var f fields
		f.add(joinPath(t.path, t.kind), "not-found", "%s", err)
		return errors.Join(&missingError{kind: t.kind, name: t.target}, f.err())
	}
	var f fields
	for _, fe := range procedure.FieldErrors(err) {
		path := joinPath(t.path, rename(fe.Path, commandFields))
		if fe.Path == "entry_id" {
			path = entryIDPath(t.path)
		}
		f.add(path, fe.Rule, "%s", fe.Text)
	}
	if len(f.errs) > 0 {
		return f.err()
	}
	return err
}
