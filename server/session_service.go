package server

import (
	"context"
	"time"

	"google.golang.org/protobuf/types/known/timestamppb"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

type sessionService struct {
	pb.UnimplementedSessionServiceServer
	*Server
}

// StartSession starts a session for an enrolled person.
func (s sessionService) StartSession(ctx context.Context, req *pb.StartSessionRequest) (*pb.StartSessionResponse, error) {
	var f fields
	id, err := parseID(people, req.GetPerson())
	f.take("person", err)
	f.id("tablet", req.GetTablet())
	if err := f.err(); err != nil {
		return nil, err
	}
	token, err := newToken(s.options.Random)
	if err != nil {
		return nil, err
	}
	at := s.now()
	doc := sessionDoc{Person: id, Tablet: req.GetTablet(), ExpiresUS: at.Add(s.options.SessionLife).UnixMicro()}
	resp := &pb.StartSessionResponse{Token: token, ExpireTime: timestamppb.New(time.UnixMicro(doc.ExpiresUS))}
	err = s.store.Update(ctx, s.options.Workshop, func(tx store.Tx) error {
		person, err := readPerson(tx, id)
		if err != nil {
			return err
		}
		if person.GetRetired() {
			return &missingError{kind: "person", name: personName(id)}
		}
		resp.Person = person
		_, err = putDocument(tx, kindSession, sessionID(token), id, at, written[sessionDoc]{Value: doc}, 0)
		return err
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// EndSession ends the session of the call, whatever its state.
func (s sessionService) EndSession(ctx context.Context, _ *pb.EndSessionRequest) (*pb.EndSessionResponse, error) {
	token, ok := bearer(ctx)
	if !ok {
		return &pb.EndSessionResponse{}, nil
	}
	id, at := sessionID(token), s.now()
	err := s.store.Update(ctx, s.options.Workshop, func(tx store.Tx) error {
		stored, doc, err := readDocument[sessionDoc](tx, kindSession, id)
		if isMissing(err) || err == nil && doc.EndedUS != 0 {
			return nil
		}
		if err != nil {
			return err
		}
		doc.EndedUS = at.UnixMicro()
		_, err = putDocument(tx, kindSession, id, doc.Person, at, written[sessionDoc]{Value: doc}, stored.Version)
		return err
	})
	if err != nil {
		return nil, err
	}
	s.sessions.forget()
	return &pb.EndSessionResponse{}, nil
}
