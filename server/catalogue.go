package server

import (
	"errors"
	"fmt"
	"slices"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// A catalogue is what a server plans by and checks sheets against. It never
// changes: another one takes its place.
type catalogue struct {
	procedures *procedureIndex
	vocabulary *procedure.Vocabulary
	contacts   []procedure.Contact
	// editions says which revision was in force from when on, as far back as
	// this server has run.
	editions []audit.EditionSince
}

// UseCatalogue plans by these procedures from now on, and checks sheets against
// this vocabulary. Jobs that are open keep the plan that they have; a call that
// is being answered may still see the catalogue of before. On an error nothing
// has changed. Nothing that is handed over may be changed afterwards.
func (s *Server) UseCatalogue(procedures []*procedure.Resolved, vocabulary *procedure.Vocabulary, contacts []procedure.Contact) error {
	if vocabulary == nil {
		return errors.New("use catalogue: a vocabulary is required")
	}
	index, err := newProcedureIndex(procedures)
	if err != nil {
		return fmt.Errorf("use catalogue: %w", err)
	}
	s.planning.Lock()
	defer s.planning.Unlock()
	s.known.Store(&catalogue{procedures: index, vocabulary: vocabulary, contacts: contacts, editions: s.editionsWith(index)})
	return nil
}

// editionsWith adds what is new in an index, from now on, to the editions that
// were in force.
func (s *Server) editionsWith(index *procedureIndex) []audit.EditionSince {
	var out []audit.EditionSince
	before := map[string]string{}
	if known := s.known.Load(); known != nil {
		out = slices.Clone(known.editions)
		for id, p := range known.procedures.byID {
			before[id] = p.Revision.String()
		}
	}
	now := s.now()
	for _, id := range index.ids {
		if r := index.byID[id].Revision.String(); r != before[id] {
			out = append(out, audit.EditionSince{Procedure: id, Revision: r, Since: now})
		}
	}
	return out
}

func (s *Server) editions() []audit.EditionSince { return s.known.Load().editions }

func (s *Server) procedures() *procedureIndex       { return s.known.Load().procedures }
func (s *Server) vocabulary() *procedure.Vocabulary { return s.known.Load().vocabulary }
func (s *Server) contacts() []procedure.Contact     { return s.known.Load().contacts }
