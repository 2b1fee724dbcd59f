package server_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server"
)

// FuzzCommand tells the record anything that is a message: it is recorded or
// refused, never a fault, what is recorded says what was sent, and the build can
// be read afterwards.
func FuzzCommand(f *testing.F) {
	s, w, m := cassetteShop(f, func(o *server.Options) { o.Calls = 1e9 })
	m.until("tighten-lockring")
	for _, c := range []*pb.Command{
		reading(jobName, "tighten-lockring", "lockring", figure("40", "N.m"), "tools/tw-04"),
		look(jobName, "compare-parts", "pattern", false, "no"),
		finish(jobName),
		{Action: &pb.Command_BeginRework{BeginRework: &pb.BeginRework{Job: jobName, Step: "tighten-lockring", BackTo: "compare-parts", Reason: "r"}}},
		{Action: &pb.Command_WithdrawEntry{WithdrawEntry: &pb.WithdrawEntry{Entry: "builds/b-1/entries/x", Cause: 1, Reason: "r"}}},
		{Action: &pb.Command_AcceptFigure{AcceptFigure: &pb.AcceptFigure{Joint: "j", Window: &pb.Window{Max: &pb.Torque{NewtonMeters: 5}}, Reason: "r"}}},
		{Action: &pb.Command_DoPrep{DoPrep: &pb.DoPrep{Job: jobName, Step: "prepare-splines-and-thread", Thread: 2, Face: 2}}},
	} {
		data, err := proto.Marshal(c)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c := &pb.Command{}
		if proto.Unmarshal(data, c) != nil {
			t.Skip("no message")
		}
		c.EntryId = id()
		in := *s
		in.TB = t
		r, err := in.send(w.ben, "b-1", 0, c)
		require.NotContains(t, []codes.Code{codes.Internal, codes.Unknown, codes.DataLoss, codes.Unavailable}, status.Code(err), "%v", err)
		if err != nil {
			return
		}
		again, err := in.send(w.ben, "b-1", 0, c)
		require.NoError(t, err)
		equal(t, r.GetOutcomes()[0].GetEntry(), again.GetOutcomes()[0].GetEntry())
		in.job(w.ben, "b-1", "j-1")
	})
}
