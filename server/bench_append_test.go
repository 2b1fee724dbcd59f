package server_test

import (
	"context"
	"fmt"
	"net"
	"path/filepath"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"
	"google.golang.org/protobuf/proto"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server"
	"github.com/tightwright/tightwright/server/store"
)

// BenchmarkAppend compares, in one run and at 1, 16 and 64 callers: one reading
// recorded durably over gRPC; an echo of a message of the same size, which is
// what gRPC costs by itself; and one entry of the same size put into the bare
// store, with the same durability, alone and with the row that remembers the
// request.
func BenchmarkAppend(b *testing.B) {
	s, w, m := cassetteShop(b, func(o *server.Options) { o.Calls = 1e9 })
	m.until("tighten-lockring")
	// Each caller has a bike of its own, as in a shop; one is enough to start.
	const callers = 64
	for i := range callers {
		build := fmt.Sprintf("c-%d", i)
		s.bike(w.ben, build, "b-02.yaml")
		s.open(w.ben, build, "j-1", "cassette-splined-body")
	}
	sample := readingBatch(w.ben, "c-0")
	echo := echoServer(b)
	bare := openStore(b, filepath.Join(b.TempDir(), "bare.db"))
	stored := storedEntry(b, s)

	for _, n := range []int{1, 16, callers} {
		b.Run(fmt.Sprintf("reading/callers=%d", n), func(b *testing.B) {
			share(b, n, func(caller int) error {
				_, err := s.bench.AppendEntries(w.ben, readingBatch(w.ben, fmt.Sprintf("c-%d", caller)))
				return err
			})
		})
		b.Run(fmt.Sprintf("echo/callers=%d", n), func(b *testing.B) {
			share(b, n, func(int) error {
				return echo.Invoke(w.ben, "/benchmark.Echo/Echo", sample, &pb.AppendEntriesRequest{})
			})
		})
		b.Run(fmt.Sprintf("store/callers=%d", n), func(b *testing.B) {
			share(b, n, func(caller int) error { return putEntry(b, bare, stored, caller, nil) })
		})
		b.Run(fmt.Sprintf("store-with-request/callers=%d", n), func(b *testing.B) {
			share(b, n, func(caller int) error {
				return putEntry(b, bare, stored, caller, &store.Request{ID: id(), Digest: make([]byte, 32), Answer: make([]byte, 128), ServerUS: 1})
			})
		})
	}
}

// putEntry puts one entry into the bare store, and the request if there is one.
func putEntry(b *testing.B, bare store.Store, e store.Entry, caller int, req *store.Request) error {
	b.Helper()
	e.ID, e.Build, e.Seq = id(), fmt.Sprintf("c-%d", caller), 0
	return bare.Update(b.Context(), "workshop", func(tx store.Tx) error {
		if err := tx.Append([]store.Entry{e}); err != nil || req == nil {
			return err
		}
		return tx.PutRequest(*req)
	})
}

// share lets n callers make b.N calls between them.
func share(b *testing.B, n int, call func(caller int) error) {
	b.Helper()
	b.ReportAllocs()
	b.ResetTimer()
	left := atomic.Int64{}
	left.Store(int64(b.N))
	errs := make(chan error, n)
	for caller := range n {
		go func() {
			for left.Add(-1) >= 0 {
				if err := call(caller); err != nil {
					errs <- err
					return
				}
			}
			errs <- nil
		}()
	}
	for range n {
		require.NoError(b, <-errs)
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "calls/s")
}

// readingBatch is one reading in a batch.
func readingBatch(by *hand, build string) *pb.AppendEntriesRequest {
	return batchOf(by, build, 0, reading("builds/"+build+"/jobs/j-1", "tighten-lockring", "lockring", figure("40", "N.m"), "tools/tw-04"))
}

// storedEntry is a reading as the store keeps it.
func storedEntry(b *testing.B, s *shop) store.Entry {
	b.Helper()
	w := s.at(&pb.Person{Name: mustPerson(b, s)}, "tablet-ben")
	s.record(w, "c-0", reading("builds/c-0/jobs/j-1", "tighten-lockring", "lockring", figure("40", "N.m"), "tools/tw-04"))
	var e store.Entry
	require.NoError(b, s.store.View(b.Context(), "workshop", func(r store.Reader) error {
		head, err := r.Head("c-0")
		require.NoError(b, err)
		all, err := r.Entries("c-0", head-1, 1)
		require.NoError(b, err)
		e = all[0]
		return nil
	}))
	return e
}

func mustPerson(b *testing.B, s *shop) string {
	b.Helper()
	r, err := s.people.ListPeople(b.Context(), &pb.ListPeopleRequest{})
	require.NoError(b, err)
	return r.GetPeople()[0].GetName()
}

// echoServer answers every message with itself, over loopback as the real one.
func echoServer(b *testing.B) *grpc.ClientConn {
	b.Helper()
	srv := grpc.NewServer()
	srv.RegisterService(&grpc.ServiceDesc{ServiceName: "benchmark.Echo", HandlerType: (*any)(nil), Methods: []grpc.MethodDesc{{
		MethodName: "Echo",
		Handler: func(_ any, _ context.Context, decode func(any) error, _ grpc.UnaryServerInterceptor) (any, error) {
			m := &pb.AppendEntriesRequest{}
			return proto.Message(m), decode(m)
		},
	}}}, struct{}{})
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(b, err)
	go func() { _ = srv.Serve(l) }()
	b.Cleanup(srv.Stop)
	return dial(b, l.Addr().String())
}
