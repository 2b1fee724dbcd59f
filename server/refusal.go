package server

import (
	"errors"

	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/protoadapt"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// A refusal is why one intention was refused. It is stored with answers, so it
// holds nothing that people wrote.
type refusal struct {
	Rule       string `json:"rule"`
	Subject    string `json:"subject,omitempty"`
	Text       string `json:"text"`
	ChangedSeq int64  `json:"changed_seq,omitempty"`
}

// refusalOf takes the refusal out of an error of Decide, or reports false.
func refusalOf(err error) (refusal, bool) {
	if e, ok := errors.AsType[*procedure.RefusedError](err); ok {
		return refusal{Rule: e.Rule, Subject: e.Subject, Text: e.Text}, true
	}
	if e, ok := errors.AsType[*procedure.ConflictError](err); ok {
		return refusal{Rule: procedure.RuleConflict, Text: e.Error(), ChangedSeq: e.Changed}, true
	}
	return refusal{}, false
}

func (r refusal) isConflict() bool { return r.Rule == procedure.RuleConflict }

// A refusedError ends a call of which nothing was recorded.
type refusedError struct {
	refusals []refusal
	// conflict shows the entries of the others, where one of the refusals is a
	// conflict.
	conflict *pb.Conflict
}

func (e *refusedError) Error() string { return andMore(e.refusals[0].Text, len(e.refusals)-1) }

func (e *refusedError) failure() failure {
	f := failure{codes.FailedPrecondition, pb.ErrorReason_ERROR_REASON_COMMAND_REFUSED, e.Error(),
		[]protoadapt.MessageV1{precondition(e.refusals...)}}
	if e.conflict == nil {
		return f
	}
	f.code, f.reason = codes.Aborted, pb.ErrorReason_ERROR_REASON_CHANGED_MEANWHILE
	f.details = append(f.details, protoadapt.MessageV1Of(e.conflict))
	for _, r := range e.refusals {
		if r.isConflict() {
			f.text = r.Text
			break
		}
	}
	return f
}

// mostConflictBytes bounds the entries in a Conflict detail: details travel in
// a header, which most clients bound at 8 KiB.
const mostConflictBytes = 2500

// conflictOf shows what was recorded after based. entries are those after it,
// oldest first.
func conflictOf(based, changed, head int64, entries []*pb.Entry) *pb.Conflict {
	c := &pb.Conflict{BasedOnSeq: based, ChangedSeq: changed, HeadSeq: head}
	size := 0
	for _, e := range entries {
		size += proto.Size(e)
		if size > mostConflictBytes {
			c.Truncated = true
			break
		}
		c.Entries = append(c.Entries, e)
	}
	return c
}

// A blockedError says that findings stop a plan.
type blockedError struct{ findings []procedure.PlanFinding }

func (e *blockedError) Error() string {
	return andMore("the plan is stopped: "+e.findings[0].Text, len(e.findings)-1)
}

// checkBlocked returns a *blockedError when a finding stops the plan.
func checkBlocked(p *procedure.Plan) error {
	var e blockedError
	for _, f := range p.Findings {
		if f.Blocks {
			e.findings = append(e.findings, f)
		}
	}
	if len(e.findings) == 0 {
		return nil
	}
	return &e
}

func (e *blockedError) failure() failure {
	refusals := make([]refusal, 0, len(e.findings))
	for _, f := range e.findings {
		subject := f.About
		if f.Step != "" {
			subject = f.Step + ": " + f.About
		}
		refusals = append(refusals, refusal{Rule: f.Rule, Subject: subject, Text: f.Text})
	}
	return failure{codes.FailedPrecondition, pb.ErrorReason_ERROR_REASON_PLAN_BLOCKED, e.Error(),
		[]protoadapt.MessageV1{precondition(refusals...)}}
}
