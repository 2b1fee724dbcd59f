package server

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"sync"
	"sync/atomic"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/health"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/server/store"
)

// Deps is what a server works with. All but Auth and Contacts are required.
type Deps struct {
	// Store keeps the record. It stays the caller's: close it after Shutdown.
	Store store.Store
	// Procedures are the procedures to work by, each id once.
	Procedures []*procedure.Resolved
	// Vocabulary is what build sheets are checked against.
	Vocabulary *procedure.Vocabulary
	// Contacts say what goes between which materials; may be empty.
	Contacts []procedure.Contact
	// Log gets one line for each call.
	Log *slog.Logger
	// Auth tells who calls; nil takes the sessions of this server.
	Auth Authenticator
}

// Options sets what has a usual value. The zero Options is the default.
type Options struct {
	// Workshop is the one that sessions of this server belong to; "workshop".
	Workshop string
	// Policy is what the shop decides about plans. Accepted is not used: it
	// comes from each build's record.
	Policy procedure.Policy
	// Reflection lets clients ask for the descriptors of the API.
	Reflection bool
	// Demo says on every answer that the data is invented.
	Demo bool

	// Now is the clock; time.Now.
	Now func() time.Time
	// Random makes ids, tokens and keys; crypto/rand.
	Random io.Reader

	// SessionLife is how long a session lasts; 12 hours.
	SessionLife time.Duration
	// Deadline is given to a unary call that brings none, 10 s; Ceiling is the
	// most that one can bring, 30 s.
	Deadline, Ceiling time.Duration
	// Heartbeat is the longest silence of a watch; 15 s.
	Heartbeat time.Duration
	// Stall is how long a watcher that reads its history may take nothing; 1
	// minute. WatchBuffer is how many messages a watcher may be behind; 256.
	Stall       time.Duration
	WatchBuffer int
	// Calls is how many calls a second a session may make in the long run, and
	// ten times that at once; 500. Strangers, which is everybody from one
	// address without a session, may make 20.
	Calls, Strangers float64
	// CachedBuilds is how many builds are kept folded, for writers and for
	// readers each; 128.
	CachedBuilds int
	// Grace is how long Shutdown lets calls finish; 10 s.
	Grace time.Duration
}

func (o Options) withDefaults() Options {
	setDefault(&o.Workshop, "workshop")
	setDefault(&o.SessionLife, 12*time.Hour)
	setDefault(&o.Deadline, 10*time.Second)
	setDefault(&o.Ceiling, 30*time.Second)
	setDefault(&o.Heartbeat, 15*time.Second)
	setDefault(&o.Stall, time.Minute)
	setDefault(&o.WatchBuffer, 256)
	setDefault(&o.Calls, 500)
	setDefault(&o.Strangers, 20)
	setDefault(&o.CachedBuilds, 128)
	setDefault(&o.Grace, 10*time.Second)
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Random == nil {
		o.Random = rand.Reader
	}
	return o
}

func setDefault[T comparable](field *T, usual T) {
	var zero T
	if *field == zero {
		*field = usual
	}
}

// mostDecodedTools is how many tools are kept decoded.
const mostDecodedTools = 1000

// A Server answers the API. Make it with New, then call Serve and, from
// another goroutine, Shutdown.
type Server struct {
	store   store.Store
	log     *slog.Logger
	options Options
	auth    Authenticator

	known atomic.Pointer[catalogue]
	// planning is held while another catalogue takes its place.
	planning sync.Mutex

	sessions *sessions
	writing  *folds
	reading  *folds
	watchers *hub
	limits   *limits
	decoded  *lru[[sha256.Size]byte, *procedure.Tool]

	grpc   *grpc.Server
	health *health.Server
	web    *web
}

// New makes a server. It fails when something required is missing.
func New(deps Deps, options Options) (*Server, error) {
	if deps.Store == nil || deps.Vocabulary == nil || deps.Log == nil {
		return nil, errors.New("new server: store, vocabulary and log are required")
	}
	o := options.withDefaults()
	if !idForm.MatchString(o.Workshop) {
		return nil, fmt.Errorf("new server: workshop %q: write 1 to 63 lower-case letters, digits and hyphens", o.Workshop)
	}
	plans := newPlans(2 * o.CachedBuilds)
	s := &Server{
		store: deps.Store, log: deps.Log, options: o, auth: deps.Auth,
		writing:  newFolds(plans, false, o.CachedBuilds),
		reading:  newFolds(plans, true, o.CachedBuilds),
		watchers: newHub(),
		limits:   newLimits(o.Calls, o.Strangers),
		decoded:  newLRU[[sha256.Size]byte, *procedure.Tool](mostDecodedTools),
	}
	if err := s.UseCatalogue(deps.Procedures, deps.Vocabulary, deps.Contacts); err != nil {
		return nil, fmt.Errorf("new server: %w", err)
	}
	s.sessions = newSessions(deps.Store, o.Workshop, o.Now)
	if s.auth == nil {
		s.auth = s.sessions
	}
	s.register()
	var err error
	if s.web, err = newWeb(s); err != nil {
		return nil, fmt.Errorf("new server: %w", err)
	}
	return s, nil
}

// now is the time in whole microseconds, which is what the store keeps.
func (s *Server) now() time.Time { return s.options.Now().UTC().Truncate(time.Microsecond) }

// workshop is the workshop of the caller; of this server for a call that needs
// no session.
func (s *Server) workshop(ctx context.Context) string {
	if p, ok := principalOf(ctx); ok {
		return p.Workshop
	}
	return s.options.Workshop
}

// view runs fn on a snapshot of the caller's workshop.
func (s *Server) view(ctx context.Context, fn func(r store.Reader) error) error {
	return s.store.View(ctx, s.workshop(ctx), fn)
}
