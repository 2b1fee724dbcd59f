package server

import (
	"context"
	"errors"
	"fmt"
	"time"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/protoadapt"
	"google.golang.org/protobuf/types/known/durationpb"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server/store"
)

// ErrorDomain is the domain of every ErrorInfo that this server sends.
const ErrorDomain = "tightwright"

// retryAfter is what RetryInfo asks for.
const retryAfter = time.Second

// What the server itself refuses.
var (
	// ErrNoSession: the call shows no credentials, or none that count.
	ErrNoSession = errors.New("start a session as an enrolled person first")

	errRank         = errors.New("the person of this session may not do this")
	errRateLimited  = errors.New("too many calls: wait a moment")
	errTooSlow      = errors.New("the stream was read too slowly: watch again from the last sequence received")
	errShuttingDown = errors.New("the server shuts down: try again in a moment")
	errPictureQuota = errors.New("this build has as many pictures as it can have")
	errLastForeman  = errors.New("this is the last foreman: enrol another one first")
	errPanic        = errors.New("a fault of the server")
)

// A missingError says that a resource is not there.
type missingError struct{ kind, name string }

func (e *missingError) Error() string { return fmt.Sprintf("there is no %s %s", e.kind, e.name) }

// A takenError says that a resource is there already.
type takenError struct{ kind, name string }

func (e *takenError) Error() string { return fmt.Sprintf("there is a %s %s already", e.kind, e.name) }

// An etagError says that a resource has changed since it was read.
type etagError struct{ name string }

func (e *etagError) Error() string {
	return e.name + " has changed since it was read: read it again and repeat the change"
}

// A stateError says that a resource is not in the state for the call.
type stateError struct {
	reason        pb.ErrorReason
	rule, subject string
	text          string
}

func (e *stateError) Error() string { return e.text }

// A reusedError says that an entry id is stored with another content.
type reusedError struct{ path, entry string }

func (e *reusedError) Error() string {
	return fmt.Sprintf("entry id %s is recorded already with another content: make a new id", e.entry)
}

// A failure is one row of the table: how an error looks to a caller.
type failure struct {
	code    codes.Code
	reason  pb.ErrorReason
	text    string
	details []protoadapt.MessageV1
}

// failureOf is the one table from errors to codes.
func failureOf(err error) failure {
	if f, ok := typedFailure(err); ok {
		return f
	}
	for _, row := range sentinelFailures {
		if errors.Is(err, row.err) {
			f := failure{code: row.code, reason: row.reason, text: row.err.Error()}
			if row.retry {
				f.details = append(f.details, &errdetails.RetryInfo{RetryDelay: durationpb.New(retryAfter)})
			}
			return f
		}
	}
	return failure{code: codes.Internal, reason: pb.ErrorReason_ERROR_REASON_INTERNAL, text: errPanic.Error()}
}

var sentinelFailures = []struct {
	err    error
	code   codes.Code
	reason pb.ErrorReason
	retry  bool
}{
	{store.ErrRequestReused, codes.InvalidArgument, pb.ErrorReason_ERROR_REASON_REQUEST_ID_REUSED, false},
	{ErrNoSession, codes.Unauthenticated, pb.ErrorReason_ERROR_REASON_SESSION_REQUIRED, false},
	{errRank, codes.PermissionDenied, pb.ErrorReason_ERROR_REASON_RANK_TOO_LOW, false},
	{errRateLimited, codes.ResourceExhausted, pb.ErrorReason_ERROR_REASON_RATE_LIMITED, true},
	{errTooSlow, codes.ResourceExhausted, pb.ErrorReason_ERROR_REASON_WATCHER_TOO_SLOW, false},
	{errShuttingDown, codes.Unavailable, pb.ErrorReason_ERROR_REASON_SHUTTING_DOWN, true},
	{errPictureQuota, codes.ResourceExhausted, pb.ErrorReason_ERROR_REASON_PICTURE_QUOTA, false},
	{store.ErrBusy, codes.Unavailable, pb.ErrorReason_ERROR_REASON_STORE_BUSY, true},
	{store.ErrFull, codes.ResourceExhausted, pb.ErrorReason_ERROR_REASON_STORE_FULL, false},
	{store.ErrReadOnly, codes.Unavailable, pb.ErrorReason_ERROR_REASON_STORE_READ_ONLY, true},
	{store.ErrClosed, codes.Unavailable, pb.ErrorReason_ERROR_REASON_SHUTTING_DOWN, true},
	{context.DeadlineExceeded, codes.DeadlineExceeded, pb.ErrorReason_ERROR_REASON_DEADLINE, false},
	{context.Canceled, codes.Canceled, pb.ErrorReason_ERROR_REASON_CANCELED, false},
	{store.ErrCorrupt, codes.DataLoss, pb.ErrorReason_ERROR_REASON_INTERNAL, false},
}

// typedFailure knows the errors that carry what they are about.
func typedFailure(err error) (failure, bool) {
	if e, ok := errors.AsType[*refusedError](err); ok {
		return e.failure(), true
	}
	if e, ok := errors.AsType[*blockedError](err); ok {
		return e.failure(), true
	}
	if e, ok := errors.AsType[*reusedError](err); ok {
		return failure{codes.InvalidArgument, pb.ErrorReason_ERROR_REASON_ENTRY_ID_REUSED, e.Error(),
			[]protoadapt.MessageV1{badRequest(&procedure.FieldError{Path: e.path, Rule: "entry-id-reused", Text: e.Error()})}}, true
	}
	if e, ok := errors.AsType[*missingError](err); ok {
		f := failure{codes.NotFound, pb.ErrorReason_ERROR_REASON_NOT_FOUND, e.Error(),
			[]protoadapt.MessageV1{&errdetails.ResourceInfo{ResourceType: e.kind, ResourceName: e.name}}}
		if found := procedure.FieldErrors(err); len(found) > 0 {
			f.details = append(f.details, badRequest(found...))
		}
		return f, true
	}
	if e, ok := errors.AsType[*takenError](err); ok {
		return failure{codes.AlreadyExists, pb.ErrorReason_ERROR_REASON_ALREADY_EXISTS, e.Error(),
			[]protoadapt.MessageV1{&errdetails.ResourceInfo{ResourceType: e.kind, ResourceName: e.name}}}, true
	}
	if e, ok := errors.AsType[*etagError](err); ok {
		return failure{codes.Aborted, pb.ErrorReason_ERROR_REASON_ETAG_MISMATCH, e.Error(),
			[]protoadapt.MessageV1{&errdetails.ResourceInfo{ResourceName: e.name}}}, true
	}
	if e, ok := errors.AsType[*stateError](err); ok {
		return failure{codes.FailedPrecondition, e.reason, e.Error(),
			[]protoadapt.MessageV1{precondition(refusal{Rule: e.rule, Subject: e.subject, Text: e.text})}}, true
	}
	if found := procedure.FieldErrors(err); len(found) > 0 {
		return failure{codes.InvalidArgument, pb.ErrorReason_ERROR_REASON_FIELD_INVALID, fieldText(found),
			[]protoadapt.MessageV1{badRequest(found...)}}, true
	}
	return failure{}, false
}
