package main

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"time"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/metadata"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/types/known/durationpb"
	"google.golang.org/protobuf/types/known/timestamppb"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/procedure/script"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// A wireBench is a bench at the other end of a gRPC connection. It uses
// nothing but the public API, as any client would.
type wireBench struct {
	// ctx is of the one run that this bench is made for: a script's bench has no contexts.
	ctx      context.Context //nolint:containedctx // see above
	bench    pb.BenchServiceClient
	builds   pb.BuildServiceClient
	people   pb.PersonServiceClient
	sessions pb.SessionServiceClient
	tools    pb.ToolServiceClient
	audits   pb.AuditServiceClient
	// procedures lists what can be planned.
	procedures pb.CatalogueServiceClient
	// hall is what only the machine of the server can do.
	hall hall
	// persons maps the script's names to people, names theirs back, tokens the
	// sessions by person and tablet.
	persons map[string]*pb.Person
	names   map[string]string
	tokens  map[string]string
	first   string
	now     time.Time
	seq     int64
}

// A hall is what is done at the server itself: clock sets its time, so that a
// week passes in a moment, and catalogue the procedures it plans by.
type hall struct {
	clock     func(time.Time)
	catalogue func(*catalogue.Catalogue) error
}

func newWireBench(ctx context.Context, conn grpc.ClientConnInterface, at hall) *wireBench {
	return &wireBench{
		ctx: ctx, hall: at, persons: map[string]*pb.Person{}, names: map[string]string{}, tokens: map[string]string{},
		bench: pb.NewBenchServiceClient(conn), builds: pb.NewBuildServiceClient(conn),
		people: pb.NewPersonServiceClient(conn), sessions: pb.NewSessionServiceClient(conn),
		tools: pb.NewToolServiceClient(conn), audits: pb.NewAuditServiceClient(conn),
		procedures: pb.NewCatalogueServiceClient(conn),
	}
}

// as returns the context of a call by a person at a tablet, in a session of
// that day.
func (w *wireBench) as(at script.Hand) (context.Context, error) {
	w.set(at.Now)
	return w.session(at.Person, at.Tablet)
}

func (w *wireBench) set(now time.Time) {
	w.now = now
	w.hall.clock(now)
}

func (w *wireBench) session(person, tablet string) (context.Context, error) {
	key := person + " " + tablet + " " + w.now.Format(time.DateOnly)
	if _, ok := w.tokens[key]; !ok {
		r, err := w.sessions.StartSession(w.ctx, &pb.StartSessionRequest{Person: w.persons[person].GetName(), Tablet: tablet})
		if err != nil {
			return nil, fmt.Errorf("start session of %s: %w", person, err)
		}
		w.tokens[key] = r.Token
	}
	return metadata.AppendToOutgoingContext(w.ctx, "authorization", "Bearer "+w.tokens[key]), nil
}

// office returns the context of a call by the first person, who sets the
// workshop up.
func (w *wireBench) office() (context.Context, error) {
	if w.first == "" {
		return w.ctx, nil
	}
	return w.session(w.first, "office")
}

// Plan implements script.Bench.
func (w *wireBench) Plan(at script.Hand, id string) (*script.PlanView, error) {
	ctx, err := w.as(at)
	if err != nil {
		return nil, err
	}
	r, err := w.builds.PreviewPlan(ctx, &pb.PreviewPlanRequest{Bike: &pb.PreviewPlanRequest_Build{Build: "builds/" + at.Build}, Procedure: "procedures/" + id})
	if err != nil {
		return nil, err
	}
	return viewWirePlan(r.Plan), nil
}

// Job implements script.Bench.
func (w *wireBench) Job(at script.Hand, job string) (*script.JobView, error) {
	ctx, err := w.as(at)
	if err != nil {
		return nil, err
	}
	r, err := w.bench.GetJob(ctx, &pb.GetJobRequest{Name: jobOf(at, job)})
	if err != nil {
		return nil, err
	}
	return viewWireJob(r.Job)
}

func jobOf(at script.Hand, job string) string     { return "builds/" + at.Build + "/jobs/" + job }
func entryOf(at script.Hand, entry string) string { return "builds/" + at.Build + "/entries/" + entry }

// Do implements script.Bench.
func (w *wireBench) Do(at script.Hand, r script.Request) (*script.Outcome, error) {
	ctx, err := w.as(at)
	if err != nil {
		return nil, err
	}
	var out *script.Outcome
	switch {
	case r.Open != nil:
		out, err = w.open(ctx, at, r)
	case r.Part != nil:
		out, err = w.swap(ctx, at, r)
	default:
		out, err = w.append(ctx, at, r)
	}
	if refused := refusal(err); refused != nil {
		return refused, nil
	}
	return out, err
}

