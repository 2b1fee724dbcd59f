package server_test

import (
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/json"
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	statuspb "google.golang.org/genproto/googleapis/rpc/status"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
	"github.com/tightwright/tightwright/server"
)

// A reply is what an HTTP call was answered, the body apart.
type reply struct {
	StatusCode int
	Header     http.Header
}

// post calls a method over HTTP, as a page of this very server would.
func (s *shop) post(token, method, body string, headers ...string) (reply, []byte) {
	s.Helper()
	req, err := http.NewRequestWithContext(s.Context(), http.MethodPost, s.web+"/tightwright.v1."+method, strings.NewReader(body))
	require.NoError(s, err)
	req.Header.Set("Content-Type", "application/json")
	if token != "" {
		req.Header.Set("Authorization", "Bearer "+token)
	}
	for i := 0; i+1 < len(headers); i += 2 {
		req.Header.Set(headers[i], headers[i+1])
		if headers[i] == "Host" {
			req.Host = headers[i+1]
		}
	}
	resp, err := http.DefaultClient.Do(req)
	require.NoError(s, err)
	data, err := io.ReadAll(resp.Body)
	require.NoError(s, err)
	require.NoError(s, resp.Body.Close())
	return reply{resp.StatusCode, resp.Header}, data
}

// Both ports are the same server: the same errors to the last detail, and one
// memory of what was asked.
func TestBothPortsAnswerAlike(t *testing.T) {
	s, w, _ := cassetteShop(t)
	for _, tt := range []struct {
		name, token, method, body string
		rpc                       func() error
		http                      int
	}{
		{"wrong fields", w.ben.token, "BuildService/GetBuild", `{"name":"B"}`, func() error {
			_, err := s.builds.GetBuild(w.ben, &pb.GetBuildRequest{Name: "B"})
			return err
		}, http.StatusBadRequest},
		{"not there", w.ben.token, "BuildService/GetBuild", `{"name":"builds/b-9"}`, func() error {
			_, err := s.builds.GetBuild(w.ben, &pb.GetBuildRequest{Name: "builds/b-9"})
			return err
		}, http.StatusNotFound},
		{"no session", "", "BuildService/GetBuild", `{"name":"builds/b-9"}`, func() error {
			_, err := s.builds.GetBuild(t.Context(), &pb.GetBuildRequest{Name: "builds/b-9"})
			return err
		}, http.StatusUnauthorized},
		{"not allowed", w.ben.token, "AuditService/AuditAll", `{}`, func() error {
			_, err := s.audits.AuditAll(w.ben, &pb.AuditAllRequest{})
			return err
		}, http.StatusForbidden},
		{"refused", w.ben.token, "BenchService/OpenJob",
			`{"requestId":"` + id() + `","build":"builds/b-1","jobId":"j-2","procedure":"procedures/cassette-splined-body"}`, func() error {
				_, err := s.bench.OpenJob(w.ben, &pb.OpenJobRequest{RequestId: id(), Build: "builds/b-1", JobId: "j-2", Procedure: "procedures/cassette-splined-body"})
				return err
			}, http.StatusBadRequest},
	} {
		t.Run(tt.name, func(t *testing.T) {
			resp, body := s.post(tt.token, tt.method, tt.body)
			require.Equal(t, tt.http, resp.StatusCode)
			var got statuspb.Status
			require.NoError(t, protojson.Unmarshal(body, &got), "%s", body)
			equal(t, status.Convert(tt.rpc()).Proto(), &got)
		})
	}
	req := batchOf(w.ben, "b-1", 0, look(jobName, "compare-parts", "pattern", true, ""))
	over, err := s.bench.AppendEntries(w.ben, req)
	require.NoError(t, err)
	data, err := protojson.Marshal(req)
	require.NoError(t, err)
	resp, body := s.post(w.ben.token, "BenchService/AppendEntries", string(data))
	require.Equal(t, http.StatusOK, resp.StatusCode, "%s", body)
	var again pb.AppendEntriesResponse
	require.NoError(t, protojson.Unmarshal(body, &again))
	equal(t, over, &again)
}

