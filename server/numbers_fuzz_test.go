package server_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server"
)

// Whatever is sent, a calculation answers with numbers or names the fields that
// are wrong; it never faults.
func FuzzNumbers(f *testing.F) {
	s := newShop(f, func(o *server.Options) { o.Calls = 1e9 })
	by := s.at(s.enrol(s.Context(), "Fay Forewoman", pb.Rank_RANK_FOREMAN), "tablet-fay")
	requests := []proto.Message{
		&pb.JointRequest{Joint: m8(nil)},
		&pb.ClampRequest{Clamp: post272(nil).GetClamp()},
		&pb.SplineRequest{Stack: stack25(nil).GetStack()},
		&pb.SettingRequest{Torque: figureOf("6", "N.m"), Wrench: wrench20(nil), Window: &pb.Window{Min: newtonMeters(5), Max: newtonMeters(7)},
			Adapter: &pb.WrenchAdapter{Length: "10", Extension: "1.5", AngleDegrees: "45"}},
		&pb.DecideRequest{Min: "5", Max: "7", Reading: "6.9", U: "0.1"},
		taper40(nil), dryM6(nil), &pb.ThreadRequest{Thread: "36 mm x 24 tpi"}, pedal(nil),
	}
	methods := []string{"Joint", "Clamp", "Spline", "Setting", "Decide", "Taper", "Prep", "Thread", "LookAlikes"}
	answers := []proto.Message{&pb.JointResponse{}, &pb.ClampResponse{}, &pb.SplineResponse{}, &pb.SettingResponse{}, &pb.DecideResponse{},
		&pb.TaperResponse{}, &pb.PrepResponse{}, &pb.ThreadResponse{}, &pb.LookAlikesResponse{}}
	for i, request := range requests {
		data, err := proto.Marshal(request)
		require.NoError(f, err)
		f.Add(byte(i), data)
	}
	f.Fuzz(func(t *testing.T, which byte, data []byte) {
		i := int(which) % len(methods)
		request, answer := proto.Clone(requests[i]), proto.Clone(answers[i])
		if proto.Unmarshal(data, request) != nil {
			return
		}
		err := s.conn.Invoke(by, "/tightwright.v1.NumbersService/"+methods[i], request, answer)
		if err != nil {
			require.Equal(t, codes.InvalidArgument, status.Code(err), err)
			return
		}
		requireNumbers(t, answer.ProtoReflect())
	})
}

// requireNumbers wants every number in a message to be finite.
func requireNumbers(tb testing.TB, m protoreflect.Message) {
	tb.Helper()
	m.Range(func(field protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case field.Kind() == protoreflect.DoubleKind:
			require.False(tb, math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0), field.FullName())
		case field.Kind() == protoreflect.MessageKind && !field.IsList():
			requireNumbers(tb, v.Message())
		}
		return true
	})
}
