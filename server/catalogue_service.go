package server

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// A procedureIndex finds the procedures that the server works by.
type procedureIndex struct {
	ids  []string // in order
	byID map[string]*procedure.Resolved
}

func newProcedureIndex(all []*procedure.Resolved) (*procedureIndex, error) {
	index := &procedureIndex{byID: map[string]*procedure.Resolved{}}
	for _, p := range all {
		if _, twice := index.byID[p.ID]; twice {
			return nil, fmt.Errorf("procedure %s is there twice", p.ID)
		}
		index.byID[p.ID] = p
		index.ids = append(index.ids, p.ID)
	}
	slices.Sort(index.ids)
	return index, nil
}

// find returns a procedure, or a *missingError.
func (x *procedureIndex) find(id string) (*procedure.Resolved, error) {
	p, ok := x.byID[id]
	if !ok {
		return nil, &missingError{kind: "procedure", name: procedureName(id)}
	}
	return p, nil
}

// all lists the procedures in the order of their ids.
func (x *procedureIndex) all() []*procedure.Resolved {
	out := make([]*procedure.Resolved, 0, len(x.ids))
	for _, id := range x.ids {
		out = append(out, x.byID[id])
	}
	return out
}

type catalogueService struct {
	pb.UnimplementedCatalogueServiceServer
	*Server
}

// ListProcedures lists the procedures by id, without steps and joints.
func (s catalogueService) ListProcedures(_ context.Context, req *pb.ListProceduresRequest) (*pb.ListProceduresResponse, error) {
	var f fields
	var after string
	size := f.page(req, usualPages, &after)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.ListProceduresResponse{}
	index := s.procedures() // one and the same for the whole page
	at, found := slices.BinarySearch(index.ids, after)
	if found {
		at++
	}
	for _, id := range index.ids[at:] {
		if len(resp.Procedures) == size {
			token, err := nextToken(req, strings.TrimPrefix(resp.Procedures[size-1].GetName(), procedures+"/"))
			if err != nil {
				return nil, err
			}
			resp.NextPageToken = token
			break
		}
		resp.Procedures = append(resp.Procedures, procedureHeadToProto(index.byID[id]))
	}
	return resp, nil
}

// GetProcedure gives one procedure in full.
func (s catalogueService) GetProcedure(_ context.Context, req *pb.GetProcedureRequest) (*pb.GetProcedureResponse, error) {
	var f fields
	id, err := parseID(procedures, req.GetName())
	f.take("name", err)
	if err := f.err(); err != nil {
		return nil, err
	}
	p, err := s.procedures().find(id)
	if err != nil {
		return nil, err
	}
	return &pb.GetProcedureResponse{Procedure: procedureToProto(p)}, nil
}

// ListPartRoles gives the words of build sheets.
func (s catalogueService) ListPartRoles(context.Context, *pb.ListPartRolesRequest) (*pb.ListPartRolesResponse, error) {
	return vocabularyToProto(s.vocabulary()), nil
}

// ListContacts gives what goes between which materials.
func (s catalogueService) ListContacts(context.Context, *pb.ListContactsRequest) (*pb.ListContactsResponse, error) {
	return &pb.ListContactsResponse{Contacts: each(s.contacts(), contactToProto)}, nil
}