func (w *wireBench) open(ctx context.Context, at script.Hand, r script.Request) (*script.Outcome, error) {
	supervisor, ok := w.persons[r.Open.Supervisor]
	if r.Open.Supervisor != "" && !ok {
		return nil, fmt.Errorf("supervisor %s: %w", r.Open.Supervisor, procedure.ErrNotFound)
	}
	resp, err := w.bench.OpenJob(ctx, &pb.OpenJobRequest{RequestId: newRequestID(), Build: "builds/" + at.Build,
		JobId: r.Open.Job, Procedure: "procedures/" + r.Open.Procedure, EntryId: r.Entry,
		Supervisor: supervisor.GetName()})
	if err != nil {
		return nil, err
	}
	return &script.Outcome{Seq: resp.Job.LastSeq, Supervisor: w.names[resp.Job.Supervisor]}, nil
}

func (w *wireBench) swap(ctx context.Context, at script.Hand, r script.Request) (*script.Outcome, error) {
	resp, err := w.bench.SwapPart(ctx, &pb.SwapPartRequest{RequestId: newRequestID(), Job: jobOf(at, r.Part.Job),
		Part: wirePart(r.Part.Part), Reason: r.Note, EntryId: r.Entry})
	if err != nil {
		return nil, err
	}
	return wireOutcome(resp.Entry)
}

func (w *wireBench) append(ctx context.Context, at script.Hand, r script.Request) (*script.Outcome, error) {
	w.seq++
	c, err := w.command(ctx, at, r)
	if err != nil {
		return nil, err
	}
	c.EntryId, c.TabletSeq = r.Entry, w.seq
	c.TabletTime = timestamppb.New(at.TabletTime())
	c.Monotonic = durationpb.New(at.When().Sub(time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC)))
	clock := &pb.Clock{Tablet: at.Tablet, Boot: at.Tablet + "-boot"}
	if !at.Unmeasured {
		clock.Offset = durationpb.New(-at.Ahead)
	}
	resp, err := w.bench.AppendEntries(ctx, &pb.AppendEntriesRequest{RequestId: newRequestID(), Build: "builds/" + at.Build,
		Clock: clock, Commands: []*pb.Command{c}})
	if err != nil {
		return nil, err
	}
	return wireOutcome(resp.Outcomes[0].GetEntry())
}

// Audit implements script.Bench.
func (w *wireBench) Audit(at script.Hand) ([]script.Found, error) {
	ctx, err := w.as(at)
	if err != nil {
		return nil, err
	}
	r, err := w.audits.AuditBuild(ctx, &pb.AuditBuildRequest{Build: "builds/" + at.Build})
	if err != nil {
		return nil, err
	}
	var out []script.Found
	for _, f := range r.Findings {
		out = append(out, script.Found{Rule: f.Rule, Risk: procedure.Risk(f.Risk), Job: lastPart(f.Job), Step: f.Step, Text: f.Text,
			Status: audit.Status(f.Status), Note: f.Note})
	}
	return out, nil
}

// refusal reads the rule and the reason out of an error, or returns nil when
// the error is no refusal.
func refusal(err error) *script.Outcome {
	s, ok := status.FromError(err)
	if err == nil || !ok || s.Code() != codes.FailedPrecondition {
		return nil
	}
	out := &script.Outcome{}
	blocked := false
	for _, d := range s.Details() {
		switch d := d.(type) {
		case *errdetails.ErrorInfo:
			blocked = d.Reason == "PLAN_BLOCKED"
		case *errdetails.PreconditionFailure:
			out.Refused, out.Text = d.Violations[0].Type, d.Violations[0].Description
		}
	}
	if blocked {
		out.Refused, out.Text = procedure.RuleBlocked, "the plan is stopped by a finding: "+out.Text
	}
	if out.Refused == "" {
		return nil
	}
	return out
}

var errNoEntry = errors.New("the answer holds no entry")

// newRequestID returns a random UUID (RFC 9562, version 4).
func newRequestID() string {
	var b [16]byte
	_, _ = rand.Read(b[:]) // never fails on supported systems
	b[6], b[8] = b[6]&0x0f|0x40, b[8]&0x3f|0x80
	h := hex.EncodeToString(b[:])
	return h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:]
}
