package server_test

import (
	"encoding/json"
	"net"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server"
)

func TestListenRefusesWhatOthersCanReach(t *testing.T) {
	for _, address := range []string{"0.0.0.0:0", ":0", "[::]:0", "192.0.2.1:0", "example.com:0"} {
		t.Run(address, func(t *testing.T) {
			_, err := server.Listen(address)
			require.ErrorContains(t, err, "until TLS and credentials are configured")
		})
	}
	_, err := server.Listen("127.0.0.1")
	require.ErrorContains(t, err, "127.0.0.1:7301")
	for _, address := range []string{"127.0.0.1:0", "localhost:0", "127.8.9.1:0"} {
		l, err := server.Listen(address)
		require.NoError(t, err)
		require.NoError(t, l.Close())
	}
}

func TestServeRefusesAListenerThatOthersCanReach(t *testing.T) {
	s := newShop(t)
	open, err := net.Listen("tcp", "0.0.0.0:0")
	require.NoError(t, err)
	local, err := server.Listen("127.0.0.1:0")
	require.NoError(t, err)
	other := newServer(t, s.store, s.log, server.Options{})
	require.ErrorContains(t, other.Serve(local, open), "until TLS and credentials are configured")
	_, err = net.Dial("tcp", local.Addr().String())
	require.Error(t, err) // both are closed
}

// The log has one line for each call, and in it nothing of a person and nothing
// that a person wrote.
func TestLogHasNoPersonalData(t *testing.T) {
	s, w, m := cassetteShop(t)
	m.until("load-sprockets")
	secret := []string{"Ostrander", "Fay", "Forewoman", "Sam Senior", "Ben Builder", w.ben.token, w.fay.token, w.ben.name, "job-card-77"}
	s.record(w.ben, "b-1", look(jobName, "compare-parts", "pattern", true, "rider Ostrander says it creaks"))
	_, err := s.people.EnrolPerson(w.fay, &pb.EnrolPersonRequest{RequestId: id(), DisplayName: "Ostrander\n", Rank: 1})
	require.Error(t, err)
	_, err = s.tools.GetTool(w.ben, &pb.GetToolRequest{Name: "Ostrander"})
	require.Error(t, err)
	_, err = s.send(w.ben, "b-1", 0, finish(jobName))
	fails(t, err, codes.FailedPrecondition, "COMMAND_REFUSED", broke("step-incomplete", "load-sprockets"))
	s.post(w.ben.token, "BuildService/GetBuild", `{"name":"Ostrander"}`)
	s.post(w.ben.token, "BuildService/GetBuild", `{"Ostrander":1}`)

	text := s.log.String()
	for _, x := range secret {
		require.NotContains(t, text, x)
	}
	calls := 0
	for line := range strings.Lines(text) {
		var attrs map[string]any
		require.NoError(t, json.Unmarshal([]byte(line), &attrs))
		require.Equal(t, "call", attrs["msg"], line)
		require.NotEmpty(t, attrs["method"])
		require.NotEmpty(t, attrs["code"])
		calls++
	}
	require.Greater(t, calls, 20)
	require.Contains(t, text, `"reason":"COMMAND_REFUSED"`)
}

func TestNewWantsWhatItNeeds(t *testing.T) {
	_, err := server.New(server.Deps{}, server.Options{})
	require.Error(t, err)
}
