package server

import (
	"context"
	"fmt"

	"google.golang.org/protobuf/proto"

	"github.com/tightwright/tightwright/procedure/audit"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

var auditPages = pageSizes{usual: 20, most: 50}

// mostAuditBytes is where a page of AuditAll ends, whatever its size.
const mostAuditBytes = mostResponseBytes / 2

type auditService struct {
	pb.UnimplementedAuditServiceServer
	*Server
}

// AuditBuild examines every job of a build, and the bike as a whole.
func (s auditService) AuditBuild(ctx context.Context, req *pb.AuditBuildRequest) (*pb.AuditBuildResponse, error) {
	var f fields
	build, err := parseID(builds, req.GetBuild())
	f.take("build", err)
	if err := f.err(); err != nil {
		return nil, err
	}
	var findings []audit.Finding
	err = s.view(ctx, func(r store.Reader) error {
		if err := s.hasBuild(r, build); err != nil {
			return err
		}
		view, err := s.auditView(r)
		if err != nil {
			return err
		}
		findings, err = s.auditBuild(ctx, r, build, view)
		return err
	})
	if err != nil {
		return nil, err
	}
	return &pb.AuditBuildResponse{Findings: each(findings, findingToProto(build)), Summary: summaryToProto(findings)}, nil
}

// AuditJob examines one job, open or closed.
func (s auditService) AuditJob(ctx context.Context, req *pb.AuditJobRequest) (*pb.AuditJobResponse, error) {
	var f fields
	build, job, err := parseUnder(jobs, req.GetJob())
	f.take("job", err)
	if err := f.err(); err != nil {
		return nil, err
	}
	var findings []audit.Finding
	err = s.view(ctx, func(r store.Reader) error {
		view, err := s.auditView(r)
		if err != nil {
			return err
		}
		return s.reading.with(r, s.workshop(ctx), build, func(f *fold) error {
			if _, ok := f.build.Job(job); !ok {
				return &missingError{kind: "job", name: req.GetJob()}
			}
			findings, err = audit.Job(f.build, job, view)
			return err
		})
	})
	if err != nil {
		return nil, err
	}
	return &pb.AuditJobResponse{Findings: each(findings, findingToProto(build)), Summary: summaryToProto(findings)}, nil
}

// AuditAll examines all builds, by id.
func (s auditService) AuditAll(ctx context.Context, req *pb.AuditAllRequest) (*pb.AuditAllResponse, error) {
	var f fields
	var after string
	size := f.page(req, auditPages, &after)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.AuditAllResponse{}
	err := s.view(ctx, func(r store.Reader) error {
		docs, err := r.Documents(store.DocumentQuery{Kind: kindSheet, After: after, Limit: size + 1})
		if err != nil {
			return fmt.Errorf("list builds: %w", err)
		}
		view, err := s.auditView(r)
		if err != nil {
			return err
		}
		bytes := 0
		for i, d := range docs {
			if i == size || bytes > mostAuditBytes {
				resp.NextPageToken, err = nextToken(req, docs[i-1].ID)
				return err
			}
			findings, err := s.auditBuild(ctx, r, d.ID, view)
			if err != nil {
				return err
			}
			one := &pb.BuildAudit{Build: buildName(d.ID), Findings: each(findings, findingToProto(d.ID)), Summary: summaryToProto(findings)}
			resp.Builds = append(resp.Builds, one)
			bytes += proto.Size(one)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// ListAuditRules says what each rule looks for.
func (s auditService) ListAuditRules(context.Context, *pb.ListAuditRulesRequest) (*pb.ListAuditRulesResponse, error) {
	return &pb.ListAuditRulesResponse{Rules: each(audit.Rules(), func(r audit.Rule) *pb.AuditRule {
		return &pb.AuditRule{Rule: r.Code, LooksFor: r.Looks}
	})}, nil
}

func (s *Server) auditBuild(ctx context.Context, r store.Reader, build string, view audit.View) (findings []audit.Finding, err error) {
	err = s.reading.with(r, s.workshop(ctx), build, func(f *fold) error {
		findings, err = audit.Build(f.build, view)
		return err
	})
	return findings, err
}

// auditView is what the auditor knows and the bench did not: the tools with
// their calibrations of today, and who had which rank and skills when.
func (s *Server) auditView(r store.Reader) (audit.View, error) {
	all, err := rack(r)
	if err != nil {
		return audit.View{}, err
	}
	v := audit.View{At: s.now(), Tools: all, Editions: s.editions()}
	err = eachPerson(r, func(person string) error {
		ranks, skills, err := personHistory(r, person)
		v.Ranks, v.Skills = append(v.Ranks, ranks...), append(v.Skills, skills...)
		return err
	})
	return v, err
}