func TestWebJSONForm(t *testing.T) {
	s, w, _ := cassetteShop(t)
	_, body := s.post(w.ben.token, "BuildService/GetBuild", `{"name":"builds/b-1"}`)
	var got struct {
		Build map[string]any `json:"build"`
	}
	require.NoError(t, json.Unmarshal(body, &got))
	require.Equal(t, "1", got.Build["headSeq"])                                       // 64-bit integers are strings, names lowerCamelCase
	require.Equal(t, false, got.Build["released"])                                    // zero values are written
	_, underscored := s.post(w.ben.token, "BenchService/ListJobs", `{"page_size":1}`) // names of the .proto are read as well
	require.Contains(t, string(underscored), jobName)

	for _, tt := range []struct{ name, body string }{
		{"an unknown field", `{"nam":"builds/b-1"}`},
		{"no JSON", `name`},
		{"a value of another type", `{"name":7}`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			resp, body := s.post(w.ben.token, "BuildService/GetBuild", tt.body)
			require.Equal(t, http.StatusBadRequest, resp.StatusCode)
			require.Contains(t, string(body), "FIELD_INVALID")
		})
	}
}

func TestWebRefuses(t *testing.T) {
	s, w, _ := cassetteShop(t)
	const method, good = "BuildService/GetBuild", `{"name":"builds/b-1"}`
	for _, tt := range []struct {
		name    string
		headers []string
		method  string
		body    string
		want    int
	}{
		{"a page of another site", []string{"Origin", "http://example.com"}, method, good, http.StatusForbidden},
		{"another site, says the browser", []string{"Sec-Fetch-Site", "cross-site"}, method, good, http.StatusForbidden},
		{"another port of this machine", []string{"Sec-Fetch-Site", "same-site", "Origin", "http://127.0.0.1:1"}, method, good, http.StatusForbidden},
		{"a name that was let point here", []string{"Host", "bench.example.com"}, method, good, http.StatusMisdirectedRequest},
		{"a form", []string{"Content-Type", "text/plain"}, method, good, http.StatusUnsupportedMediaType},
		{"another form", []string{"Content-Type", "application/x-www-form-urlencoded"}, method, good, http.StatusUnsupportedMediaType},
		{"a method that is none", nil, "BuildService/Nothing", good, http.StatusNotFound},
		{"a body too large", nil, method, `{"name":"` + strings.Repeat("x", 1400<<10) + `"}`, http.StatusRequestEntityTooLarge},
	} {
		t.Run(tt.name, func(t *testing.T) {
			resp, body := s.post(w.ben.token, tt.method, tt.body, tt.headers...)
			require.Equal(t, tt.want, resp.StatusCode, "%s", body)
			var got statuspb.Status
			require.NoError(t, protojson.Unmarshal(body, &got))
			require.NotEmpty(t, got.GetMessage())
			require.Len(t, got.GetDetails(), 1)
			require.Empty(t, resp.Header.Get("Access-Control-Allow-Origin"))
		})
	}
	for _, origin := range []string{s.web, strings.Replace(s.web, "127.0.0.1", "localhost", 1)} {
		host := strings.TrimPrefix(origin, "http://")
		resp, body := s.post(w.ben.token, method, good, "Origin", origin, "Host", host)
		require.Equal(t, http.StatusOK, resp.StatusCode, "%s", body)
	}
	resp, err := http.Get(s.web + "/tightwright.v1." + method)
	require.NoError(t, err)
	require.NoError(t, resp.Body.Close())
	require.Equal(t, http.StatusMethodNotAllowed, resp.StatusCode)
}

func TestWebPicture(t *testing.T) {
	s, w, _ := cassetteShop(t)
	large := append(bytes.Clone(aPNG), make([]byte, 900<<10-len(aPNG))...)
	resp, body := s.post(w.ben.token, "BenchService/AddPicture", `{"requestId":"`+id()+`","build":"builds/b-1","mediaType":"image/png","content":"`+
		base64.StdEncoding.EncodeToString(large)+`"}`)
	require.Equal(t, http.StatusOK, resp.StatusCode, "%s", body)
}

