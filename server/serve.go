package server

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"time"

	"google.golang.org/grpc"
)

// Listen opens a port. Until TLS and credentials are configured it refuses
// every address that another machine can reach.
func Listen(address string) (net.Listener, error) {
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		return nil, fmt.Errorf("listen on %q: write an address such as 127.0.0.1:7301: %w", address, err)
	}
	if ip := net.ParseIP(host); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return nil, fmt.Errorf("listen on %q: %w", address, errNotLoopback)
	}
	l, err := net.Listen("tcp", address)
	if err != nil {
		return nil, fmt.Errorf("listen on %q: %w", address, err)
	}
	if err := checkLoopback(l); err != nil { // a localhost that is not local
		return nil, errors.Join(err, l.Close())
	}
	return l, nil
}

func checkLoopback(l net.Listener) error {
	if a, ok := l.Addr().(*net.TCPAddr); ok && !a.IP.IsLoopback() {
		return fmt.Errorf("serve on %v: %w", a, errNotLoopback)
	}
	return nil
}

// Serve answers calls on both ports until Shutdown, or until one of them
// fails. rpc is for gRPC, web for HTTP; either may be nil. It closes both. A
// listener that other machines can reach is refused.
func (s *Server) Serve(rpc, web net.Listener) error {
	listeners := []net.Listener{}
	for _, l := range []net.Listener{rpc, web} {
		if l != nil {
			listeners = append(listeners, l)
		}
	}
	for _, l := range listeners {
		if err := checkLoopback(l); err != nil {
			return errors.Join(err, closeAll(listeners))
		}
	}
	failed := make(chan error, 3)
	go func() { failed <- ended(s.grpc.Serve(s.web.inside)) }()
	running := 1
	if rpc != nil {
		running++
		go func() { failed <- ended(s.grpc.Serve(rpc)) }()
	}
	if web != nil {
		running++
		go func() { failed <- ended(s.web.http.Serve(web)) }()
	}
	var errs []error
	for range running {
		err := <-failed
		if err != nil && len(errs) == 0 {
			s.stop() // the others end as well
		}
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}

// ended drops the errors that say that Shutdown was called.
func ended(err error) error {
	if errors.Is(err, http.ErrServerClosed) || errors.Is(err, grpc.ErrServerStopped) {
		return nil
	}
	return err
}

func closeAll(all []net.Listener) error {
	var errs []error
	for _, l := range all {
		errs = append(errs, l.Close())
	}
	return errors.Join(errs...)
}

// Shutdown ends the server in order: health says that it is not serving,
// watches are ended with UNAVAILABLE, no new calls are taken, those under way
// may finish for as long as Options.Grace, or until ctx ends, and then are cut
// off. The store stays open for its owner to close.
func (s *Server) Shutdown(ctx context.Context) error {
	s.health.Shutdown()
	s.watchers.close()
	ctx, cancel := context.WithTimeout(ctx, s.options.Grace)
	defer cancel()
	err := s.web.http.Shutdown(ctx)
	done := make(chan struct{})
	go func() {
		defer close(done)
		s.grpc.GracefulStop()
	}()
	select {
	case <-done:
	case <-ctx.Done():
		err = errors.Join(err, fmt.Errorf("calls were cut off after %v: %w", s.options.Grace, ctx.Err()))
		s.grpc.Stop()
		<-done
	}
	return errors.Join(err, s.web.close())
}

// stop ends everything at once.
func (s *Server) stop() {
	ctx, cancel := context.WithTimeout(context.Background(), time.Millisecond)
	defer cancel()
	s.watchers.close()
	_ = s.web.http.Shutdown(ctx) // what failed before is what counts
	s.grpc.Stop()
}
