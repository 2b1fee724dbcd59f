package server

import (
	"context"
	"errors"
	"fmt"
	"time"

	"google.golang.org/protobuf/types/known/fieldmaskpb"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// UpdatePerson changes name, rank or skills, or retires a person.
func (s personService) UpdatePerson(ctx context.Context, req *pb.UpdatePersonRequest) (*pb.UpdatePersonResponse, error) {
	f := mutating(req)
	id, err := parseID(people, req.GetPerson().GetName())
	f.take("person.name", err)
	expected := f.etag("person.etag", req.GetPerson().GetEtag())
	mask := f.mask(req.GetUpdateMask(), "display_name", "rank", "retired", "skills")
	if len(req.GetUpdateMask().GetPaths()) == 0 {
		mask["skills"] = req.GetPerson().GetSkills() != nil // a caller that knows of no skills clears none
	}
	rank := procedure.Rank(0)
	if mask["rank"] {
		rank = f.rank("person.rank", req.GetPerson().GetRank())
	}
	if mask["display_name"] {
		f.line("person.display_name", req.GetPerson().GetDisplayName(), true, mostNameSigns)
	}
	var skills *procedure.SkillRegister
	var evidence []string
	if mask["skills"] {
		skills, evidence = f.skills("person.skills", req.GetPerson().GetSkills(), s.procedures().skills())
	}
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.UpdatePersonResponse{}
	err = s.mutate(ctx, req, change{
		do: func(tx store.Tx, at time.Time) (answer, error) {
			return s.changePerson(ctx, tx, at, req, id, expected, func(p *personDoc, n *nameDoc) {
				if mask["rank"] {
					p.Rank = rank
				}
				if mask["retired"] {
					p.Retired = req.GetPerson().GetRetired()
				}
				if mask["display_name"] {
					n.DisplayName = req.GetPerson().GetDisplayName()
				}
				if mask["skills"] {
					p.Skills, n.Evidence = skills, evidence
				}
			})
		},
		same: func(r store.Reader, a answer) (bool, error) { return sealed(r, kindName, a.ID, a.Version, req) },
		show: func(r store.Reader, a answer) (err error) {
			resp.Person, err = readPersonVersion(r, a.ID, a.Version)
			return err
		},
	})
	if err != nil {
		return nil, err
	}
	s.sessions.forget()
	return resp, nil
}

func (s *Server) changePerson(ctx context.Context, tx store.Tx, at time.Time, req mutation, id string, expected int64, edit func(*personDoc, *nameDoc)) (answer, error) {
	by, err := s.actor(ctx, tx)
	if err != nil {
		return answer{}, err
	}
	if by.Rank != procedure.Foreman {
		return answer{}, errRank
	}
	_, p, err := readDocument[personDoc](tx, kindPerson, id)
	if isMissing(err) {
		return answer{}, &missingError{kind: "person", name: personName(id)}
	}
	if err != nil {
		return answer{}, err
	}
	_, n, err := readDocument[nameDoc](tx, kindName, id)
	if err != nil {
		return answer{}, err
	}
	was := p
	edit(&p, &n)
	if isForeman(was) && !isForeman(p) {
		if err := otherForeman(tx, id); err != nil {
			return answer{}, err
		}
	}
	a, err := s.putPerson(tx, req, id, by.Person, at, p, n, expected)
	return a, staleEtag(err, personName(id))
}

func isForeman(p personDoc) bool { return p.Rank == procedure.Foreman && !p.Retired }

// otherForeman makes sure that somebody is left who can enrol people.
func otherForeman(tx store.Tx, id string) error {
	after := ""
	for {
		docs, err := tx.Documents(store.DocumentQuery{Kind: kindPerson, After: after, Limit: store.MaxPage})
		if err != nil {
			return fmt.Errorf("list people: %w", err)
		}
		for _, d := range docs {
			_, p, err := decodeDocument[personDoc](d)
			if err != nil {
				return err
			}
			if d.ID != id && isForeman(p) {
				return nil
			}
			after = d.ID
		}
		if len(docs) < store.MaxPage {
			return &stateError{reason: pb.ErrorReason_ERROR_REASON_LAST_FOREMAN, rule: "last-foreman",
				subject: personName(id), text: errLastForeman.Error()}
		}
	}
}

// staleEtag turns a version conflict of a document into an *etagError.
func staleEtag(err error, name string) error {
	if errors.Is(err, store.ErrConflict) {
		return &etagError{name: name}
	}
	return err
}

// mask reads an update mask: the named fields, or all that may be changed.
func (f *fields) mask(m *fieldmaskpb.FieldMask, may ...string) map[string]bool {
	out := map[string]bool{}
	for _, name := range may {
		out[name] = len(m.GetPaths()) == 0
	}
	for i, path := range m.GetPaths() {
		if _, ok := out[path]; !ok {
			f.add(fmt.Sprintf("update_mask.paths[%d]", i), "unknown-field", "%q cannot be changed: only %v can", clip(path), may)
			continue
		}
		out[path] = true
	}
	return out
}