func TestWebWatch(t *testing.T) {
	s, w, _ := cassetteShop(t)
	req, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.web+"/tightwright.v1.BenchService/WatchBuild", strings.NewReader(`{"build":"builds/b-1"}`))
	require.NoError(t, err)
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("Authorization", "Bearer "+w.ben.token)
	resp, err := http.DefaultClient.Do(req)
	require.NoError(t, err)
	defer resp.Body.Close()
	lines := bufio.NewScanner(resp.Body)
	read := func() *pb.WatchBuildResponse {
		require.True(t, lines.Scan(), "%v", lines.Err())
		var line struct {
			Result json.RawMessage `json:"result"`
		}
		require.NoError(t, json.Unmarshal(lines.Bytes(), &line))
		var m pb.WatchBuildResponse
		require.NoError(t, protojson.Unmarshal(line.Result, &m))
		return &m
	}
	require.NotNil(t, read().GetEntry().GetJobOpened())
	require.NotNil(t, read().GetHeartbeat())
	e := s.record(w.ben, "b-1", look(jobName, "compare-parts", "pattern", true, ""))[0]
	equal(t, e, read().GetEntry())
}

// One watcher more than fit is told so, and calls go on.
func TestWebWatchersAreBounded(t *testing.T) {
	s, w, _ := cassetteShop(t)
	open := func() (code int) {
		req, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.web+"/tightwright.v1.BenchService/WatchBuild", strings.NewReader(`{"build":"builds/b-1"}`))
		require.NoError(t, err)
		req.Header.Set("Content-Type", "application/json")
		req.Header.Set("Authorization", "Bearer "+w.ben.token)
		resp, err := http.DefaultClient.Do(req)
		require.NoError(t, err)
		t.Cleanup(func() { resp.Body.Close() })
		return resp.StatusCode
	}
	for range 64 {
		require.Equal(t, http.StatusOK, open())
	}
	require.Equal(t, http.StatusTooManyRequests, open())
	resp, _ := s.post(w.ben.token, "BuildService/GetBuild", `{"name":"builds/b-1"}`)
	require.Equal(t, http.StatusOK, resp.StatusCode)
}

func TestIndexPage(t *testing.T) {
	get := func(s *shop) (reply, string) {
		resp, err := http.Get(s.web + "/")
		require.NoError(t, err)
		defer resp.Body.Close()
		data, err := io.ReadAll(resp.Body)
		require.NoError(t, err)
		return reply{resp.StatusCode, resp.Header}, string(data)
	}
	resp, page := get(newShop(t))
	require.Equal(t, http.StatusOK, resp.StatusCode)
	require.Contains(t, page, "tightwright.v1.BenchService")
	require.NotContains(t, page, "Demo")
	require.Empty(t, resp.Header.Get("Tightwright-Demo"))
	require.Contains(t, resp.Header.Get("Content-Security-Policy"), "default-src 'none'")

	demo := newShop(t, func(o *server.Options) { o.Demo = true })
	resp, page = get(demo)
	require.Contains(t, page, "Demo: all data here is invented")
	require.NotEmpty(t, resp.Header.Get("Tightwright-Demo"))
	resp, _ = demo.post("", "PersonService/ListPeople", `{}`)
	require.NotEmpty(t, resp.Header.Get("Tightwright-Demo"))
}

// FuzzWeb sends any JSON to the call that takes the most: it must never be a
// fault of the server, and what is accepted must read back.
func FuzzWeb(f *testing.F) {
	s, w, _ := cassetteShop(f, func(o *server.Options) { o.Calls = 1e9 })
	good, err := protojson.Marshal(batchOf(w.ben, "b-1", 0, look(jobName, "compare-parts", "pattern", true, "n")))
	require.NoError(f, err)
	f.Add(string(good))
	f.Add(`{}`)
	f.Add(`{"commands":[{"takeReading":{"figure":{"digits":"1e9","unit":"N.m"}}}]}`)
	f.Add(`{"commands":[null],"clock":{"offset":"999999999s"}}`)
	f.Fuzz(func(t *testing.T, body string) {
		in := *s
		in.TB = t
		resp, data := in.post(w.ben.token, "BenchService/AppendEntries", body)
		require.Less(t, resp.StatusCode, 500, "%s: %s", body, data)
		into := proto.Message(&statuspb.Status{})
		if resp.StatusCode == http.StatusOK {
			into = &pb.AppendEntriesResponse{}
		}
		require.NoError(t, protojson.Unmarshal(data, into))
	})
}
