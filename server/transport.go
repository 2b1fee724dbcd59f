package server

import (
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/health"
	healthpb "google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/grpc/keepalive"
	"google.golang.org/grpc/reflection"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// The bounds of a connection.
const (
	mostRequestBytes  = 1 << 20
	mostResponseBytes = 8 << 20
	mostHeaderBytes   = 16 << 10
	mostStreams       = 64
	connectTime       = 10 * time.Second
	idleTime          = 15 * time.Minute
	connectionAge     = 30 * time.Minute
	// ageGrace lets calls end on a connection that has come of age; a watch is
	// ended then, and its caller watches again.
	ageGrace = time.Minute
)

// register makes the gRPC server with all services. No compression is
// registered, so a small message cannot unfold into a large one.
func (s *Server) register() {
	s.grpc = grpc.NewServer(
		grpc.UnaryInterceptor(s.unary),
		grpc.StreamInterceptor(s.stream),
		grpc.MaxRecvMsgSize(mostRequestBytes),
		grpc.MaxSendMsgSize(mostResponseBytes),
		grpc.MaxHeaderListSize(mostHeaderBytes),
		grpc.MaxConcurrentStreams(mostStreams),
		grpc.ConnectionTimeout(connectTime),
		grpc.KeepaliveParams(keepalive.ServerParameters{
			MaxConnectionIdle:     idleTime,
			MaxConnectionAge:      connectionAge,
			MaxConnectionAgeGrace: ageGrace,
		}),
	)
	s.health = health.NewServer()
	healthpb.RegisterHealthServer(s.grpc, s.health)
	pb.RegisterSessionServiceServer(s.grpc, sessionService{Server: s})
	pb.RegisterPersonServiceServer(s.grpc, personService{Server: s})
	pb.RegisterCatalogueServiceServer(s.grpc, catalogueService{Server: s})
	pb.RegisterBuildServiceServer(s.grpc, buildService{Server: s})
	pb.RegisterToolServiceServer(s.grpc, toolService{Server: s})
	pb.RegisterBenchServiceServer(s.grpc, benchService{Server: s})
	pb.RegisterAuditServiceServer(s.grpc, auditService{Server: s})
	pb.RegisterTeachingServiceServer(s.grpc, teachingService{Server: s})
	pb.RegisterNumbersServiceServer(s.grpc, numbersService{})
	pb.RegisterFitServiceServer(s.grpc, fitService{Server: s})
	if s.options.Reflection {
		reflection.Register(s.grpc)
	}
	for name := range s.grpc.GetServiceInfo() {
		s.health.SetServingStatus(name, healthpb.HealthCheckResponse_SERVING)
	}
}
