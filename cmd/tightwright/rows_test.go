package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// answers reads what a run of rows wrote: one JSON object a line, nothing else.
func answers(t testing.TB, stdout string) []map[string]any {
	t.Helper()
	var out []map[string]any
	for line := range strings.Lines(stdout) {
		require.True(t, strings.HasSuffix(line, "}\n"), line)
		var object map[string]any
		require.NoError(t, json.Unmarshal([]byte(line), &object), line)
		out = append(out, object)
	}
	return out
}

// gist is the part of an answer that the tables below compare: the exact
// value of a conversion, the kind of a marking, or the reason of an error.
func gist(object map[string]any) string {
	for _, key := range []string{"rounded", "exact", "kind"} {
		if text, ok := object[key].(string); ok {
			return text
		}
	}
	return object["error"].(map[string]any)["reason"].(string)
}

func TestRows(t *testing.T) {
	for _, tt := range []struct {
		name  string
		args  []string
		stdin string
		want  []string
	}{
		{"one row", []string{"convert", "-"}, "value,from,to\n5,N.m,N.cm\n", []string{"500"}},
		{"columns in any order", []string{"convert", "-"}, "to,value,from\nN.cm,5,N.m\n", []string{"500"}},
		{"no end of line", []string{"convert", "-"}, "value,from,to\n5,N.m,N.cm", []string{"500"}},
		{"Windows file", []string{"convert", "-"}, "\ufeffvalue,from,to\r\n5,N.m,N.cm\r\n", []string{"500"}},
		{"header with spaces and quotes", []string{"convert", "-"}, "\"value\", from , to\n5, N.m , N.cm\n", []string{"500"}},
		{"negative", []string{"convert", "-"}, "value,from,to\n-5,N.m,N.cm\n", []string{"-500"}},
		{"flag columns", []string{"convert", "-"}, "value,from,to,places,as\n5,N.m,lbf.in,0,max\n5,N.m,lbf.in,0,min\n5,N.m,lbf.in,,\n",
			[]string{"44", "45", "50000000000000000/1129848290276167"}},
		{"flag holds where the cell is empty", []string{"convert", "-", "--places", "1"}, "value,from,to,places\n5,N.m,lbf.in,0\n5,N.m,lbf.in,\n",
			[]string{"44", "44.3"}},
		{"--json changes nothing", []string{"--json", "convert", "-"}, "value,from,to\n5,N.m,N.cm\n", []string{"500"}},
		{"bad rows and good ones", []string{"convert", "-"},
			"value,from,to\nx,N.m,N.cm\n1,N.m\n1,N.m,N.cm,1\n,N.m,N.cm\n1,,N.cm\n1,N.m,furlong\n1e3,N.m,N.cm\n\"1,5\",N.m,N.cm\n5,N.m,N.cm\n",
			[]string{"not_a_number", "wrong_field_count", "wrong_field_count", "missing_value", "missing_unit", "unknown_unit",
				"exponent_not_allowed", "ambiguous_number", "500"}},
		{"broken quotes", []string{"convert", "-"}, "value,from,to\n\"5,N.m,N.cm\n6,N.m,N.cm\n7,\"N.m,N.cm\n8,N.m,N.cm\n",
			[]string{"broken_quotes", "600", "broken_quotes", "800"}},
		{"a quote that closes rows later is one row", []string{"convert", "-"}, "value,from,to\n\"5,N.m,N.cm\n7\",N.m,N.cm\n8,N.m,N.cm\n",
			[]string{"not_a_number", "800"}},
		{"huge cell", []string{"marking", "-"}, "text\n" + strings.Repeat("5", 1<<20) + " Nm\n5 Nm\n", []string{"too_long", "nominal"}},
		{"long number", []string{"convert", "-"}, "value,from,to\n" + strings.Repeat("5", 60000) + ",N.m,N.cm\n", []string{"out_of_range"}},
		{"several columns: empty lines are no rows", []string{"convert", "-"}, "\nvalue,from,to\n\n5,N.m,N.cm\n\n", []string{"500"}},
		{"one column: an empty line is an empty cell", []string{"marking", "-"}, "text\n\n\"\"\n5 Nm\n", []string{"empty", "empty", "nominal"}},
		{"quoted line end", []string{"marking", "-"}, "text\n\"5\nNm\"\n5-7 Nm\n", []string{"control_character", "range"}},
		{"comma", []string{"marking", "-"}, "text\n\"4,5-5,5 Nm\"\n", []string{"range"}},
		{"a dash is a row like any other", []string{"marking", "-"}, "text\n-\n", []string{"missing_value"}},
		{"no rows", []string{"marking", "-"}, "text\n", nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := tightwright(t, tt.stdin, tt.args...)
			require.Empty(t, got.stderr)
			require.Equal(t, codeOK, got.code)
			var gists []string
			for _, object := range answers(t, got.stdout) {
				gists = append(gists, gist(object))
			}
			require.Equal(t, tt.want, gists)
		})
	}
}

