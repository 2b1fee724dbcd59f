package main

import (
	"net/http"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	healthpb "google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

func inventedWrench() *pb.Tool {
	return &pb.Tool{Kind: pb.ToolKind_TOOL_KIND_SETTING, Unit: "N.m", Min: "20", Max: "100", Graduation: "1", Calibrations: []*pb.Calibration{{
		Time: timestamppb.New(time.Now().AddDate(0, -1, 0)), DueTime: timestamppb.New(time.Now().AddDate(1, 0, 0)), Hands: []pb.Hand{pb.Hand_HAND_RIGHT}}}}
}

// inventedBike has what a cassette needs.
func inventedBike() *pb.Sheet {
	return &pb.Sheet{Invented: true, Parts: []*pb.Part{
		{Role: "hub-rear", Material: "alloy", Attributes: map[string]string{"rotor": "fitted", "axle_fixing": "thru-axle"}},
		{Role: "freehub-body", Material: "alloy", Attributes: map[string]string{"splines": "9-spline", "length": "36.75 mm", "lockring_thread": "M30.6x1"}},
		{Role: "cassette", Material: "steel", Attributes: map[string]string{"splines": "9-spline", "made_for_length": "36.75 mm", "sprockets": "11",
			"smallest": "11", "largest": "34", "carrier": "carrier"}},
		{Role: "cassette-lockring", Material: "alloy", Attributes: map[string]string{"thread": "M30.6x1"}, Printed: []*pb.PrintedFigure{{
			Joint: "cassette-lockring-m30-6x1", Marking: "40 Nm", Seen: pb.Confidence_CONFIDENCE_PRINTED, Where: "face of the lockring"}}},
	}}
}

func TestServeRefusesBadInput(t *testing.T) {
	dir := t.TempDir()
	foreign := filepath.Join(dir, "notes.txt")
	require.NoError(t, os.WriteFile(foreign, []byte("not a store, and long enough to be taken for something"), 0o600))
	for _, tt := range []struct {
		name string
		args []string
	}{
		{"neither store nor demo", nil},
		{"store and demo", []string{"--demo", "--store", filepath.Join(dir, "a.db")}},
		{"an address that others can reach", []string{"--demo", "--listen", "0.0.0.0:0"}},
		{"a web address that others can reach", []string{"--demo", "--listen", "127.0.0.1:0", "--web", ":0"}},
		{"a file that is no store", []string{"--store", foreign, "--listen", "127.0.0.1:0", "--web", "127.0.0.1:0"}},
		{"a workshop that is none", []string{"--demo", "--workshop", "My Shop", "--listen", "127.0.0.1:0", "--web", "127.0.0.1:0"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := tightwright(t, "", append([]string{"serve"}, tt.args...)...)
			require.Equal(t, codeBadInput, got.code)
			require.Empty(t, got.stdout)
			require.Regexp(t, `^tightwright: [^\n]+\n$`, got.stderr)
		})
	}
}

// A file that another process has open is for whoever named it to mend, with every
// command that opens one.
func TestOneProcessAStore(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.db")
	first := startServer(t, "--store", path)
	for _, args := range [][]string{
		{"serve", "--store", path, "--listen", "127.0.0.1:0", "--web", "127.0.0.1:0"},
		{"export", "--store", path},
	} {
		got := tightwright(t, "", args...)
		require.Equal(t, codeBadInput, got.code, args)
		require.Empty(t, got.stdout)
		require.Regexp(t, `^tightwright: [^\n]+open in another process; stop that one first, or use another file\n$`, got.stderr)
	}
	require.NoError(t, first.end(t, os.Interrupt))
}

func TestServeEndsGracefully(t *testing.T) {
	for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		t.Run(signal.String(), func(t *testing.T) {
			server := startServer(t, "--demo")
			require.True(t, server.at.Demo)
			r, err := healthpb.NewHealthClient(server.conn).Check(t.Context(), &healthpb.HealthCheckRequest{})
			require.NoError(t, err)
			require.Equal(t, healthpb.HealthCheckResponse_SERVING, r.GetStatus())
			page, err := http.Get(server.at.Web)
			require.NoError(t, err)
			require.NoError(t, page.Body.Close())
			require.NotEmpty(t, page.Header.Get("Tightwright-Demo"))
			http.DefaultClient.CloseIdleConnections()
			require.NoError(t, server.end(t, signal), "%s", &server.err)
		})
	}
}

// The demo leaves nothing behind.
func TestDemoClearsUp(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("TMPDIR", dir)
	server := startServer(t, "--demo")
	files, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.NotEmpty(t, files)
	require.NoError(t, server.end(t, os.Interrupt))
	files, err = os.ReadDir(dir)
	require.NoError(t, err)
	require.Empty(t, files)
}
