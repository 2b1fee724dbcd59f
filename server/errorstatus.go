package server

import (
	"fmt"
	"strings"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/protoadapt"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// statusOf makes the status that a caller gets. A status passes as it is: it
// comes from the gRPC library, which has its own words.
func statusOf(err error) *status.Status {
	if s, ok := status.FromError(err); ok {
		return s
	}
	f := failureOf(err)
	s := status.New(f.code, f.text)
	details := append([]protoadapt.MessageV1{&errdetails.ErrorInfo{Reason: reasonText(f.reason), Domain: ErrorDomain}}, f.details...)
	with, err := s.WithDetails(details...)
	if err != nil {
		return s // a detail that cannot be packed; the code and the text stay
	}
	return with
}

// reasonText is a reason as ErrorInfo carries it.
func reasonText(r pb.ErrorReason) string {
	return strings.TrimPrefix(r.String(), "ERROR_REASON_")
}

// mostDetailBytes bounds a list of violations: details travel in a header, in
// base64, and most clients take headers of at most 8 KiB in all.
const mostDetailBytes = 4000

// badRequest names the fields, as many as fit. The code of each rule is in
// Reason as upper snake case, which is the form AIP-193 asks for.
func badRequest(found ...*procedure.FieldError) *errdetails.BadRequest {
	out := &errdetails.BadRequest{}
	for _, fe := range found {
		v := &errdetails.BadRequest_FieldViolation{Field: fe.Path, Description: fe.Text, Reason: upperSnake(fe.Rule)}
		if proto.Size(out)+proto.Size(v) > mostDetailBytes && len(out.GetFieldViolations()) > 0 {
			break
		}
		out.FieldViolations = append(out.FieldViolations, v)
	}
	return out
}

func upperSnake(rule string) string {
	return strings.ToUpper(strings.ReplaceAll(rule, "-", "_"))
}

// fieldText is the one line of a bad request.
func fieldText(found []*procedure.FieldError) string {
	first := found[0].Text
	if found[0].Path != "" {
		first = found[0].Path + ": " + first
	}
	return andMore(first, len(found)-1)
}

// andMore says how many others there are.
func andMore(first string, more int) string {
	if more > 0 {
		return fmt.Sprintf("%s (and %d more)", first, more)
	}
	return first
}

// precondition names the rules, as many as fit.
func precondition(refusals ...refusal) *errdetails.PreconditionFailure {
	out := &errdetails.PreconditionFailure{}
	for _, r := range refusals {
		v := &errdetails.PreconditionFailure_Violation{Type: r.Rule, Subject: r.Subject, Description: r.Text}
		if proto.Size(out)+proto.Size(v) > mostDetailBytes && len(out.GetViolations()) > 0 {
			break
		}
		out.Violations = append(out.Violations, v)
	}
	return out
}