// A header that is wrong ends the run before it begins.
func TestRowsHeader(t *testing.T) {
	for _, tt := range []struct{ name, stdin, says string }{
		{"nothing", "", "standard input is empty"},
		{"only empty lines", "\n\n", "standard input is empty"},
		{"unknown column", "value,from,to,colour\n5,N.m,N.cm,red\n", `there is no column "colour": the columns are value, from, to, as, digits, places`},
		{"capitals", "Value,from,to\n", `there is no column "Value"`},
		{"no name", "value,from,to,\n", `there is no column ""`},
		{"help is no column", "value,from,to,help\n", `there is no column "help"`},
		{"json is no column", "value,from,to,json\n", `there is no column "json"`},
		{"twice", "value,from,to,value\n", `the column "value" stands twice`},
		{"missing", "value,from\n5,N.m\n", `the column "to" is missing`},
		{"broken quotes", "\"value,from,to\n", "line 1 opens a quote that does not close"},
		{"line end in a name", "\"val\nue\",from,to\n", `there is no column "val\nue"`},
		{"UTF-16", "\xff\xfet\x00e\x00x\x00t\x00\n\x00", "save the file as UTF-8"},
		{"no header", "5,N.m,N.cm\n", `there is no column "5"`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := tightwright(t, tt.stdin, "convert", "-")
			require.Equal(t, codeBadInput, got.code)
			require.Empty(t, got.stdout)
			require.Contains(t, got.stderr, tt.says)
			require.Equal(t, 1, strings.Count(got.stderr, "\n"), got.stderr)
		})
	}
}

// Each row is answered before the next is asked for.
func TestRowsStream(t *testing.T) {
	stdin, typed := io.Pipe()
	shown, stdout := io.Pipe()
	done := make(chan int)
	var stderr bytes.Buffer
	go func() {
		code := run([]string{"convert", "-"}, stdin, stdout, &stderr)
		_ = stdout.Close()
		done <- code
	}()
	answers := bufio.NewScanner(shown)
	_, err := io.WriteString(typed, "value,from,to\n")
	require.NoError(t, err)
	for i := 1; i <= 3; i++ {
		_, err := fmt.Fprintf(typed, "%d,N.m,N.cm\n", i)
		require.NoError(t, err)
		require.True(t, answers.Scan())
		require.Equal(t, fmt.Sprintf(`{"value":%d00,"exact":"%[1]d00","unit":"N.cm"}`, i), answers.Text())
	}
	require.NoError(t, typed.Close())
	require.False(t, answers.Scan())
	require.Equal(t, codeOK, <-done)
	require.Empty(t, stderr.String())
}

// A reader that breaks and a writer that is full end the run with 1.
func TestRowsBrokenPipes(t *testing.T) {
	broken := io.MultiReader(strings.NewReader("text\n5 Nm\n"), errReader{io.ErrUnexpectedEOF})
	var stdout, stderr bytes.Buffer
	require.Equal(t, codeFinding, run([]string{"marking", "-"}, broken, &stdout, &stderr))
	require.Len(t, answers(t, stdout.String()), 1)
	require.Contains(t, stderr.String(), "read rows: unexpected EOF")

	stderr.Reset()
	require.Equal(t, codeFinding, run([]string{"marking", "-"}, strings.NewReader("text\n5 Nm\n"), fullWriter{}, &stderr))
	require.Contains(t, stderr.String(), "no space left")
}

type fullWriter struct{}

func (fullWriter) Write([]byte) (int, error) { return 0, fmt.Errorf("no space left on the disk") }

// rowSource makes rows of CSV as they are read, so that a run of any length
// needs no memory for its input.
type rowSource struct {
	rows int
	rest []byte
}

func (s *rowSource) Read(p []byte) (int, error) {
	if len(s.rest) == 0 {
		if s.rows == 0 {
			return 0, io.EOF
		}
		s.rows--
		s.rest = fmt.Appendf(nil, "%d.5,N.m,[lbf_av].[in_i]\n", s.rows)
	}
	n := copy(p, s.rest)
	s.rest = s.rest[n:]
	return n, nil
}

func BenchmarkRows(b *testing.B) {
	b.ReportAllocs()
	stdin := io.MultiReader(strings.NewReader("value,from,to\n"), &rowSource{rows: b.N})
	var stderr bytes.Buffer
	code := run([]string{"convert", "-"}, stdin, io.Discard, &stderr)
	require.Equal(b, codeOK, code, stderr.String())
}
