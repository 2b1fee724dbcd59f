package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/metadata"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// A child is a server in a process of its own.
type child struct {
	cmd  *exec.Cmd
	at   serving
	conn *grpc.ClientConn
	err  strings.Builder
}

// startServer starts `tightwright serve` and waits until it answers.
func startServer(t testing.TB, args ...string) *child {
	t.Helper()
	c := &child{cmd: exec.Command("tightwright", append([]string{"serve", "--json", "--listen", "127.0.0.1:0", "--web", "127.0.0.1:0"}, args...)...)}
	c.cmd.Stderr = &c.err
	out, err := c.cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.cmd.Start())
	t.Cleanup(func() {
		if c.cmd.ProcessState == nil { // the test has failed before its end
			_ = c.cmd.Process.Kill()
			_ = c.cmd.Wait()
		}
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err, "%s", &c.err)
	require.NoError(t, json.Unmarshal([]byte(line), &c.at))
	go func() { _, _ = io.Copy(io.Discard, out) }()
	c.conn, err = grpc.NewClient("passthrough:///"+c.at.GRPC, grpc.WithTransportCredentials(insecure.NewCredentials()))
	require.NoError(t, err)
	return c
}

// end sends a signal to the process and waits for it.
func (c *child) end(t testing.TB, signal os.Signal) error {
	t.Helper()
	require.NoError(t, c.cmd.Process.Signal(signal))
	err := c.cmd.Wait()
	require.NoError(t, c.conn.Close())
	return err
}

// A tablet records on one bike, one call at a time, and remembers what it was
// told.
type tablet struct {
	name, build, token string
	count              int64
	// acknowledged holds the sequence of each entry that was answered, by id.
	acknowledged map[string]int64
	// open is the call that got no answer.
	open *pb.AppendEntriesRequest
}

func (x *tablet) ctx(ctx context.Context) context.Context {
	return metadata.AppendToOutgoingContext(ctx, "authorization", "Bearer "+x.token)
}

// record sends batches until the server is gone.
func (x *tablet) record(ctx context.Context, bench pb.BenchServiceClient) {
	for {
		if x.open == nil {
			x.open = x.batch()
		}
		r, err := bench.AppendEntries(x.ctx(ctx), x.open)
		if err != nil {
			return
		}
		for _, o := range r.GetOutcomes() {
			x.acknowledged[o.GetEntryId()] = o.GetEntry().GetSeq()
		}
		x.open = nil
	}
}

func (x *tablet) batch() *pb.AppendEntriesRequest {
	req := &pb.AppendEntriesRequest{RequestId: randomUUID(), Build: "builds/" + x.build, Clock: &pb.Clock{Tablet: x.name}}
	for range 1 + rand.IntN(3) {
		x.count++
		req.Commands = append(req.Commands, &pb.Command{EntryId: fmt.Sprintf("%s-%d", x.name, x.count), TabletSeq: x.count,
			Action: &pb.Command_TakeLook{TakeLook: &pb.TakeLook{Job: "builds/" + x.build + "/jobs/j", Step: "compare-parts", Check: "pattern", Ok: true, Note: "seen"}}})
	}
	return req
}

func randomUUID() string {
	return fmt.Sprintf("%08x-%04x-%04x-%04x-%012x", rand.Uint32(), rand.Uint32()>>16, rand.Uint32()>>16, rand.Uint32()>>16, rand.Uint64()>>16)
}

// The whole server is killed under load, again and again on the same file: every
// entry that was acknowledged is there once, where it was said to be, in the
// order of its tablet; what got no answer can be repeated; and the store opens.
func TestServeSurvivesKill(t *testing.T) {
	rounds := 5
	if os.Getenv("TIGHTWRIGHT_LONG") != "" {
		rounds = 50
	}
	path := filepath.Join(t.TempDir(), "shop.db")
	server := startServer(t, "--store", path)
	tablets := setUpShop(t, server.conn)
	for round := range rounds {
		killUnderLoad(t, server, tablets)
		server = startServer(t, "--store", path)
		checkRecord(t, server.conn, tablets)
		if t.Failed() {
			t.Fatalf("in round %d", round)
		}
	}
	total := 0
	for _, x := range tablets {
		total += len(x.acknowledged)
	}
	t.Logf("%d rounds, %d acknowledged entries", rounds, total)
	require.NoError(t, server.end(t, os.Interrupt))
}

