package server

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// mostCommands bounds a batch: everybody waits while it is judged.
const mostCommands = 100

// mostSince bounds the entries that an answer shows of the others.
const mostSince = 100

type benchService struct {
	pb.UnimplementedBenchServiceServer
	*Server
}

// A batch is a call of AppendEntries as it was read.
type batch struct {
	build string
	based int64
	told  []*told
}

// AppendEntries judges commands in order and records them.
func (s benchService) AppendEntries(ctx context.Context, req *pb.AppendEntriesRequest) (*pb.AppendEntriesResponse, error) {
	b, err := s.readBatch(ctx, req)
	if err != nil {
		return nil, err
	}
	resp := &pb.AppendEntriesResponse{}
	err = s.mutate(ctx, req, s.batchChange(ctx, b, resp))
	if err != nil {
		return nil, err
	}
	s.recorded(ctx, b.build, resp.GetHeadSeq())
	return resp, nil
}

// recorded is called when entries of a build have become durable.
func (s *Server) recorded(ctx context.Context, build string, head int64) {
	s.writing.commit(s.workshop(ctx), build, head)
	s.watchers.tell(s.workshop(ctx), build)
}

// readBatch reads a call and reports every mistake in it at once.
func (s benchService) readBatch(ctx context.Context, req *pb.AppendEntriesRequest) (*batch, error) {
	f := mutating(req)
	p, _ := principalOf(ctx)
	build, err := parseID(builds, req.GetBuild())
	f.take("build", err)
	if req.GetBasedOnSeq() < 0 {
		f.add("based_on_seq", "out-of-range", "the last entry that was seen cannot be negative: 0 makes no claim")
	}
	clock := f.clockFromProto("clock", p.Tablet, req.GetClock())
	if n := len(req.GetCommands()); n == 0 || n > mostCommands {
		f.add("commands", "out-of-range", "send 1 to %d commands, not %d", mostCommands, n)
		return nil, f.err()
	}
	pictures, err := s.picturesOf(ctx, build, req.GetCommands())
	if err != nil {
		return nil, err
	}
	c := &commandReader{fields: f, build: build, clock: clock, pictures: pictures, random: s.options.Random,
		entries: map[string]bool{}, metals: s.vocabulary().Materials}
	b := &batch{build: build, based: req.GetBasedOnSeq()}
	for i, w := range req.GetCommands() {
		b.told = append(b.told, c.read(i, w))
	}
	if c.fault != nil {
		return nil, c.fault
	}
	return b, f.err()
}

// picturesOf finds the pictures that commands name, and what entries hold in
// their place. It reads them before the transaction, in which everybody waits.
func (s *Server) picturesOf(ctx context.Context, build string, commands []*pb.Command) (map[string]procedure.NoteRef, error) {
	found := map[string]procedure.NoteRef{}
	for _, w := range commands {
		of, id, err := parseUnder(attachments, w.GetTakePhoto().GetPicture())
		if err != nil || of != build {
			continue // reported when the command is read
		}
		err = s.view(ctx, func(r store.Reader) error {
			a, err := r.Attachment(id)
			if err == nil && a.Build == build && a.ErasedUS == 0 && a.MediaType != mediaText {
				found[id] = refOf(&a)
			}
			return err
		})
		if err != nil && !isMissing(err) {
			return nil, err
		}
	}
	return found, nil
}

// batchChange is the change behind AppendEntries.
func (s *Server) batchChange(ctx context.Context, b *batch, resp *pb.AppendEntriesResponse) change {
	return change{
		hopeful: true,
		do: func(tx store.Tx, at time.Time) (answer, error) {
			a, err := s.recordBatch(ctx, tx, at, b)
			if err != nil {
				return answer{}, err
			}
			return a, a.gather(tx, b)
		},
		same: func(r store.Reader, a answer) (bool, error) {
			for i, o := range a.Outcomes {
				if o.Refused != nil {
					continue
				}
				same, err := sameEntryText(r, o.Entry, b.told[i].text)
				if err != nil || !same {
					return false, err
				}
			}
			return true, nil
		},
		show: func(r store.Reader, a answer) error {
			if r != nil {
				if err := a.gather(r, b); err != nil {
					return err
				}
			}
			resp.Reset()
			return showBatch(a, resp)
		},
	}
}

// gather reads what an answer shows and is not at hand.
func (a *answer) gather(r store.Reader, b *batch) error {
	if err := a.complete(r); err != nil {
		return err
	}
	if !a.hasConflict() {
		return nil
	}
	since, err := r.Entries(b.build, b.based, mostSince)
	if err != nil {
		return fmt.Errorf("read entries: %w", err)
	}
	for len(since) > 0 && since[len(since)-1].Seq > a.Before {
		since = since[:len(since)-1]
	}
	a.since = since
	return nil
}

func (a *answer) hasConflict() bool {
	return slices.ContainsFunc(a.Outcomes, func(o outcome) bool { return o.Refused != nil && o.Refused.isConflict() })
}

// sameEntryText reports whether a recorded entry has this text.
func sameEntryText(r store.Reader, id, text string) (bool, error) {
	e, err := r.EntryByID(id)
	if err != nil {
		return false, err
	}
	d, err := procedure.DecodeEntry(e.Envelope, e.Payload)
	if err != nil {
		return false, err
	}
	return sameText(r, noteOf(d.Payload), text)
}

func showBatch(a answer, resp *pb.AppendEntriesResponse) (err error) {
	resp.HeadSeq = a.Head
	for _, o := range a.Outcomes {
		w := &pb.Outcome{EntryId: o.Entry}
		resp.Outcomes = append(resp.Outcomes, w)
		if o.Refused != nil {
			w.Result = &pb.Outcome_Refusal{Refusal: refusalToProto(*o.Refused)}
			continue
		}
		e, err := entryToProto(*o.stored)
		if err != nil {
			return err
		}
		w.Result = &pb.Outcome_Entry{Entry: e}
	}
	if len(a.since) > 0 {
		resp.EntriesSince, err = entriesToProto(a.since)
	}
	return err
}

func refusalToProto(r refusal) *pb.Refusal {
	return &pb.Refusal{Rule: r.Rule, Subject: r.Subject, Text: r.Text, ChangedSeq: r.ChangedSeq}
}
