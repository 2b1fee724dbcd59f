package server

import (
	"context"
	"net"
	"strings"
	"sync"
	"time"

	"google.golang.org/grpc/metadata"
	"google.golang.org/grpc/peer"
)

// limits bounds how often one session, or one address without a session, may
// call. A bench tablet makes a handful of calls a second; this stops loops and
// guessing, not work.
type limits struct {
	sessions, strangers *buckets
}

func newLimits(sessions, strangers float64) *limits {
	return &limits{sessions: newBuckets(sessions), strangers: newBuckets(strangers)}
}

// mostBuckets bounds the memory that strangers can take.
const mostBuckets = 4096

// burstSeconds is how many seconds of calls may come at once.
const burstSeconds = 10

// buckets holds one bucket a key: each call takes a token, tokens come back at
// a steady rate.
type buckets struct {
	rate   float64
	cached *lru[string, *bucket]
}

type bucket struct {
	mu     sync.Mutex
	tokens float64
	at     time.Time
}

func newBuckets(rate float64) *buckets {
	return &buckets{rate: rate, cached: newLRU[string, *bucket](mostBuckets)}
}

// take reports whether the key may call now.
func (b *buckets) take(key string) bool {
	now, most := time.Now(), b.rate*burstSeconds
	one := b.cached.getOr(key, func() *bucket { return &bucket{tokens: most, at: now} })
	one.mu.Lock()
	defer one.mu.Unlock()
	one.tokens = min(most, one.tokens+b.rate*max(0, now.Sub(one.at).Seconds()))
	one.at = now
	if one.tokens < 1 {
		return false
	}
	one.tokens--
	return true
}

// check counts a call.
func (l *limits) check(ctx context.Context, p Principal, known bool) error {
	var ok bool
	if known {
		ok = l.sessions.take(p.Workshop + "/" + p.Session)
	} else {
		ok = l.strangers.take(addressOf(ctx))
	}
	if !ok {
		return errRateLimited
	}
	return nil
}

// addressOf is where a call comes from. The web port calls from inside the
// process and passes on the address it saw, last in the list.
func addressOf(ctx context.Context) string {
	p, ok := peer.FromContext(ctx)
	if !ok {
		return ""
	}
	if p.Addr.Network() == insideNetwork {
		seen := strings.Split(strings.Join(metadata.ValueFromIncomingContext(ctx, "x-forwarded-for"), ","), ",")
		return "web " + strings.TrimSpace(seen[len(seen)-1])
	}
	host, _, err := net.SplitHostPort(p.Addr.String())
	if err != nil {
		return p.Addr.String()
	}
	return host
}
