package server_test

import (
	"context"
	"encoding/base64"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/metadata"
	"google.golang.org/protobuf/types/known/fieldmaskpb"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server"
	"github.com/tightwright/tightwright/server/store"
)

func (s *shop) whoami(ctx context.Context) error {
	_, err := s.tools.ListTools(ctx, &pb.ListToolsRequest{})
	return err
}

func TestStartSession(t *testing.T) {
	s := newShop(t)
	fay := s.enrol(t.Context(), "Fay Forewoman", pb.Rank_RANK_FOREMAN)
	r, err := s.sessions.StartSession(t.Context(), &pb.StartSessionRequest{Person: fay.GetName(), Tablet: "tablet-1"})
	require.NoError(t, err)
	random, err := base64.RawURLEncoding.DecodeString(r.GetToken())
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(random)*8, 128)
	require.Equal(t, opening.Add(12*time.Hour), r.GetExpireTime().AsTime())
	equal(t, fay, r.GetPerson())
	require.NoError(t, s.whoami(withToken(t.Context(), r.GetToken())))

	_, err = s.sessions.StartSession(t.Context(), &pb.StartSessionRequest{Person: "people/p-nobody", Tablet: "tablet-1"})
	notFound(t, err, "person", "people/p-nobody")
	_, err = s.sessions.StartSession(t.Context(), &pb.StartSessionRequest{Person: "Fay", Tablet: "Tablet 1"})
	badFields(t, err, "person", "MALFORMED_NAME", "tablet", "MALFORMED_ID")
}

// The store must not hold what opens a session.
func TestTokenIsNotStored(t *testing.T) {
	s := newShop(t)
	fay := s.at(s.enrol(t.Context(), "Fay Forewoman", pb.Rank_RANK_FOREMAN), "tablet-1")
	require.NoError(t, s.store.View(t.Context(), "workshop", func(r store.Reader) error {
		docs, err := r.Documents(store.DocumentQuery{Kind: "session"})
		require.NoError(t, err)
		require.Len(t, docs, 1)
		require.NotContains(t, docs[0].ID, fay.token)
		require.NotContains(t, string(docs[0].Body), fay.token)
		return nil
	}))
}

func TestNoSessionNoAnswer(t *testing.T) {
	s := newShop(t)
	fay := s.at(s.enrol(t.Context(), "Fay Forewoman", pb.Rank_RANK_FOREMAN), "tablet-1")
	for _, tt := range []struct {
		name string
		ctx  context.Context
	}{
		{"no metadata", t.Context()},
		{"no token", metadata.AppendToOutgoingContext(t.Context(), "authorization", "Bearer ")},
		{"another scheme", metadata.AppendToOutgoingContext(t.Context(), "authorization", "Basic "+fay.token)},
		{"a token that nobody got", withToken(t.Context(), "AAAA")},
		{"two tokens", withToken(fay, fay.token)},
	} {
		t.Run(tt.name, func(t *testing.T) {
			fails(t, s.whoami(tt.ctx), codes.Unauthenticated, "SESSION_REQUIRED")
		})
	}
}

func TestSessionEnds(t *testing.T) {
	s := newShop(t)
	w := s.staffed()

	_, err := s.sessions.EndSession(w.ben, &pb.EndSessionRequest{})
	require.NoError(t, err)
	fails(t, s.whoami(w.ben), codes.Unauthenticated, "SESSION_REQUIRED")
	for _, ctx := range []context.Context{w.ben, t.Context(), withToken(t.Context(), "AAAA")} {
		_, err = s.sessions.EndSession(ctx, &pb.EndSessionRequest{})
		require.NoError(t, err)
	}

	require.NoError(t, s.whoami(w.sam))
	_, err = s.people.UpdatePerson(w.fay, &pb.UpdatePersonRequest{RequestId: id(), Person: &pb.Person{Name: w.sam.name, Etag: "v1", Retired: true},
		UpdateMask: &fieldmaskpb.FieldMask{Paths: []string{"retired"}}})
	require.NoError(t, err)
	fails(t, s.whoami(w.sam), codes.Unauthenticated, "SESSION_REQUIRED")
	_, err = s.sessions.StartSession(t.Context(), &pb.StartSessionRequest{Person: w.sam.name, Tablet: "tablet-1"})
	notFound(t, err, "person", w.sam.name)

	require.NoError(t, s.whoami(w.fay))
	s.clock.advance(12 * time.Hour)
	fails(t, s.whoami(w.fay), codes.Unauthenticated, "SESSION_REQUIRED")
}

func TestSessionsOutliveTheServer(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	other := newServer(t, s.store, s.log, server.Options{Now: s.clock.Now})
	s.serve(other)
	require.NoError(t, s.whoami(w.ben))
}