// setUpShop makes two bikes with a job each, and three tablets for each bike.
func setUpShop(t *testing.T, conn *grpc.ClientConn) []*tablet {
	t.Helper()
	ctx := t.Context()
	fay, err := pb.NewPersonServiceClient(conn).EnrolPerson(ctx, &pb.EnrolPersonRequest{RequestId: randomUUID(), DisplayName: "Fay", Rank: pb.Rank_RANK_FOREMAN})
	require.NoError(t, err)
	var all []*tablet
	for i := range 6 {
		x := &tablet{name: fmt.Sprintf("tablet-%d", i), build: fmt.Sprintf("b-%d", i/3), acknowledged: map[string]int64{}}
		s, err := pb.NewSessionServiceClient(conn).StartSession(ctx, &pb.StartSessionRequest{Person: fay.GetPerson().GetName(), Tablet: x.name})
		require.NoError(t, err)
		x.token = s.GetToken()
		all = append(all, x)
	}
	as := all[0].ctx(ctx)
	_, err = pb.NewToolServiceClient(conn).CreateTool(as, &pb.CreateToolRequest{RequestId: randomUUID(), ToolId: "tw-1", Tool: inventedWrench()})
	require.NoError(t, err)
	for _, build := range []string{"b-0", "b-1"} {
		_, err := pb.NewBuildServiceClient(conn).CreateBuild(as, &pb.CreateBuildRequest{RequestId: randomUUID(), BuildId: build, Sheet: inventedBike()})
		require.NoError(t, err)
		_, err = pb.NewBenchServiceClient(conn).OpenJob(as, &pb.OpenJobRequest{RequestId: randomUUID(), Build: "builds/" + build, JobId: "j",
			Procedure: "procedures/cassette-splined-body", EntryId: "opened-" + build})
		require.NoError(t, err)
	}
	return all
}

// killUnderLoad lets the tablets record and kills the server in the middle.
func killUnderLoad(t *testing.T, server *child, tablets []*tablet) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	var load sync.WaitGroup
	for _, x := range tablets {
		load.Go(func() { x.record(ctx, pb.NewBenchServiceClient(server.conn)) })
	}
	time.Sleep(time.Duration(50+rand.IntN(300)) * time.Millisecond)
	require.Error(t, server.end(t, syscall.SIGKILL))
	load.Wait()
	require.NoError(t, ctx.Err())
}

// checkRecord repeats what got no answer, and compares the record with what the
// tablets were told.
func checkRecord(t *testing.T, conn *grpc.ClientConn, tablets []*tablet) {
	t.Helper()
	bench := pb.NewBenchServiceClient(conn)
	for _, x := range tablets {
		if x.open == nil {
			continue
		}
		r, err := bench.AppendEntries(x.ctx(t.Context()), x.open)
		require.NoError(t, err)
		for _, o := range r.GetOutcomes() {
			x.acknowledged[o.GetEntryId()] = o.GetEntry().GetSeq()
		}
		x.open = nil
	}
	found := map[string]int64{}
	for _, build := range []string{"b-0", "b-1"} {
		last := map[string]int64{} // the tablet's own count
		for i, e := range recordOf(t, bench, tablets[0], build) {
			require.Equal(t, int64(i+1), e.GetSeq(), "a gap in %s", build)
			id := strings.TrimPrefix(e.GetName(), "builds/"+build+"/entries/")
			require.NotContains(t, found, id, "recorded twice")
			found[id] = e.GetSeq()
			require.GreaterOrEqual(t, e.GetMoment().GetTabletSeq(), last[e.GetMoment().GetTablet()], "out of order")
			last[e.GetMoment().GetTablet()] = e.GetMoment().GetTabletSeq()
		}
	}
	acknowledged := 2 // the opened jobs
	for _, x := range tablets {
		for id, seq := range x.acknowledged {
			require.Equal(t, seq, found[id], "entry %s", id)
		}
		acknowledged += len(x.acknowledged)
	}
	require.Len(t, found, acknowledged) // nothing that nobody sent
}

func recordOf(t *testing.T, bench pb.BenchServiceClient, as *tablet, build string) []*pb.Entry {
	t.Helper()
	var out []*pb.Entry
	req := &pb.ListEntriesRequest{Build: "builds/" + build, PageSize: 500}
	for {
		page, err := bench.ListEntries(as.ctx(t.Context()), req)
		require.NoError(t, err)
		out = append(out, page.GetEntries()...)
		if req.PageToken = page.GetNextPageToken(); req.GetPageToken() == "" {
			return out
		}
	}
}
