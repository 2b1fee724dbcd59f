package server

import (
	"context"
	"fmt"
	"log/slog"
	"runtime/debug"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/metadata"
	"google.golang.org/grpc/status"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
)

// A panicError is a panic of a handler, as an error.
type panicError struct {
	value any
	stack []byte
}

func (e *panicError) Error() string { return fmt.Sprintf("panic: %v\n%s", e.value, e.stack) }

// unary is what every unary call goes through, from the outside in: the log
// line, the table of errors, recovery, who calls, how often, until when.
func (s *Server) unary(ctx context.Context, req any, info *grpc.UnaryServerInfo, next grpc.UnaryHandler) (resp any, err error) {
	begun := time.Now()
	var p Principal
	defer func() { s.logCall(ctx, info.FullMethod, p, begun, err) }()
	err = s.guard(func() error {
		s.markDemo(func(md metadata.MD) error { return grpc.SetHeader(ctx, md) })
		inner, err := s.admit(ctx, info.FullMethod)
		if err != nil {
			return err
		}
		p, _ = principalOf(inner)
		inner, cancel := s.bounded(inner)
		defer cancel()
		resp, err = next(inner, req)
		return err
	})
	if err != nil {
		return nil, err
	}
	return resp, nil
}

// stream is the same for streams, which have no deadline: they end when the
// caller goes, the session ends or the server shuts down.
func (s *Server) stream(srv any, ss grpc.ServerStream, info *grpc.StreamServerInfo, next grpc.StreamHandler) (err error) {
	begun, ctx := time.Now(), ss.Context()
	var p Principal
	defer func() { s.logCall(ctx, info.FullMethod, p, begun, err) }()
	return s.guard(func() error {
		s.markDemo(ss.SetHeader)
		inner, err := s.admit(ctx, info.FullMethod)
		if err != nil {
			return err
		}
		p, _ = principalOf(inner)
		return next(srv, &streamWithContext{ServerStream: ss, ctx: inner})
	})
}

// streamWithContext carries the principal to a stream's handler.
type streamWithContext struct {
	grpc.ServerStream
	ctx context.Context //nolint:containedctx // the interface of the library asks for it
}

func (s *streamWithContext) Context() context.Context { return s.ctx }

// guard turns what fn fails with, a panic included, into the status that the
// caller gets, and logs the cause of a fault once.
func (s *Server) guard(fn func() error) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = &panicError{value: v, stack: debug.Stack()}
		}
		if err == nil {
			return
		}
		st := statusOf(err)
		if c := st.Code(); c == codes.Internal || c == codes.DataLoss || c == codes.Unknown {
			s.log.LogAttrs(context.Background(), slog.LevelError, "fault", slog.String("cause", err.Error()))
		}
		err = st.Err()
	}()
	return fn()
}

func (s *Server) markDemo(set func(metadata.MD) error) {
	if s.options.Demo {
		// It fails only when the answer is under way already.
		_ = set(metadata.Pairs(demoHeader, demoText))
	}
}

// admit decides whether a call may go on and returns the context with who
// calls.
func (s *Server) admit(ctx context.Context, method string) (context.Context, error) {
	rule, ok := rules[method]
	if !ok {
		return nil, fmt.Errorf("method %s: %w", method, errRank)
	}
	p, authErr := s.auth.Principal(ctx)
	known := authErr == nil
	if err := s.limits.check(ctx, p, known); err != nil {
		return nil, err
	}
	if rule.open {
		if known {
			ctx = withPrincipal(ctx, p)
		}
		return ctx, nil
	}
	if !known {
		return nil, authErr
	}
	return withPrincipal(ctx, p), rule.may(p)
}

// bounded gives a call its deadline.
func (s *Server) bounded(ctx context.Context) (context.Context, context.CancelFunc) {
	if _, ok := ctx.Deadline(); !ok {
		return context.WithTimeout(ctx, s.options.Deadline)
	}
	return context.WithTimeout(ctx, s.options.Ceiling)
}

// logCall writes the one line of a call. It says nothing of a person, and
// nothing that a person wrote.
func (s *Server) logCall(ctx context.Context, method string, p Principal, begun time.Time, err error) {
	st := status.Convert(err)
	attrs := []slog.Attr{
		slog.String("method", method),
		slog.String("code", st.Code().String()),
		slog.Duration("took", time.Since(begun)),
	}
	if p.Session != "" {
		attrs = append(attrs, slog.String("session", p.Session), slog.String("workshop", p.Workshop))
	}
	for _, d := range st.Details() {
		if info, ok := d.(*errdetails.ErrorInfo); ok {
			attrs = append(attrs, slog.String("reason", info.GetReason()))
		}
	}
	level := slog.LevelInfo
	if c := st.Code(); c == codes.Internal || c == codes.DataLoss || c == codes.Unknown {
		level = slog.LevelError
	}
	s.log.LogAttrs(ctx, level, "call", attrs...)
}
