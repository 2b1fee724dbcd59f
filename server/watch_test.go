package server_test

import (
	"context"
	"net"
	"path/filepath"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/test/bufconn"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server"
	"github.com/tightwright/tightwright/server/store/sqlite"
)

type stream = grpc.ServerStreamingClient[pb.WatchBuildResponse]

func (s *shop) watch(ctx context.Context, build string, after int64) stream {
	s.Helper()
	w, err := s.bench.WatchBuild(ctx, &pb.WatchBuildRequest{Build: "builds/" + build, AfterSeq: after})
	require.NoError(s, err)
	return w
}

// next is the next message of a stream.
func next(t testing.TB, w stream) *pb.WatchBuildResponse {
	t.Helper()
	m, err := w.Recv()
	require.NoError(t, err)
	return m
}

// caughtUp reads the history up to the heartbeat that ends it.
func caughtUp(t testing.TB, w stream) []*pb.Entry {
	t.Helper()
	var out []*pb.Entry
	for {
		m := next(t, w)
		if m.GetHeartbeat() != nil {
			return out
		}
		require.Equal(t, m.GetSeq(), m.GetEntry().GetSeq())
		out = append(out, m.GetEntry())
	}
}

func TestWatchSendsHistoryThenWhatIsRecorded(t *testing.T) {
	s, w, m := cassetteShop(t)
	m.until("tighten-lockring")
	all := s.entries(w.ben, "b-1", 0)

	whole, rest := s.watch(w.sam, "b-1", 0), s.watch(w.sam, "b-1", 5)
	equal(t, all, caughtUp(t, whole))
	equal(t, all[5:], caughtUp(t, rest))
	for range 3 {
		e := s.record(w.ben, "b-1", look(jobName, "compare-parts", "pattern", true, ""))[0]
		equal(t, e, next(t, whole).GetEntry())
		equal(t, e, next(t, rest).GetEntry())
	}
}

func TestWatchRefuses(t *testing.T) {
	s, w, _ := cassetteShop(t)
	_, err := s.watch(w.ben, "b-9", 0).Recv()
	notFound(t, err, "build", "builds/b-9")
	_, err = s.watch(w.ben, "b-1", -1).Recv()
	badFields(t, err, "after_seq", "OUT_OF_RANGE")
	_, err = s.watch(t.Context(), "b-1", 0).Recv()
	fails(t, err, codes.Unauthenticated, "SESSION_REQUIRED")
}

// A reader that takes nothing is let go: the stream ends by itself, with what
// it has been sent still to be read before the reason.
func TestSlowWatcherIsLetGo(t *testing.T) {
	s := newShop(t, func(o *server.Options) { o.WatchBuffer = 4 })
	w := s.staffed()
	s.bike(w.ben, "b-1", "b-02.yaml")
	s.open(w.ben, "b-1", "j-1", "cassette-splined-body")
	slow := s.watch(w.sam, "b-1", 0)
	caughtUp(t, slow)
	// More than the flow control window of the connection holds, unread.
	for range 60 {
		var batch []*pb.Command
		for range 20 {
			batch = append(batch, look(jobName, "compare-parts", "pattern", true, ""))
		}
		s.record(w.ben, "b-1", batch...)
	}
	var last int64 = 1
	for {
		m, err := slow.Recv()
		if err != nil {
			fails(t, err, codes.ResourceExhausted, "WATCHER_TOO_SLOW")
			break
		}
		require.Equal(t, last+1, m.GetSeq())
		last = m.GetSeq()
	}
	require.Less(t, last, s.head(w.ben, "b-1"))
	// Watching again from there, nothing is missing.
	require.Len(t, caughtUp(t, s.watch(w.sam, "b-1", last)), int(s.head(w.ben, "b-1")-last))
}

// The clock of this test is the bubble's: it moves when everybody waits.
func TestHeartbeatAndSessionOfAWatch(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.db")
	loaded() // outside the bubble
	synctest.Test(t, func(t *testing.T) {
		kept, err := sqlite.Open(path, sqlite.Options{})
		require.NoError(t, err)
		s := &shop{TB: t, store: kept, log: &safeBuffer{}}
		srv := newServer(t, kept, s.log, server.Options{SessionLife: 10 * time.Minute})
		listener := bufconn.Listen(1 << 16)
		served := make(chan error, 1)
		go func() { served <- srv.Serve(listener, nil) }()
		conn, err := grpc.NewClient("passthrough:///bubble", grpc.WithTransportCredentials(insecure.NewCredentials()),
			grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) { return listener.DialContext(ctx) }))
		require.NoError(t, err)
		s.clients = newClients(conn)

		fay := s.at(s.enrol(t.Context(), "Fay Forewoman", pb.Rank_RANK_FOREMAN), "tablet-1")
		s.bike(fay, "b-1", "b-02.yaml")
		w := s.watch(fay, "b-1", 0)
		require.Empty(t, caughtUp(t, w))
		begun := time.Now()
		for i := range 10 {
			m := next(t, w)
			require.NotNil(t, m.GetHeartbeat())
			require.Equal(t, time.Duration(i+1)*15*time.Second, time.Since(begun))
		}
		for {
			if _, err := w.Recv(); err != nil {
				fails(t, err, codes.Unauthenticated, "SESSION_REQUIRED")
				break
			}
		}
		require.Equal(t, 10*time.Minute, time.Since(begun))

		require.NoError(t, conn.Close())
		require.NoError(t, srv.Shutdown(t.Context()))
		require.NoError(t, <-served)
		require.NoError(t, kept.Close())
	})
}

func TestShutdownEndsWatchersAndHealth(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	s.bike(w.ben, "b-1", "b-02.yaml")
	stream := s.watch(w.ben, "b-1", 0)
	caughtUp(t, stream)
	done := make(chan error, 1)
	go func() { done <- s.server.Shutdown(t.Context()) }()
	_, err := stream.Recv()
	fails(t, err, codes.Unavailable, "SHUTTING_DOWN", retry())
	require.NoError(t, <-done)
	_, err = s.bench.GetJob(w.ben, &pb.GetJobRequest{Name: jobName})
	require.Error(t, err)
	_, err = net.Dial("tcp", s.rpc)
	require.Error(t, err)
	_, err = net.Dial("tcp", s.web[len("http://"):])
	require.Error(t, err)
}
