package server_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server"
	"github.com/tightwright/tightwright/server/store"
)

// A faultyStore is a real store that fails when told to, in the ways a disk
// does.
type faultyStore struct {
	store.Store
	fail  atomic.Pointer[error] // every update fails at once
	after atomic.Bool           // some updates fail after they have run, and are undone
}

var errLost = errors.New("the disk is gone, says a test")

func (f *faultyStore) Update(ctx context.Context, workshop string, fn func(tx store.Tx) error) error {
	if err := f.fail.Load(); err != nil {
		return *err
	}
	return f.Store.Update(ctx, workshop, func(tx store.Tx) error {
		if err := fn(tx); err != nil {
			return err
		}
		if f.after.Load() && rand.IntN(3) == 0 {
			return errLost
		}
		return nil
	})
}

func faultyShop(t *testing.T, set ...func(*server.Options)) (*shop, *faultyStore) {
	t.Helper()
	s := &shop{TB: t, clock: &clock{now: opening}, log: &safeBuffer{}}
	f := &faultyStore{Store: openStore(t, filepath.Join(t.TempDir(), "shop.db"))}
	s.store = f
	o := server.Options{Now: s.clock.Now, Calls: 1e9}
	for _, x := range set {
		x(&o)
	}
	s.server = newServer(t, f, s.log, o)
	s.serve(s.server)
	return s, f
}

func TestStoreFaultsHaveTheirCodes(t *testing.T) {
	s, f := faultyShop(t)
	w := s.staffed()
	for _, tt := range []struct {
		name   string
		err    error
		code   codes.Code
		reason string
	}{
		{"busy", store.ErrBusy, codes.Unavailable, "STORE_BUSY"},
		{"full", store.ErrFull, codes.ResourceExhausted, "STORE_FULL"},
		{"read-only", store.ErrReadOnly, codes.Unavailable, "STORE_READ_ONLY"},
		{"closed", store.ErrClosed, codes.Unavailable, "SHUTTING_DOWN"},
		{"damaged", store.ErrCorrupt, codes.DataLoss, "INTERNAL"},
		{"anything else", errLost, codes.Internal, "INTERNAL"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f.fail.Store(&tt.err)
			defer f.fail.Store(nil)
			_, err := s.builds.CreateBuild(w.ben, &pb.CreateBuildRequest{RequestId: id(), BuildId: "b-1", Sheet: sheet(t, "b-02.yaml")})
			st := status.Convert(err)
			require.Equal(t, tt.code, st.Code())
			require.Equal(t, tt.reason, st.Details()[0].(*errdetails.ErrorInfo).GetReason())
			require.NotContains(t, st.Message(), "disk") // what went wrong inside stays inside
		})
	}
	require.Equal(t, 1, strings.Count(s.log.String(), errLost.Error())) // logged once
}

// Caches make no difference: with commits that fail, callers that share
// transactions, and hardly any room in the cache, the server says in the end
// what a fresh one says from the record alone.
func TestCachesAreNeverBelieved(t *testing.T) {
	s, f := faultyShop(t, func(o *server.Options) { o.CachedBuilds = 1 })
	w := s.staffed()
	for _, build := range []string{"b-1", "b-2"} {
		s.bike(w.ben, build, "b-02.yaml")
		s.open(w.ben, build, "j-1", "cassette-splined-body")
	}
	f.after.Store(true)
	var wait sync.WaitGroup
	for i := range 6 {
		build := []string{"b-1", "b-2"}[i%2]
		wait.Go(func() {
			for range 30 {
				req := batchOf(w.ben, build, 0, look("builds/"+build+"/jobs/j-1", "compare-parts", "pattern", rand.IntN(2) == 0, "seen"))
				for range 50 { // until it is recorded
					if _, err := s.bench.AppendEntries(w.ben, req); err == nil {
						break
					}
				}
			}
		})
	}
	wait.Wait()
	f.after.Store(false)
	fresh := &shop{TB: t, clock: s.clock, log: s.log, store: s.store}
	fresh.serve(newServer(t, s.store, s.log, server.Options{Now: s.clock.Now}))
	for _, build := range []string{"b-1", "b-2"} {
		require.Len(t, s.entries(w.ben, build, 0), 1+3*30)
		s.record(w.ben, build, look("builds/"+build+"/jobs/j-1", "compare-parts", "length-on-sheet", true, ""))
		equal(t, fresh.job(w.ben, build, "j-1"), s.job(w.ben, build, "j-1"))
	}
}

// Two servers over one store see what the other has recorded.
func TestTwoServersOneStore(t *testing.T) {
	s, w, _ := cassetteShop(t)
	other := &shop{TB: t, clock: s.clock, log: s.log, store: s.store}
	other.serve(newServer(t, s.store, s.log, server.Options{Now: s.clock.Now}))
	for i := range 5 {
		a := s.record(w.ben, "b-1", look(jobName, "compare-parts", "pattern", true, ""))[0]
		b := other.record(w.ben, "b-1", look(jobName, "compare-parts", "length-on-sheet", true, ""))[0]
		require.Equal(t, int64(2+2*i), a.GetSeq())
		require.Equal(t, int64(3+2*i), b.GetSeq())
		equal(t, s.job(w.ben, "b-1", "j-1"), other.job(w.ben, "b-1", "j-1"))
	}
	seen := s.head(w.ben, "b-1")
	other.record(w.sam, "b-1", look(jobName, "compare-parts", "pattern", true, ""))
	_, err := s.send(w.ben, "b-1", seen, finish(jobName))
	require.Contains(t, []codes.Code{codes.Aborted}, status.Code(err)) // what the other server recorded is a conflict here
}

func TestDeadlines(t *testing.T) {
	s := newShop(t, func(o *server.Options) { o.Deadline = time.Nanosecond })
	_, err := s.people.ListPeople(t.Context(), &pb.ListPeopleRequest{}) // none brought: the server's
	fails(t, err, codes.DeadlineExceeded, "DEADLINE")
	patient, cancel := context.WithTimeout(t.Context(), time.Hour)
	defer cancel()
	_, err = s.people.ListPeople(patient, &pb.ListPeopleRequest{})
	require.NoError(t, err)
	s = newShop(t, func(o *server.Options) { o.Ceiling = time.Nanosecond })
	_, err = s.people.ListPeople(patient, &pb.ListPeopleRequest{}) // longer than the server allows
	fails(t, err, codes.DeadlineExceeded, "DEADLINE")
}

// A call with very many mistakes names as many as every client can read.
func TestDetailsFitIntoAHeader(t *testing.T) {
	s, w, _ := cassetteShop(t)
	var commands []*pb.Command
	for range 100 {
		commands = append(commands, reading("x", "y", "z", figure("-", "-"), "-"))
	}
	_, err := s.send(w.ben, "b-1", 0, commands...)
	st := status.Convert(err)
	require.Equal(t, codes.InvalidArgument, st.Code())
	require.Contains(t, st.Message(), "more)")
	bad, ok := st.Details()[1].(*errdetails.BadRequest)
	require.True(t, ok)
	require.NotEmpty(t, bad.GetFieldViolations())
	require.Less(t, len(bad.GetFieldViolations()), 100)
}
