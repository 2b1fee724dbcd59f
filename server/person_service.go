package server

import (
	"context"
	"fmt"
	"time"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// personDoc is what the record needs to know of a person. The name is a
// document of its own, so that it can be erased and the id keep its meaning.
type personDoc struct {
	Rank    procedure.Rank `json:"rank"`
	Retired bool           `json:"retired,omitempty"`
	// Skills is nil where no register is kept, as in documents written before
	// there was one.
	Skills *procedure.SkillRegister `json:"skills,omitempty"`
}

type nameDoc struct {
	DisplayName string `json:"display_name"`
	// Evidence says in words what shows each line of the register, in its
	// order: free text goes with the name.
	Evidence []string `json:"evidence,omitempty"`
}

const mostNameSigns = 100

type personService struct {
	pb.UnimplementedPersonServiceServer
	*Server
}

// EnrolPerson adds a person.
func (s personService) EnrolPerson(ctx context.Context, req *pb.EnrolPersonRequest) (*pb.EnrolPersonResponse, error) {
	f := mutating(req)
	f.line("display_name", req.GetDisplayName(), true, mostNameSigns)
	rank := f.rank("rank", req.GetRank())
	skills, evidence := f.skills("skills", req.GetSkills(), s.procedures().skills())
	if err := f.err(); err != nil {
		return nil, err
	}
	id, err := randomID(s.options.Random, "p-")
	if err != nil {
		return nil, err
	}
	resp := &pb.EnrolPersonResponse{}
	err = s.mutate(ctx, req, change{
		do: func(tx store.Tx, at time.Time) (answer, error) {
			by, err := s.enroller(ctx, tx, rank)
			if err != nil {
				return answer{}, err
			}
			return s.putPerson(tx, req, id, by, at, personDoc{Rank: rank, Skills: skills},
				nameDoc{DisplayName: req.GetDisplayName(), Evidence: evidence}, 0)
		},
		same: func(r store.Reader, a answer) (bool, error) { return sealed(r, kindName, a.ID, 1, req) },
		show: func(r store.Reader, a answer) (err error) {
			resp.Person, err = readPersonVersion(r, a.ID, a.Version)
			return err
		},
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// enroller returns who enrols: a foreman, or nobody while there is no person.
func (s *Server) enroller(ctx context.Context, tx store.Tx, rank procedure.Rank) (string, error) {
	first, err := tx.Documents(store.DocumentQuery{Kind: kindPerson, Limit: 1})
	if err != nil {
		return "", fmt.Errorf("list people: %w", err)
	}
	if len(first) == 0 {
		if rank != procedure.Foreman {
			return "", &procedure.FieldError{Path: "rank", Rule: "first-is-foreman",
				Text: "the first person of a workshop is a foreman, who then enrols the others"}
		}
		return "", nil
	}
	by, err := s.actor(ctx, tx)
	if err != nil {
		return "", err
	}
	if by.Rank != procedure.Foreman {
		return "", errRank
	}
	return by.Person, nil
}

// putPerson writes a person's two documents, which keep the same versions.
func (s *Server) putPerson(tx store.Tx, req mutation, id, by string, at time.Time, p personDoc, n nameDoc, expected int64) (answer, error) {
	proof, err := sealOf(s.options.Random, req)
	if err != nil {
		return answer{}, err
	}
	version, err := putDocument(tx, kindPerson, id, by, at, written[personDoc]{Value: p}, expected)
	if err != nil {
		return answer{}, err
	}
	if _, err := putDocument(tx, kindName, id, by, at, written[nameDoc]{Value: n, Seal: proof}, expected); err != nil {
		return answer{}, err
	}
	return answer{ID: id, Version: version}, nil
}

// ListPeople lists people in the order of their ids.
func (s personService) ListPeople(ctx context.Context, req *pb.ListPeopleRequest) (*pb.ListPeopleResponse, error) {
	var f fields
	var after string
	size := f.page(req, usualPages, &after)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.ListPeopleResponse{}
	err := s.view(ctx, func(r store.Reader) error {
		docs, err := r.Documents(store.DocumentQuery{Kind: kindPerson, After: after, Limit: size + 1})
		if err != nil {
			return fmt.Errorf("list people: %w", err)
		}
		if len(docs) > size {
			docs = docs[:size]
			if resp.NextPageToken, err = nextToken(req, docs[size-1].ID); err != nil {
				return err
			}
		}
		for _, d := range docs {
			p, err := readPerson(r, d.ID)
			if err != nil {
				return err
			}
			hideSkills(ctx, p)
			if !p.GetRetired() || req.GetIncludeRetired() {
				resp.People = append(resp.People, p)
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// hideSkills takes from a person what the caller need not see. Whoever works
// here may know who can do what, and ask that person to stay with the work;
// what shows it is for the person and the foremen. A stranger sees neither.
func hideSkills(ctx context.Context, p *pb.Person) {
	by, ok := principalOf(ctx)
	switch {
	case !ok:
		p.Skills = nil
	case by.Rank == procedure.Foreman || personName(by.Person) == p.GetName():
	default:
		for _, h := range p.GetSkills().GetHeld() {
			h.Evidence = ""
		}
	}
}

// readPerson reads a person, or gives a *missingError.
func readPerson(r store.Reader, id string) (*pb.Person, error) {
	d, person, err := readDocument[personDoc](r, kindPerson, id)
	if isMissing(err) {
		return nil, &missingError{kind: "person", name: personName(id)}
	}
	if err != nil {
		return nil, err
	}
	_, name, err := readDocument[nameDoc](r, kindName, id)
	if err != nil {
		return nil, err
	}
	return skilledToProto(id, d.Version, person, name), nil
}

// readPersonVersion reads a person as of a version.
func readPersonVersion(r store.Reader, id string, version int64) (*pb.Person, error) {
	_, person, err := readVersion[personDoc](r, kindPerson, id, version)
	if err != nil {
		return nil, err
	}
	_, name, err := readVersion[nameDoc](r, kindName, id, version)
	if err != nil {
		return nil, err
	}
	return skilledToProto(id, version, person, name), nil
}
