package server

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"sync"
	"sync/atomic"
	"time"

	"github.com/grpc-ecosystem/grpc-gateway/v2/runtime"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/test/bufconn"
	"google.golang.org/protobuf/encoding/protojson"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// insideNetwork is what the connection inside the process calls itself.
const insideNetwork = "bufconn"

// The bounds of the web port.
const (
	insideBuffer = 256 << 10
	// mostBodyBytes has room for a picture of the largest size in base64.
	mostBodyBytes    = mostPictureBytes/3*4 + 64<<10
	webHeaderTime    = 5 * time.Second
	webReadTime      = 30 * time.Second
	webIdleTime      = 2 * time.Minute
	webWriteTime     = 30 * time.Second // for each piece of an answer
	webHeaderBytes   = mostHeaderBytes
	mostInsideAnswer = mostResponseBytes + 64<<10
)

// web is the HTTP port: a page that says what is here, and the API as JSON.
//
// Each call is POST /tightwright.v1.Service/Method with the request as JSON in
// the form of protojson: names in lowerCamelCase (the names of the .proto are
// read as well), 64-bit integers as strings, bytes in base64. Zero values are
// written, absent messages are not, and unknown fields are refused. A stream
// is one JSON object a line, {"result": ...} or, last, {"error": ...}. Errors
// are google.rpc.Status with the same details as over gRPC.
type web struct {
	http   *http.Server
	inside *bufconn.Listener
	conns  []*grpc.ClientConn
	close  func() error // gives the connections inside the process back, once
}

func newWeb(s *Server) (*web, error) {
	w := &web{inside: bufconn.Listen(insideBuffer)}
	w.close = sync.OnceValue(w.disconnect)
	// Streams have a connection of their own: however many are open, calls
	// find room on the other one.
	calls, err := w.connect()
	if err != nil {
		return nil, err
	}
	streams, err := w.connect()
	if err != nil {
		return nil, err
	}
	gateway, err := newGateway(&splitConn{calls: calls, streams: streams})
	if err != nil {
		return nil, err
	}
	w.http = &http.Server{
		Handler:           s.webHandler(gateway, cardPage(calls)),
		ReadHeaderTimeout: webHeaderTime,
		ReadTimeout:       webReadTime,
		IdleTimeout:       webIdleTime,
		MaxHeaderBytes:    webHeaderBytes,
		ErrorLog:          webErrorLog(s.log),
	}
	return w, nil
}

func (w *web) connect() (*grpc.ClientConn, error) {
	conn, err := grpc.NewClient("passthrough:///inside",
		grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) { return w.inside.DialContext(ctx) }),
		grpc.WithTransportCredentials(insecure.NewCredentials()),
		grpc.WithDefaultCallOptions(grpc.MaxCallRecvMsgSize(mostInsideAnswer)))
	if err != nil {
		return nil, fmt.Errorf("connect inside: %w", err)
	}
	w.conns = append(w.conns, conn)
	return conn, nil
}

func (w *web) disconnect() error {
	var errs []error
	for _, c := range w.conns {
		errs = append(errs, c.Close())
	}
	return errors.Join(errs...)
}

// splitConn sends calls over one connection and streams over another. A stream
// more than fit is refused: it would wait, silently, for another one to end.
type splitConn struct {
	calls, streams grpc.ClientConnInterface
	open           atomic.Int64
}

// Invoke implements grpc.ClientConnInterface.
func (c *splitConn) Invoke(ctx context.Context, method string, args, reply any, opts ...grpc.CallOption) error {
	return c.calls.Invoke(ctx, method, args, reply, opts...)
}

// NewStream implements grpc.ClientConnInterface.
func (c *splitConn) NewStream(ctx context.Context, desc *grpc.StreamDesc, method string, opts ...grpc.CallOption) (grpc.ClientStream, error) {
	if c.open.Add(1) > mostStreams {
		c.open.Add(-1)
		return nil, statusOf(errRateLimited).Err()
	}
	stream, err := c.streams.NewStream(ctx, desc, method, opts...)
	if err != nil {
		c.open.Add(-1)
		return nil, err
	}
	context.AfterFunc(stream.Context(), func() { c.open.Add(-1) })
	return stream, nil
}

// newGateway makes the handler of the JSON calls.
func newGateway(conn grpc.ClientConnInterface) (*runtime.ServeMux, error) {
	none := func(string) (string, bool) { return "", false }
	mux := runtime.NewServeMux(
		runtime.WithMarshalerOption(runtime.MIMEWildcard, &runtime.JSONPb{
			MarshalOptions:   protojson.MarshalOptions{EmitDefaultValues: true},
			UnmarshalOptions: protojson.UnmarshalOptions{DiscardUnknown: false},
		}),
		runtime.WithIncomingHeaderMatcher(none), // authorization passes without
		runtime.WithOutgoingHeaderMatcher(none),
		runtime.WithErrorHandler(webError),
		runtime.WithRoutingErrorHandler(webRoutingError),
		runtime.WithDisableHTTPMethodOverride(),
		runtime.WithDisablePathLengthFallback(),
	)
	ctx := context.Background() // not used: the clients are there already
	err := errors.Join(
		pb.RegisterSessionServiceHandlerClient(ctx, mux, pb.NewSessionServiceClient(conn)),
		pb.RegisterPersonServiceHandlerClient(ctx, mux, pb.NewPersonServiceClient(conn)),
		pb.RegisterCatalogueServiceHandlerClient(ctx, mux, pb.NewCatalogueServiceClient(conn)),
		pb.RegisterBuildServiceHandlerClient(ctx, mux, pb.NewBuildServiceClient(conn)),
		pb.RegisterToolServiceHandlerClient(ctx, mux, pb.NewToolServiceClient(conn)),
		pb.RegisterBenchServiceHandlerClient(ctx, mux, pb.NewBenchServiceClient(conn)),
		pb.RegisterAuditServiceHandlerClient(ctx, mux, pb.NewAuditServiceClient(conn)),
		pb.RegisterTeachingServiceHandlerClient(ctx, mux, pb.NewTeachingServiceClient(conn)),
		pb.RegisterNumbersServiceHandlerClient(ctx, mux, pb.NewNumbersServiceClient(conn)),
		pb.RegisterFitServiceHandlerClient(ctx, mux, pb.NewFitServiceClient(conn)),
	)
	if err != nil {
		return nil, fmt.Errorf("make gateway: %w", err)
	}
	return mux, nil
}
