package server

import (
	"context"

	"github.com/tightwright/tightwright/procedure"
)

// A Principal is who a call comes from.
type Principal struct {
	Workshop string
	// Person is the id of an enrolled person.
	Person string
	Rank   procedure.Rank
	// Tablet is where the session was started.
	Tablet string
	// Session names the session without being its token; for limits and logs.
	Session string
}

// An Authenticator tells who a call comes from, from its metadata. A call that
// shows no credentials, or none that count, gives an error that wraps
// ErrNoSession.
type Authenticator interface {
	Principal(ctx context.Context) (Principal, error)
}

type principalKey struct{}

func withPrincipal(ctx context.Context, p Principal) context.Context {
	return context.WithValue(ctx, principalKey{}, p)
}

// principalOf returns who calls; false for a method that needs no session and
// was called without one.
func principalOf(ctx context.Context) (Principal, bool) {
	p, ok := ctx.Value(principalKey{}).(Principal)
	return p, ok
}
