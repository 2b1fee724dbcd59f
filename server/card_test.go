package server_test

import (
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	statuspb "google.golang.org/genproto/googleapis/rpc/status"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/encoding/protojson"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server"
)

// page gets a page of the web port.
func (s *shop) page(method, path string, headers ...string) (reply, string) {
	s.Helper()
	req, err := http.NewRequestWithContext(s.Context(), method, s.web+path, nil)
	require.NoError(s, err)
	for i := 0; i+1 < len(headers); i += 2 {
		req.Header.Set(headers[i], headers[i+1])
		if headers[i] == "Host" {
			req.Host = headers[i+1]
		}
	}
	resp, err := http.DefaultClient.Do(req)
	require.NoError(s, err)
	defer resp.Body.Close()
	data, err := io.ReadAll(resp.Body)
	require.NoError(s, err)
	return reply{resp.StatusCode, resp.Header}, string(data)
}

// The card is the same over gRPC and as a page, and no other site's script or
// file has a part in it.
func TestCardIsTheSameOnBothPorts(t *testing.T) {
	s, w, _ := wholeShop(t)
	r, err := s.builds.GetBuildCard(w.ben, &pb.GetBuildCardRequest{Name: "builds/b-1"})
	require.NoError(t, err)
	resp, page := s.page(http.MethodGet, "/builds/b-1/card", "Authorization", "Bearer "+w.ben.token)
	require.Equal(t, http.StatusOK, resp.StatusCode)
	require.Equal(t, "text/html; charset=utf-8", r.GetMediaType())
	require.Equal(t, r.GetMediaType(), resp.Header.Get("Content-Type"))
	require.Equal(t, string(r.GetContent()), page)
	require.Contains(t, resp.Header.Get("Content-Security-Policy"), "default-src 'none'")
	require.Equal(t, "no-store", resp.Header.Get("Cache-Control"))
	for _, want := range []string{"<dt>Build</dt><dd>b-1</dd>", "INVENTED DATA", "tw-03", "LEFT-HAND", "7 March 2025, 08:30"} {
		require.Positive(t, strings.Count(page, want), want)
	}
}

// The page asks for a session as a call does, and its refusals are those of the
// API.
func TestCardPageRefuses(t *testing.T) {
	s, w, _ := wholeShop(t)
	mine := "Bearer " + w.ben.token
	for _, tt := range []struct {
		name, method, path string
		headers            []string
		http               int
		code               codes.Code
	}{
		{"no session", http.MethodGet, "/builds/b-1/card", nil, http.StatusUnauthorized, codes.Unauthenticated},
		{"a session that is none", http.MethodGet, "/builds/b-1/card", []string{"Authorization", "Bearer x"}, http.StatusUnauthorized, codes.Unauthenticated},
		{"a build that is not there", http.MethodGet, "/builds/b-9/card", []string{"Authorization", mine}, http.StatusNotFound, codes.NotFound},
		{"a name that is none", http.MethodGet, "/builds/B%201/card", []string{"Authorization", mine}, http.StatusBadRequest, codes.InvalidArgument},
		{"a name that was let point here", http.MethodGet, "/builds/b-1/card", []string{"Authorization", mine, "Host", "bench.example.com"}, http.StatusMisdirectedRequest, codes.PermissionDenied},
		{"another page of a build", http.MethodGet, "/builds/b-1/cards", []string{"Authorization", mine}, http.StatusMethodNotAllowed, codes.Unimplemented},
	} {
		t.Run(tt.name, func(t *testing.T) {
			resp, body := s.page(tt.method, tt.path, tt.headers...)
			require.Equal(t, tt.http, resp.StatusCode, body)
			require.Equal(t, "application/json", resp.Header.Get("Content-Type"))
			require.Empty(t, resp.Header.Get("Access-Control-Allow-Origin"))
			var got statuspb.Status
			require.NoError(t, protojson.Unmarshal([]byte(body), &got))
			require.Equal(t, tt.code, codes.Code(got.GetCode()))
			require.NotEmpty(t, got.GetDetails())
		})
	}
	_, err := s.builds.GetBuildCard(w.ben, &pb.GetBuildCardRequest{Name: "builds/b-9"})
	_, body := s.page(http.MethodGet, "/builds/b-9/card", "Authorization", mine)
	var got statuspb.Status
	require.NoError(t, protojson.Unmarshal([]byte(body), &got))
	equal(t, status.Convert(err).Proto(), &got)
}

// On a demo server every card says that it is invented, whatever the sheet says.
func TestDemoCardSaysSo(t *testing.T) {
	for _, tt := range []struct {
		name  string
		demo  bool
		wants bool
	}{{"demo", true, true}, {"for genuine", false, false}} {
		t.Run(tt.name, func(t *testing.T) {
			s := newShop(t, func(o *server.Options) { o.Demo = tt.demo })
			w := s.staffed()
			genuine := wholeSheet(t)
			genuine.Invented, genuine.Label = false, "job card 17"
			_, err := s.builds.CreateBuild(w.ben, &pb.CreateBuildRequest{RequestId: id(), BuildId: "b-1", Sheet: genuine})
			require.NoError(t, err)
			_, page := s.page(http.MethodGet, "/builds/b-1/card", "Authorization", "Bearer "+w.ben.token)
			require.Equal(t, tt.wants, strings.Contains(page, "INVENTED DATA"), "marked")
			require.Positive(t, strings.Count(page, "job card 17"))
		})
	}
}
