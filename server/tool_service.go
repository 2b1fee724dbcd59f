package server

import (
	"context"
	"fmt"
	"time"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

type toolService struct {
	pb.UnimplementedToolServiceServer
	*Server
}

// GetTool gives a tool.
func (s toolService) GetTool(ctx context.Context, req *pb.GetToolRequest) (*pb.GetToolResponse, error) {
	var f fields
	id, err := parseID(tools, req.GetName())
	f.take("name", err)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.GetToolResponse{}
	err = s.view(ctx, func(r store.Reader) error {
		d, t, err := readTool(r, id)
		if err != nil {
			return err
		}
		resp.Tool = toolToProto(&t, d.Version)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// ListTools lists the tools by id.
func (s toolService) ListTools(ctx context.Context, req *pb.ListToolsRequest) (*pb.ListToolsResponse, error) {
	var f fields
	var after string
	size := f.page(req, usualPages, &after)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.ListToolsResponse{}
	err := s.view(ctx, func(r store.Reader) error {
		docs, err := r.Documents(store.DocumentQuery{Kind: kindTool, After: after, Limit: size + 1})
		if err != nil {
			return fmt.Errorf("list tools: %w", err)
		}
		if len(docs) > size {
			docs = docs[:size]
			if resp.NextPageToken, err = nextToken(req, docs[size-1].ID); err != nil {
				return err
			}
		}
		for _, d := range docs {
			_, t, err := decodeDocument[procedure.Tool](d)
			if err != nil {
				return err
			}
			resp.Tools = append(resp.Tools, toolToProto(&t, d.Version))
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// readTool reads a tool, or gives a *missingError.
func readTool(r store.Reader, id string) (store.Document, procedure.Tool, error) {
	d, t, err := readDocument[procedure.Tool](r, kindTool, id)
	if isMissing(err) {
		err = &missingError{kind: "tool", name: toolName(id)}
	}
	return d, t, err
}

// rack reads all tools, in the order of their ids.
func rack(r store.Reader) ([]procedure.Tool, error) {
	var all []procedure.Tool
	after := ""
	for {
		docs, err := r.Documents(store.DocumentQuery{Kind: kindTool, After: after, Limit: store.MaxPage})
		if err != nil {
			return nil, fmt.Errorf("list tools: %w", err)
		}
		for _, d := range docs {
			_, t, err := decodeDocument[procedure.Tool](d)
			if err != nil {
				return nil, err
			}
			all = append(all, t)
			after = d.ID
		}
		if len(docs) < store.MaxPage {
			return all, nil
		}
	}
}

// changeTool reads a tool, edits it, checks it and writes the next version.
func (s *Server) changeTool(ctx context.Context, tx store.Tx, at time.Time, req mutation, id string, expected int64, edit func(*procedure.Tool) error) (answer, error) {
	by, err := s.actor(ctx, tx)
	if err != nil {
		return answer{}, err
	}
	d, t, err := readTool(tx, id)
	if err != nil {
		return answer{}, err
	}
	if expected == 0 {
		expected = d.Version
	}
	if err := edit(&t); err != nil {
		return answer{}, err
	}
	if err := repath("tool", toolFields, t.Check()); err != nil {
		return answer{}, err
	}
	a, err := s.putTool(tx, at, req, by.Person, &t, expected)
	return a, staleEtag(err, toolName(id))
}

func (s *Server) putTool(tx store.Tx, at time.Time, req mutation, by string, t *procedure.Tool, expected int64) (answer, error) {
	proof, err := sealOf(s.options.Random, req)
	if err != nil {
		return answer{}, err
	}
	version, err := putDocument(tx, kindTool, t.ID, by, at, written[procedure.Tool]{Value: *t, Seal: proof}, expected)
	return answer{ID: t.ID, Version: version}, err
}

// toolChange is the change behind every mutation of a tool.
func toolChange(req mutation, into **pb.Tool, do func(tx store.Tx, at time.Time) (answer, error)) change {
	return change{
		do:   do,
		same: func(r store.Reader, a answer) (bool, error) { return sealed(r, kindTool, a.ID, a.Version, req) },
		show: func(r store.Reader, a answer) error {
			_, t, err := readVersion[procedure.Tool](r, kindTool, a.ID, a.Version)
			if err != nil {
				return err
			}
			*into = toolToProto(&t, a.Version)
			return nil
		},
	}
}
