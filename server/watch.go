package server

import (
	"context"
	"errors"
	"fmt"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// watchPage is how many entries a watch reads at once.
const watchPage = 100

// WatchBuild sends what was recorded, then what is being recorded.
func (s benchService) WatchBuild(req *pb.WatchBuildRequest, stream grpc.ServerStreamingServer[pb.WatchBuildResponse]) error {
	var f fields
	build, err := parseID(builds, req.GetBuild())
	f.take("build", err)
	after := f.afterSeq(req.GetAfterSeq())
	if err := f.err(); err != nil {
		return err
	}
	ctx := stream.Context()
	if err := s.view(ctx, func(r store.Reader) error { return s.hasBuild(r, build) }); err != nil {
		return err
	}
	w := &watch{server: s.Server, build: build, seq: after,
		queue: make(chan *pb.WatchBuildResponse, s.options.WatchBuffer), sent: make(chan error, 1)}
	// The sender ends with the stream: when this function returns, the library
	// ends the stream's context, and with it any Send that still waits.
	go w.send(stream)
	return w.run(ctx)
}

// A watch is one stream. run reads the store and fills the queue; send empties
// it as fast as the reader takes it.
type watch struct {
	server *Server
	build  string
	seq    int64 // the last entry that was queued
	queue  chan *pb.WatchBuildResponse
	sent   chan error
}

func (w *watch) send(stream grpc.ServerStreamingServer[pb.WatchBuildResponse]) {
	for {
		select {
		case m := <-w.queue:
			if err := stream.Send(m); err != nil {
				w.sent <- err
				return
			}
		case <-stream.Context().Done():
			return
		}
	}
}

func (w *watch) run(ctx context.Context) error {
	workshop := w.server.workshop(ctx)
	// From here on nothing is missed: what comes while the history is read
	// leaves a token.
	news, stop := w.server.watchers.watch(workshop, w.build)
	defer stop()
	if err := w.read(ctx, w.patient(ctx)); err != nil {
		return err
	}
	if err := w.patient(ctx)(w.heartbeat()); err != nil {
		return err
	}
	beat := time.NewTimer(w.server.options.Heartbeat)
	defer beat.Stop()
	for {
		before := w.seq
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-w.server.watchers.closed:
			return errShuttingDown
		case err := <-w.sent:
			return fmt.Errorf("send: %w", err)
		case <-news:
		case <-beat.C:
			// The session may have ended, and another server may have recorded.
			if _, err := w.server.auth.Principal(ctx); err != nil {
				return err
			}
		}
		if err := w.live(ctx, before); err != nil {
			return err
		}
		beat.Reset(w.server.options.Heartbeat)
	}
}

// live sends what is new, or else a heartbeat.
func (w *watch) live(ctx context.Context, before int64) error {
	if err := w.read(ctx, w.push); err != nil {
		return err
	}
	if w.seq == before {
		return w.push(w.heartbeat())
	}
	return nil
}

// read queues the entries after the last one that was queued.
func (w *watch) read(ctx context.Context, queue func(*pb.WatchBuildResponse) error) error {
	for {
		var page []store.Entry
		err := w.server.view(ctx, func(r store.Reader) (err error) {
			page, err = r.Entries(w.build, w.seq, watchPage)
			return err
		})
		if err != nil {
			return err
		}
		for _, e := range page {
			shown, err := entryToProto(e)
			if err != nil {
				return err
			}
			w.seq = e.Seq
			if err := queue(&pb.WatchBuildResponse{Seq: e.Seq, Event: &pb.WatchBuildResponse_Entry{Entry: shown}}); err != nil {
				return err
			}
		}
		if len(page) < watchPage {
			return nil
		}
	}
}

func (w *watch) heartbeat() *pb.WatchBuildResponse {
	return &pb.WatchBuildResponse{Seq: w.seq, Event: &pb.WatchBuildResponse_Heartbeat_{
		Heartbeat: &pb.WatchBuildResponse_Heartbeat{ServerTime: timestamppb.New(w.server.now())}}}
}

// push queues a message, or fails when the reader is that far behind.
func (w *watch) push(m *pb.WatchBuildResponse) error {
	select {
	case w.queue <- m:
		return nil
	default:
		return errTooSlow
	}
}

// patient queues history, which is no fault of the reader's: it waits, and
// gives up only when nothing is taken for a long time.
func (w *watch) patient(ctx context.Context) func(*pb.WatchBuildResponse) error {
	return func(m *pb.WatchBuildResponse) error {
		if err := w.push(m); !errors.Is(err, errTooSlow) {
			return err
		}
		stall := time.NewTimer(w.server.options.Stall)
		defer stall.Stop()
		select {
		case w.queue <- m:
			return nil
		case <-stall.C:
			return errTooSlow
		case <-w.server.watchers.closed:
			return errShuttingDown
		case err := <-w.sent:
			return fmt.Errorf("send: %w", err)
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}
