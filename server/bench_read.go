package server

import (
	"context"
	"fmt"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// GetJob gives a job with its steps and its plan.
func (s benchService) GetJob(ctx context.Context, req *pb.GetJobRequest) (*pb.GetJobResponse, error) {
	var f fields
	build, job, err := parseUnder(jobs, req.GetName())
	f.take("name", err)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.GetJobResponse{}
	err = s.view(ctx, func(r store.Reader) error {
		return s.reading.with(r, s.workshop(ctx), build, func(f *fold) error {
			if _, ok := f.build.Job(job); !ok {
				return &missingError{kind: "job", name: req.GetName()}
			}
			resp.HeadSeq = f.build.Seq
			resp.Job, err = jobToProto(f.build, job, s.now(), true)
			return err
		})
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// ListJobs lists jobs, the latest opened first.
func (s benchService) ListJobs(ctx context.Context, req *pb.ListJobsRequest) (*pb.ListJobsResponse, error) {
	var f fields
	var after store.JobRow
	build := ""
	if req.GetBuild() != "" {
		var err error
		build, err = parseID(builds, req.GetBuild())
		f.take("build", err)
	}
	size := f.page(req, foldPages, &after)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.ListJobsResponse{}
	err := s.view(ctx, func(r store.Reader) error {
		if build != "" {
			if err := s.hasBuild(r, build); err != nil {
				return err
			}
		}
		rows, err := r.Jobs(build, after, size+1)
		if err != nil {
			return fmt.Errorf("list jobs: %w", err)
		}
		if len(rows) > size {
			rows = rows[:size]
			if resp.NextPageToken, err = nextToken(req, rows[size-1]); err != nil {
				return err
			}
		}
		for _, row := range rows {
			if err := s.addJob(ctx, r, row, resp); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

func (s *Server) addJob(ctx context.Context, r store.Reader, row store.JobRow, resp *pb.ListJobsResponse) error {
	return s.reading.with(r, s.workshop(ctx), row.Build, func(f *fold) error {
		j, err := jobToProto(f.build, row.Job, s.now(), false)
		if err != nil {
			return err
		}
		resp.Jobs = append(resp.Jobs, j)
		return nil
	})
}

// ListEntries lists the entries of a build in order.
func (s benchService) ListEntries(ctx context.Context, req *pb.ListEntriesRequest) (*pb.ListEntriesResponse, error) {
	var f fields
	build, err := parseID(builds, req.GetBuild())
	f.take("build", err)
	after := f.afterSeq(req.GetAfterSeq())
	size := f.page(req, entryPages, &after)
	if err := f.err(); err != nil {
		return nil, err
	}
	resp := &pb.ListEntriesResponse{}
	err = s.view(ctx, func(r store.Reader) error {
		if err := s.hasBuild(r, build); err != nil {
			return err
		}
		all, err := r.Entries(build, after, size+1)
		if err != nil {
			return fmt.Errorf("list entries: %w", err)
		}
		if len(all) > size {
			all = all[:size]
			if resp.NextPageToken, err = nextToken(req, all[size-1].Seq); err != nil {
				return err
			}
		}
		resp.Entries, err = entriesToProto(all)
		return err
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

func (f *fields) afterSeq(seq int64) int64 {
	if seq < 0 {
		f.add("after_seq", "out-of-range", "a sequence cannot be negative: 0 starts with the first entry")
	}
	return seq
}
