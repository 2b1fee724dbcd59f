package server_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/testing/protocmp"
)

// fails wants an error with this code, this reason and exactly these details,
// words aside.
func fails(t testing.TB, err error, code codes.Code, reason string, details ...proto.Message) *status.Status {
	t.Helper()
	require.Error(t, err)
	st := status.Convert(err)
	require.Equal(t, code, st.Code(), st.Message())
	require.NotEmpty(t, st.Message())
	got := make([]proto.Message, 0, len(st.Details()))
	for _, d := range st.Details() {
		m, ok := d.(proto.Message)
		require.True(t, ok, "%v", d)
		got = append(got, m)
	}
	want := append([]proto.Message{&errdetails.ErrorInfo{Reason: reason, Domain: "tightwright"}}, details...)
	require.Empty(t, cmp.Diff(want, got, protocmp.Transform(),
		protocmp.IgnoreFields(&errdetails.BadRequest_FieldViolation{}, "description"),
		protocmp.IgnoreFields(&errdetails.PreconditionFailure_Violation{}, "description"),
		protocmp.IgnoreFields(&errdetails.RetryInfo{}, "retry_delay")), "%s", st.Message())
	return st
}

// wrong is the detail that names fields: pairs of path and reason.
func wrong(pairs ...string) *errdetails.BadRequest {
	out := &errdetails.BadRequest{}
	for i := 0; i+1 < len(pairs); i += 2 {
		out.FieldViolations = append(out.FieldViolations, &errdetails.BadRequest_FieldViolation{Field: pairs[i], Reason: pairs[i+1]})
	}
	return out
}

// broke is the detail that names rules: pairs of type and subject.
func broke(pairs ...string) *errdetails.PreconditionFailure {
	out := &errdetails.PreconditionFailure{}
	for i := 0; i+1 < len(pairs); i += 2 {
		out.Violations = append(out.Violations, &errdetails.PreconditionFailure_Violation{Type: pairs[i], Subject: pairs[i+1]})
	}
	return out
}

func resource(kind, name string) *errdetails.ResourceInfo {
	return &errdetails.ResourceInfo{ResourceType: kind, ResourceName: name}
}

// badFields wants INVALID_ARGUMENT that names exactly these fields.
func badFields(t testing.TB, err error, pairs ...string) {
	t.Helper()
	fails(t, err, codes.InvalidArgument, "FIELD_INVALID", wrong(pairs...))
}

func notFound(t testing.TB, err error, kind, name string) {
	t.Helper()
	fails(t, err, codes.NotFound, "NOT_FOUND", resource(kind, name))
}

func retry() *errdetails.RetryInfo { return &errdetails.RetryInfo{} }
