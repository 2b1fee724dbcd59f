package server

import (
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"io"
	"strings"
	"time"

	"google.golang.org/grpc/metadata"

	"github.com/tightwright/tightwright/server/store"
)

// sessionDoc is a session as stored, under the SHA-256 of its token.
type sessionDoc struct {
	Person    string `json:"person"`
	Tablet    string `json:"tablet"`
	ExpiresUS int64  `json:"expires_us"`
	EndedUS   int64  `json:"ended_us,omitempty"`
}

// sessionCacheLife is how long a session is believed without looking again. A
// session that is ended here, and a person who is changed here, count at once;
// this bounds what another server may have done.
const sessionCacheLife = 5 * time.Second

// mostSessions bounds the cache of sessions.
const mostSessions = 4096

// sessions is the Authenticator until real credentials exist: it believes
// whoever holds the token of a session.
type sessions struct {
	store    store.Store
	workshop string
	now      func() time.Time
	cached   *lru[string, cachedSession]
}

type cachedSession struct {
	principal Principal
	expires   time.Time // of the session
	until     time.Time // of this cache line
}

func newSessions(s store.Store, workshop string, now func() time.Time) *sessions {
	return &sessions{store: s, workshop: workshop, now: now, cached: newLRU[string, cachedSession](mostSessions)}
}

// newToken makes a token of 256 random bits.
func newToken(random io.Reader) (string, error) {
	b := make([]byte, sha256.Size)
	if _, err := io.ReadFull(random, b); err != nil {
		return "", fmt.Errorf("make a token: %w", err)
	}
	return base64.RawURLEncoding.EncodeToString(b), nil
}

// sessionID is the id of a token's session. The token cannot be found from it,
// and looking it up tells nothing by the time it takes.
func sessionID(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// bearer returns the token of a call, or false.
func bearer(ctx context.Context) (string, bool) {
	values := metadata.ValueFromIncomingContext(ctx, "authorization")
	if len(values) != 1 {
		return "", false
	}
	scheme, token, ok := strings.Cut(values[0], " ")
	if !ok || !strings.EqualFold(scheme, "bearer") || token == "" {
		return "", false
	}
	return token, true
}

// Principal implements Authenticator.
func (c *sessions) Principal(ctx context.Context) (Principal, error) {
	token, ok := bearer(ctx)
	if !ok {
		return Principal{}, ErrNoSession
	}
	id, now := sessionID(token), c.now()
	if found, ok := c.cached.get(id); ok && now.Before(found.until) {
		if !now.Before(found.expires) {
			return Principal{}, ErrNoSession
		}
		return found.principal, nil
	}
	var found cachedSession
	err := c.store.View(ctx, c.workshop, func(r store.Reader) (err error) {
		found, err = c.read(r, id, now)
		return err
	})
	if isMissing(err) {
		return Principal{}, ErrNoSession
	}
	if err != nil {
		return Principal{}, err
	}
	c.cached.put(id, found)
	return found.principal, nil
}

func (c *sessions) read(r store.Reader, id string, now time.Time) (cachedSession, error) {
	_, session, err := readDocument[sessionDoc](r, kindSession, id)
	if err != nil {
		return cachedSession{}, err
	}
	expires := time.UnixMicro(session.ExpiresUS)
	if session.EndedUS != 0 || !now.Before(expires) {
		return cachedSession{}, ErrNoSession
	}
	_, person, err := readDocument[personDoc](r, kindPerson, session.Person)
	if err != nil {
		return cachedSession{}, err
	}
	if person.Retired {
		return cachedSession{}, ErrNoSession
	}
	return cachedSession{
		principal: Principal{Workshop: c.workshop, Person: session.Person, Rank: person.Rank,
			Tablet: session.Tablet, Session: id[:12]},
		expires: expires, until: now.Add(sessionCacheLife),
	}, nil
}

// forget makes every session be looked up again.
func (c *sessions) forget() { c.cached.clear() }
