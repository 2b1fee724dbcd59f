package server_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	healthpb "google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/grpc/metadata"
	reflectionpb "google.golang.org/grpc/reflection/grpc_reflection_v1"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"
	"google.golang.org/protobuf/types/dynamicpb"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server"
)

// Who may call what, below what each call itself refuses. A method that is not
// in one of these lists fails the test: whoever adds it has to decide.
var (
	needsNoSession = []string{"SessionService/StartSession", "SessionService/EndSession", "PersonService/EnrolPerson", "PersonService/ListPeople"}
	needsSenior    = []string{"ToolService/CreateTool", "ToolService/UpdateTool", "ToolService/AddCalibration", "AuditService/AuditAll"}
	needsForeman   = []string{"PersonService/UpdatePerson", "ToolService/ReturnTool"}
	needsSession   = []string{
		"CatalogueService/ListProcedures", "CatalogueService/GetProcedure", "CatalogueService/ListPartRoles", "CatalogueService/ListContacts",
		"BuildService/CreateBuild", "BuildService/GetBuild", "BuildService/ListBuilds", "BuildService/UpdateSheet", "BuildService/PreviewPlan",
		"BuildService/PlanWhole", "BuildService/GetBuildCard", "BuildService/GetBuildHistory",
		"BenchService/OpenJob", "BenchService/AppendEntries", "BenchService/SwapPart", "BenchService/MoveEntry", "BenchService/GetJob",
		"BenchService/ListJobs", "BenchService/ListEntries", "BenchService/WatchBuild", "BenchService/AddPicture", "BenchService/GetAttachment",
		"ToolService/GetTool", "ToolService/ListTools", "ToolService/QuarantineTool",
		"AuditService/AuditBuild", "AuditService/AuditJob", "AuditService/ListAuditRules", "TeachingService/ProposeCurriculum",
		"NumbersService/Joint", "NumbersService/Clamp", "NumbersService/Spline", "NumbersService/Setting", "NumbersService/Decide",
		"NumbersService/Taper", "NumbersService/Prep", "NumbersService/Thread", "NumbersService/LookAlikes",
		"FitService/ListFitRules", "FitService/CheckFit", "FitService/CheckSheetFit", "FitService/FindBodies", "FitService/FindShells",
		"FitService/CheckDiscChange",
	}
)

// methods lists every method of the API by its descriptor.
func methods() []protoreflect.MethodDescriptor {
	var all []protoreflect.MethodDescriptor
	protoregistry.GlobalFiles.RangeFilesByPackage("tightwright.v1", func(fd protoreflect.FileDescriptor) bool {
		for i := range fd.Services().Len() {
			for j := range fd.Services().Get(i).Methods().Len() {
				all = append(all, fd.Services().Get(i).Methods().Get(j))
			}
		}
		return true
	})
	return all
}

// call calls a method with an empty request and returns its code.
func (s *shop) call(ctx context.Context, m protoreflect.MethodDescriptor) codes.Code {
	s.Helper()
	name := "/" + string(m.Parent().FullName()) + "/" + string(m.Name())
	stream, err := s.conn.NewStream(ctx, &grpc.StreamDesc{ServerStreams: true}, name)
	require.NoError(s, err)
	require.NoError(s, stream.SendMsg(dynamicpb.NewMessage(m.Input())))
	require.NoError(s, stream.CloseSend())
	return status.Code(stream.RecvMsg(dynamicpb.NewMessage(m.Output())))
}

func TestEveryMethodHasARule(t *testing.T) {
	s := newShop(t)
	w := s.staffed()
	ranks := []struct {
		ctx   context.Context
		level int // 0 without a session
	}{{t.Context(), 0}, {w.ben, 1}, {w.sam, 2}, {w.fay, 3}}
	require.NotEmpty(t, methods())
	for _, m := range methods() {
		short := string(m.Parent().Name()) + "/" + string(m.Name())
		if short == "SessionService/EndSession" {
			continue // it would end the sessions of this test
		}
		t.Run(short, func(t *testing.T) {
			level := slices.IndexFunc([][]string{needsNoSession, needsSession, needsSenior, needsForeman},
				func(list []string) bool { return slices.Contains(list, short) })
			require.GreaterOrEqual(t, level, 0, "decide who may call %s", short)
			in := *s
			in.TB = t
			for _, r := range ranks {
				code := in.call(r.ctx, m)
				switch {
				case r.level >= level:
					require.NotContains(t, []codes.Code{codes.PermissionDenied, codes.Unauthenticated, codes.Unimplemented, codes.Internal, codes.Unknown}, code)
				case r.level == 0:
					require.Equal(t, codes.Unauthenticated, code)
				default:
					require.Equal(t, codes.PermissionDenied, code)
				}
			}
		})
	}
}

