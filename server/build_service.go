package server

import (
	"context"
	"fmt"
	"time"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

type buildService struct {
	pb.UnimplementedBuildServiceServer
	*Server
}

// CreateBuild adds a build with its sheet.
func (s buildService) CreateBuild(ctx context.Context, req *pb.CreateBuildRequest) (*pb.CreateBuildResponse, error) {
	f := mutating(req)
	f.id("build_id", req.GetBuildId())
	sheet := f.sheetFromProto(req.GetBuildId(), req.GetSheet(), s.vocabulary())
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.CreateBuildResponse{}
	err := s.mutate(ctx, req, s.sheetChange(ctx, req, &resp.Build, func(tx store.Tx, at time.Time) (answer, error) {
		by, err := s.actor(ctx, tx)
		if err != nil {
			return answer{}, err
		}
		if _, err := tx.Document(kindSheet, sheet.Build); err == nil {
			return answer{}, &takenError{kind: "build", name: buildName(sheet.Build)}
		} else if !isMissing(err) {
			return answer{}, err
		}
		return s.putSheet(tx, at, req, by.Person, sheet, 0)
	}))
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// UpdateSheet replaces the sheet of a build.
func (s buildService) UpdateSheet(ctx context.Context, req *pb.UpdateSheetRequest) (*pb.UpdateSheetResponse, error) {
	f := mutating(req)
	id, err := parseID(builds, req.GetBuild())
	f.take("build", err)
	expected := f.etag("etag", req.GetEtag())
	sheet := f.sheetFromProto(id, req.GetSheet(), s.vocabulary())
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.UpdateSheetResponse{}
	err = s.mutate(ctx, req, s.sheetChange(ctx, req, &resp.Build, func(tx store.Tx, at time.Time) (answer, error) {
		by, err := s.actor(ctx, tx)
		if err != nil {
			return answer{}, err
		}
		if _, _, err := readSheet(tx, id); err != nil {
			return answer{}, err
		}
		return s.putSheet(tx, at, req, by.Person, sheet, expected)
	}))
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// putSheet writes a sheet as the next version.
func (s *Server) putSheet(tx store.Tx, at time.Time, req mutation, by string, sheet *procedure.Sheet, expected int64) (answer, error) {
	proof, err := sealOf(s.options.Random, req)
	if err != nil {
		return answer{}, err
	}
	version, err := putDocument(tx, kindSheet, sheet.Build, by, at, written[*procedure.Sheet]{Value: sheet, Seal: proof}, expected)
	if err != nil {
		return answer{}, staleEtag(err, buildName(sheet.Build))
	}
	head, err := tx.Head(sheet.Build)
	return answer{ID: sheet.Build, Version: version, Head: head}, err
}

// sheetChange is the change behind CreateBuild and UpdateSheet.
func (s *Server) sheetChange(ctx context.Context, req mutation, into **pb.Build, do func(tx store.Tx, at time.Time) (answer, error)) change {
	return change{
		do:   do,
		same: func(r store.Reader, a answer) (bool, error) { return sealed(r, kindSheet, a.ID, a.Version, req) },
		show: func(r store.Reader, a answer) error {
			d, sheet, err := readVersion[*procedure.Sheet](r, kindSheet, a.ID, a.Version)
			if err != nil {
				return err
			}
			b, err := foldAt(r, s.writing.plans, foldKey{s.workshop(ctx), d.ID}, a.Head)
			if err != nil {
				return err
			}
			*into = buildToProto(d, sheet, b)
			return nil
		},
	}
}

// readSheet reads the sheet of a build, or gives a *missingError.
func readSheet(r store.Reader, build string) (store.Document, *procedure.Sheet, error) {
	d, sheet, err := readDocument[*procedure.Sheet](r, kindSheet, build)
	if isMissing(err) {
		err = &missingError{kind: "build", name: buildName(build)}
	}
	if err == nil && sheet == nil {
		sheet = &procedure.Sheet{Build: build} // it was erased
	}
	return d, sheet, err
}

// GetBuild gives a build.
func (s buildService) GetBuild(ctx context.Context, req *pb.GetBuildRequest) (*pb.GetBuildResponse, error) {
	var f fields
	id, err := parseID(builds, req.GetName())
	f.take("name", err)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.GetBuildResponse{}
	err = s.view(ctx, func(r store.Reader) error {
		d, sheet, err := readSheet(r, id)
		if err != nil {
			return err
		}
		resp.Build, err = s.foldedBuild(ctx, r, d, sheet)
		return err
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// ListBuilds lists the builds by id.
func (s buildService) ListBuilds(ctx context.Context, req *pb.ListBuildsRequest) (*pb.ListBuildsResponse, error) {
	var f fields
	var after string
	size := f.page(req, foldPages, &after)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.ListBuildsResponse{}
	err := s.view(ctx, func(r store.Reader) error {
		docs, err := r.Documents(store.DocumentQuery{Kind: kindSheet, After: after, Limit: size + 1})
		if err != nil {
			return fmt.Errorf("list builds: %w", err)
		}
		if len(docs) > size {
			docs = docs[:size]
			if resp.NextPageToken, err = nextToken(req, docs[size-1].ID); err != nil {
				return err
			}
		}
		for _, d := range docs {
			_, sheet, err := decodeDocument[*procedure.Sheet](d)
			if err != nil {
				return err
			}
			b, err := s.foldedBuild(ctx, r, d, sheet)
			if err != nil {
				return err
			}
			resp.Builds = append(resp.Builds, b)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// foldedBuild shows a build with what its record says of it.
func (s *Server) foldedBuild(ctx context.Context, r store.Reader, d store.Document, sheet *procedure.Sheet) (out *pb.Build, err error) {
	err = s.reading.with(r, s.workshop(ctx), d.ID, func(f *fold) error {
		out = buildToProto(d, sheet, f.build)
		return nil
	})
	return out, err
}
