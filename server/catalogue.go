package server

import (
	"errors"
	"fmt"

	"github.com/tightwright/tightwright/procedure"
)

// A catalogue is what a server plans by and checks sheets against. It never
// changes: another one takes its place.
type catalogue struct {
	procedures *procedureIndex
	vocabulary *procedure.Vocabulary
	contacts   []procedure.Contact
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
	s.known.Store(&catalogue{procedures: index, vocabulary: vocabulary, contacts: contacts})
	return nil
}

func (s *Server) procedures() *procedureIndex       { return s.known.Load().procedures }
func (s *Server) vocabulary() *procedure.Vocabulary { return s.known.Load().vocabulary }
func (s *Server) contacts() []procedure.Contact     { return s.known.Load().contacts }
