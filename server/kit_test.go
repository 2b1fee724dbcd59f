package server_test

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/hex"
	"fmt"
	"log/slog"
	"net"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/metadata"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server"
	"github.com/tightwright/tightwright/server/store"
	"github.com/tightwright/tightwright/server/store/sqlite"
)

// opening is when the tests open the shop: the tools of the invented week are
// in date then.
var opening = time.Date(2025, time.March, 7, 8, 30, 0, 0, time.UTC)

// A clock is the time of a server in a test. It moves only when told.
type clock struct {
	mu  sync.Mutex
	now time.Time
}

func (c *clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.now
}

func (c *clock) advance(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = c.now.Add(d)
}

// A safeBuffer may be written by the server while the test reads.
type safeBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *safeBuffer) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *safeBuffer) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// A clients is every client of the API over one connection.
type clients struct {
	sessions  pb.SessionServiceClient
	people    pb.PersonServiceClient
	catalogue pb.CatalogueServiceClient
	builds    pb.BuildServiceClient
	tools     pb.ToolServiceClient
	bench     pb.BenchServiceClient
	audits    pb.AuditServiceClient
	teaching  pb.TeachingServiceClient
}

func newClients(c grpc.ClientConnInterface) clients {
	return clients{
		pb.NewSessionServiceClient(c), pb.NewPersonServiceClient(c), pb.NewCatalogueServiceClient(c), pb.NewBuildServiceClient(c),
		pb.NewToolServiceClient(c), pb.NewBenchServiceClient(c), pb.NewAuditServiceClient(c), pb.NewTeachingServiceClient(c),
	}
}

// A shop is a server with a real store in a temporary folder, over loopback.
type shop struct {
	testing.TB
	clients
	server *server.Server
	store  store.Store
	conn   *grpc.ClientConn
	rpc    string // address
	web    string // http://address
	clock  *clock
	log    *safeBuffer
}

// newShop starts a server with nobody enrolled.
func newShop(t testing.TB, set ...func(*server.Options)) *shop {
	t.Helper()
	s := &shop{TB: t, clock: &clock{now: opening}, log: &safeBuffer{}}
	s.store = openStore(t, filepath.Join(t.TempDir(), "shop.db"))
	o := server.Options{Now: s.clock.Now}
	for _, f := range set {
		f(&o)
	}
	s.server = newServer(t, s.store, s.log, o)
	s.serve(s.server)
	return s
}

func openStore(t testing.TB, path string) store.Store {
	t.Helper()
	kept, err := sqlite.Open(path, sqlite.Options{})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, kept.Close()) })
	return kept
}

// loaded is the built-in catalogue, read once: it never changes.
var loaded = sync.OnceValues(func() ([]*procedure.Resolved, *procedure.Vocabulary) {
	c, err := catalogue.Load()
	if err != nil {
		panic(err)
	}
	var all []*procedure.Resolved
	for _, id := range c.IDs() {
		p, err := c.Resolve(id)
		if err != nil {
			panic(err)
		}
		all = append(all, p)
	}
	return all, c.Vocabulary
})

func newServer(t testing.TB, kept store.Store, log *safeBuffer, o server.Options) *server.Server {
	t.Helper()
	procedures, vocabulary := loaded()
	s, err := server.New(server.Deps{Store: kept, Procedures: procedures, Vocabulary: vocabulary, Contacts: contacts(),
		Log: slog.New(slog.NewJSONHandler(log, nil))}, o)
	require.NoError(t, err)
	return s
}

// serve starts a server on two free ports and connects to it.
func (s *shop) serve(srv *server.Server) {
	s.Helper()
	rpc, err := server.Listen("127.0.0.1:0")
	require.NoError(s, err)
	web, err := server.Listen("127.0.0.1:0")
	require.NoError(s, err)
	s.rpc, s.web = rpc.Addr().String(), "http://"+web.Addr().String()
	s.run(srv, rpc, web)
	s.conn = dial(s, s.rpc)
	s.clients = newClients(s.conn)
}

