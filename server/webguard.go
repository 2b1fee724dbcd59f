package server

import (
	"bytes"
	"context"
	"errors"
	"io"
	"log/slog"
	"mime"
	"net"
	"net/http"
	"strings"
	"time"

	stdlog "log"

	"github.com/grpc-ecosystem/grpc-gateway/v2/runtime"
	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/encoding/protojson"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// webHandler is the whole web port. Until credentials exist only pages of this
// very server may call it: another site in the same browser must not, whether
// by a form, a script, or a name that it lets point to this machine.
func (s *Server) webHandler(gateway, card http.Handler) http.Handler {
	sameOrigin := http.NewCrossOriginProtection()
	sameOrigin.SetDenyHandler(refuseWeb(http.StatusForbidden, codes.PermissionDenied, "a page of another site cannot call this server"))
	mux := http.NewServeMux()
	mux.Handle("GET /{$}", s.indexPage())
	mux.Handle("GET /builds/{build}/card", card)
	mux.Handle("POST /", sameOrigin.Handler(jsonOnly(gateway)))
	mux.Handle("/", refuseWeb(http.StatusMethodNotAllowed, codes.Unimplemented, "calls are POST /tightwright.v1.Service/Method"))
	return s.webHeaders(onlyLoopbackHost(patientWrites(mux)))
}

func (s *Server) webHeaders(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cache-Control", "no-store")
		h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'")
		if s.options.Demo {
			h.Set(demoHeader, demoText)
		}
		next.ServeHTTP(w, r)
	})
}

// onlyLoopbackHost answers only to names that mean this machine, so that no
// other site can let its own name point here and be taken for us.
func onlyLoopbackHost(next http.Handler) http.Handler {
	deny := refuseWeb(http.StatusMisdirectedRequest, codes.PermissionDenied, "this server answers to localhost only")
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		host := r.Host
		if h, _, err := net.SplitHostPort(host); err == nil {
			host = h
		}
		ip := net.ParseIP(strings.Trim(host, "[]"))
		if !strings.EqualFold(host, "localhost") && (ip == nil || !ip.IsLoopback()) {
			deny.ServeHTTP(w, r)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// jsonOnly wants a JSON body of bounded size. It reads the body before the call
// begins, so that the time for reading does not run out under a long answer.
func jsonOnly(next http.Handler) http.Handler {
	wrongType := refuseWeb(http.StatusUnsupportedMediaType, codes.InvalidArgument, "send the request as application/json")
	tooLarge := refuseWeb(http.StatusRequestEntityTooLarge, codes.ResourceExhausted, "the request is too large")
	cutOff := refuseWeb(http.StatusBadRequest, codes.InvalidArgument, "the request did not arrive whole")
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if media, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || media != "application/json" {
			wrongType.ServeHTTP(w, r)
			return
		}
		body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostBodyBytes))
		if _, ok := errors.AsType[*http.MaxBytesError](err); ok {
			tooLarge.ServeHTTP(w, r)
			return
		}
		if err != nil {
			cutOff.ServeHTTP(w, r)
			return
		}
		_ = http.NewResponseController(w).SetReadDeadline(time.Time{}) // only not supported in tests of handlers
		r.Body = io.NopCloser(bytes.NewReader(body))
		next.ServeHTTP(w, r)
	})
}

// patientWrites gives each piece of an answer its own time, so that a stream
// may last and a reader that takes nothing is let go.
func patientWrites(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		next.ServeHTTP(&timedWriter{ResponseWriter: w, control: http.NewResponseController(w)}, r)
	})
}

type timedWriter struct {
	http.ResponseWriter
	control *http.ResponseController
}

// Unwrap lets http.ResponseController find the rest.
func (w *timedWriter) Unwrap() http.ResponseWriter { return w.ResponseWriter }

func (w *timedWriter) extend() { _ = w.control.SetWriteDeadline(time.Now().Add(webWriteTime)) }

// Write implements http.ResponseWriter.
func (w *timedWriter) Write(p []byte) (int, error) {
	w.extend()
	return w.ResponseWriter.Write(p)
}

// FlushError lets http.ResponseController flush.
func (w *timedWriter) FlushError() error {
	w.extend()
	return w.control.Flush()
}

// refuseWeb answers with a status in the form of the API's errors.
func refuseWeb(httpCode int, code codes.Code, text string) http.Handler {
	return refuseStatus(httpCode, withReason(status.New(code, text)))
}

func refuseStatus(httpCode int, st *status.Status) http.Handler {
	body, err := protojson.Marshal(st.Proto())
	if err != nil {
		body = []byte(`{"code":13}`)
	}
	return http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(httpCode)
		_, _ = w.Write(body) // the reader may have gone
	})
}

// withReason adds the reason that every error has to one that the gateway made
// itself.
func withReason(st *status.Status) *status.Status {
	for _, d := range st.Details() {
		if _, ok := d.(*errdetails.ErrorInfo); ok {
			return st
		}
	}
	reason := pb.ErrorReason_ERROR_REASON_INTERNAL
	switch st.Code() {
	case codes.InvalidArgument:
		reason = pb.ErrorReason_ERROR_REASON_FIELD_INVALID
	case codes.NotFound, codes.Unimplemented:
		reason = pb.ErrorReason_ERROR_REASON_NOT_FOUND
	case codes.PermissionDenied:
		reason = pb.ErrorReason_ERROR_REASON_OTHER_SITE
	case codes.ResourceExhausted:
		reason = pb.ErrorReason_ERROR_REASON_TOO_LARGE
	case codes.DeadlineExceeded:
		reason = pb.ErrorReason_ERROR_REASON_DEADLINE
	case codes.Canceled:
		reason = pb.ErrorReason_ERROR_REASON_CANCELED
	case codes.Unavailable:
		reason = pb.ErrorReason_ERROR_REASON_SHUTTING_DOWN
	default:
	}
	with, err := st.WithDetails(&errdetails.ErrorInfo{Reason: reasonText(reason), Domain: ErrorDomain})
	if err != nil {
		return st
	}
	return with
}

func webError(ctx context.Context, mux *runtime.ServeMux, m runtime.Marshaler, w http.ResponseWriter, r *http.Request, err error) {
	runtime.DefaultHTTPErrorHandler(ctx, mux, m, w, r, withReason(status.Convert(err)).Err())
}

func webRoutingError(_ context.Context, _ *runtime.ServeMux, _ runtime.Marshaler, w http.ResponseWriter, r *http.Request, httpCode int) {
	code, text := codes.NotFound, "there is no such method: calls are POST /tightwright.v1.Service/Method"
	if httpCode == http.StatusMethodNotAllowed {
		code = codes.Unimplemented
	}
	refuseWeb(httpCode, code, text).ServeHTTP(w, r)
}

// webErrorLog passes on what net/http has to say, which is about connections.
func webErrorLog(log *slog.Logger) *stdlog.Logger {
	return slog.NewLogLogger(log.Handler(), slog.LevelWarn)
}

// errNotLoopback is the one error for an address that others can reach.
var errNotLoopback = errors.New("only this machine may call until TLS and credentials are configured: listen on 127.0.0.1, [::1] or localhost")