func TestHealth(t *testing.T) {
	s := newShop(t)
	health := healthpb.NewHealthClient(s.conn)
	for _, service := range []string{"", "tightwright.v1.BenchService"} {
		r, err := health.Check(t.Context(), &healthpb.HealthCheckRequest{Service: service})
		require.NoError(t, err)
		require.Equal(t, healthpb.HealthCheckResponse_SERVING, r.GetStatus())
	}
}

func TestReflectionOnlyWhenAskedFor(t *testing.T) {
	ask := func(s *shop) (*reflectionpb.ServerReflectionResponse, error) {
		stream, err := reflectionpb.NewServerReflectionClient(s.conn).ServerReflectionInfo(t.Context())
		require.NoError(t, err)
		// What was wrong with the stream comes with Recv, not with Send.
		_ = stream.Send(&reflectionpb.ServerReflectionRequest{MessageRequest: &reflectionpb.ServerReflectionRequest_ListServices{ListServices: "*"}})
		return stream.Recv()
	}
	_, err := ask(newShop(t))
	require.Equal(t, codes.Unimplemented, status.Code(err))
	r, err := ask(newShop(t, func(o *server.Options) { o.Reflection = true }))
	require.NoError(t, err)
	require.NotEmpty(t, r.GetListServicesResponse().GetService())
}

func TestNothingElseOnThePort(t *testing.T) {
	s := newShop(t)
	for _, name := range []string{"/grpc.channelz.v1.Channelz/GetServers", "/tightwright.v1.Nothing/Nothing"} {
		err := s.conn.Invoke(t.Context(), name, &pb.GetBuildRequest{}, &pb.GetBuildResponse{})
		require.Equal(t, codes.Unimplemented, status.Code(err))
	}
}

func TestRateLimits(t *testing.T) {
	s := newShop(t, func(o *server.Options) { o.Strangers, o.Calls = 1, 2 })
	fay := s.at(s.enrol(t.Context(), "Fay Forewoman", pb.Rank_RANK_FOREMAN), "tablet-1")
	limited := func(ctx context.Context, burst int) {
		t.Helper()
		for range 2 * burst {
			if _, err := s.people.ListPeople(ctx, &pb.ListPeopleRequest{}); err != nil {
				fails(t, err, codes.ResourceExhausted, "RATE_LIMITED", retry())
				return
			}
		}
		require.Fail(t, "nothing stops a caller")
	}
	limited(t.Context(), 10)
	require.NoError(t, s.whoami(fay)) // a session has its own limit
	limited(fay, 20)
	resp, _ := s.post("", "PersonService/ListPeople", "{}") // and the web port counts apart
	require.Equal(t, 200, resp.StatusCode)
}

func TestMessageTooLarge(t *testing.T) {
	s, w, _ := cassetteShop(t)
	_, err := s.bench.AddPicture(w.ben, &pb.AddPictureRequest{RequestId: id(), Build: "builds/b-1", MediaType: "image/png", Content: make([]byte, 1<<20)})
	require.Equal(t, codes.ResourceExhausted, status.Code(err))
	_, err = s.builds.GetBuild(withToken(w.ben, strings.Repeat("x", 20<<10)), &pb.GetBuildRequest{Name: "builds/b-1"})
	require.Error(t, err) // a header too large
}

// The demo header is on every answer, refusals included.
func TestDemoSaysSo(t *testing.T) {
	s := newShop(t, func(o *server.Options) { o.Demo = true })
	for _, req := range []*pb.ListPeopleRequest{{}, {PageSize: -1}} {
		var md metadata.MD
		_, _ = s.people.ListPeople(t.Context(), req, grpc.Header(&md))
		require.NotEmpty(t, md["tightwright-demo"])
	}
}