// run serves until the test ends.
func (s *shop) run(srv *server.Server, rpc, web net.Listener) {
	s.Helper()
	served := make(chan error, 1)
	go func() { served <- srv.Serve(rpc, web) }()
	s.Cleanup(func() {
		require.NoError(s, srv.Shutdown(context.Background()))
		require.NoError(s, <-served)
	})
}

func dial(t testing.TB, address string) *grpc.ClientConn {
	t.Helper()
	conn, err := grpc.NewClient("passthrough:///"+address, grpc.WithTransportCredentials(insecure.NewCredentials()))
	require.NoError(t, err)
	t.Cleanup(func() { _ = conn.Close() })
	return conn
}

// id makes a request id.
func id() string {
	var b [16]byte
	if _, err := rand.Read(b[:]); err != nil {
		panic(err)
	}
	h := hex.EncodeToString(b[:])
	return h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:]
}

// A hand is a person at a tablet.
type hand struct {
	context.Context
	name   string // people/...
	tablet string
	token  string
}

// enrol adds a person. The first one needs nobody's session.
func (s *shop) enrol(by context.Context, name string, rank pb.Rank) *pb.Person {
	s.Helper()
	r, err := s.people.EnrolPerson(by, &pb.EnrolPersonRequest{RequestId: id(), DisplayName: name, Rank: rank})
	require.NoError(s, err)
	return r.GetPerson()
}

// at starts a session for a person at a tablet.
func (s *shop) at(person *pb.Person, tablet string) *hand {
	s.Helper()
	r, err := s.sessions.StartSession(s.Context(), &pb.StartSessionRequest{Person: person.GetName(), Tablet: tablet})
	require.NoError(s, err)
	return &hand{Context: withToken(s.Context(), r.GetToken()), name: person.GetName(), tablet: tablet, token: r.GetToken()}
}

func withToken(ctx context.Context, token string) context.Context {
	return metadata.AppendToOutgoingContext(ctx, "authorization", "Bearer "+token)
}

// A staff is who works in most tests.
type staff struct{ fay, sam, ben *hand }

// staffed enrols a foreman, a senior builder and a builder, each at a tablet,
// and puts the tools of the invented week on the rack.
func (s *shop) staffed() staff {
	s.Helper()
	fay := s.at(s.enrol(s.Context(), "Fay Forewoman", pb.Rank_RANK_FOREMAN), "tablet-fay")
	sam := s.at(s.enrol(fay, "Sam Senior", pb.Rank_RANK_SENIOR_BUILDER), "tablet-sam")
	ben := s.at(s.enrol(fay, "Ben Builder", pb.Rank_RANK_BUILDER), "tablet-ben")
	for _, t := range rack(s) {
		_, err := s.tools.CreateTool(fay, &pb.CreateToolRequest{RequestId: id(), ToolId: t.ID, Tool: toolOf(t)})
		require.NoError(s, err)
	}
	return staff{fay, sam, ben}
}

// bike creates a build from a sheet of the invented week.
func (s *shop) bike(by context.Context, build, file string) *pb.Build {
	s.Helper()
	r, err := s.builds.CreateBuild(by, &pb.CreateBuildRequest{RequestId: id(), BuildId: build, Sheet: sheet(s, file)})
	require.NoError(s, err)
	return r.GetBuild()
}

// open opens a job.
func (s *shop) open(by context.Context, build, job, procedure string) *pb.Job {
	s.Helper()
	r, err := s.bench.OpenJob(by, &pb.OpenJobRequest{RequestId: id(), Build: "builds/" + build, JobId: job, Procedure: "procedures/" + procedure})
	require.NoError(s, err)
	return r.GetJob()
}

func (s *shop) job(by context.Context, build, job string) *pb.Job {
	s.Helper()
	r, err := s.bench.GetJob(by, &pb.GetJobRequest{Name: fmt.Sprintf("builds/%s/jobs/%s", build, job)})
	require.NoError(s, err)
	return r.GetJob()
}

func readFile(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return data
}
