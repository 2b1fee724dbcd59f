package main

import (
	"encoding/csv"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// readRows reads everything; a row with mistakes becomes the reason.
func readRows(t testing.TB, text string) [][]string {
	t.Helper()
	var rows [][]string
	r := newCSVReader(strings.NewReader(text))
	for {
		row, err := r.next()
		if errors.Is(err, io.EOF) {
			return rows
		}
		require.NoError(t, err)
		if row.err != nil {
			rows = append(rows, []string{asErrorObject(row.err).Error.Reason})
			continue
		}
		rows = append(rows, row.cells)
	}
}

func TestCSVReader(t *testing.T) {
	long := strings.Repeat("x", maxRowBytes)
	for _, tt := range []struct {
		name, text string
		want       [][]string
	}{
		{"nothing", "", nil},
		{"one row without an end", "a,b", [][]string{{"a", "b"}}},
		{"LF", "a,b\nc,d\n", [][]string{{"a", "b"}, {"c", "d"}}},
		{"CRLF", "a,b\r\nc,d\r\n", [][]string{{"a", "b"}, {"c", "d"}}},
		{"byte-order mark", "\ufeffa,b\n", [][]string{{"a", "b"}}},
		{"byte-order mark before quotes", "\ufeff\"a\",b\n", [][]string{{"a", "b"}}},
		{"byte-order mark inside stays", "a\n\ufeffb\n", [][]string{{"a"}, {"\ufeffb"}}},
		{"spaces stay", " a , b \n", [][]string{{" a ", " b "}}},
		{"quoted comma and quote", `"a,""b""",c` + "\n", [][]string{{`a,"b"`, "c"}}},
		{"quoted line end", "\"a\nb\",c\nd,e\n", [][]string{{"a\nb", "c"}, {"d", "e"}}},
		{"quoted CRLF", "\"a\r\nb\"\r\nc\r\n", [][]string{{"a\nb"}, {"c"}}},
		{"quoted empty lines", "\"a\n\n\nb\"\nc\n", [][]string{{"a\n\n\nb"}, {"c"}}},
		{"empty quoted cell", "\"\"\na\n", [][]string{{""}, {"a"}}},
		{"empty lines", "a\n\n\r\nb\n\n", [][]string{{"a"}, {""}, {""}, {"b"}, {""}}},
		{"empty cells", ",,\n", [][]string{{"", "", ""}}},
		{"quote inside a bare cell", "a\"b\nc\n", [][]string{{"broken_quotes"}, {"c"}}},
		{"text after a closing quote", "\"a\"b\nc\n", [][]string{{"broken_quotes"}, {"c"}}},
		{"quote never closed", "\"a\nb\nc\n", [][]string{{"broken_quotes"}, {"b"}, {"c"}}},
		{"quote never closed, last line", "a\n\"b", [][]string{{"a"}, {"broken_quotes"}}},
		{"two in a row", "\"a\n\"b\nc\n", [][]string{{"broken_quotes"}, {"broken_quotes"}, {"c"}}},
		{"closed by the next row's quote", "\"5,N.m\n\"7\",N.m\n", [][]string{{"broken_quotes"}, {"7", "N.m"}}},
		{"longest line", long[:maxRowBytes-1] + "\nb\n", [][]string{{long[:maxRowBytes-1]}, {"b"}}},
		{"line too long", long + "\nb\n", [][]string{{"too_long"}, {"b"}}},
		{"line too long, last", "a\n" + long + long, [][]string{{"a"}, {"too_long"}}},
		{"quoted row too long", "\"" + strings.Repeat("x\n", 3) + long[:maxRowBytes-6] + "\n\"\nb\n",
			[][]string{{"broken_quotes"}, {"x"}, {"x"}, {long[:maxRowBytes-6]}, {"broken_quotes"}, {"b"}}},
		{"not UTF-8", "\xff,b\n", [][]string{{"\xff", "b"}}},
		{"zero byte", "a\x00,b\n", [][]string{{"a\x00", "b"}}},
	} {
		t.Run(tt.name, func(t *testing.T) { require.Equal(t, tt.want, readRows(t, tt.text)) })
	}
}

func TestCSVReaderCountsLines(t *testing.T) {
	r := newCSVReader(strings.NewReader("a\n\"b\nc\"\n\n\"d\ne\n"))
	var lines []int
	for row, err := r.next(); err == nil; row, err = r.next() {
		lines = append(lines, row.line)
	}
	require.Equal(t, []int{1, 2, 4, 5, 6}, lines)
}

func TestCSVReaderReportsReadErrors(t *testing.T) {
	broken := errors.New("cable pulled")
	for _, text := range []string{"a\nb", "a\n\"b"} {
		r := newCSVReader(io.MultiReader(strings.NewReader(text), errReader{broken}))
		_, err := r.next()
		require.NoError(t, err)
		for err == nil {
			_, err = r.next()
		}
		require.ErrorIs(t, err, broken)
	}
}

type errReader struct{ err error }

func (r errReader) Read([]byte) (int, error) { return 0, r.err }

// Whatever comes in, the reader comes to an end, gives no more rows than there
// are lines, and agrees with encoding/csv where that takes the whole text.
func FuzzCSVReader(f *testing.F) {
	for _, seed := range []string{
		"value,from,to\n5,N.m,lbf.in\n", "text\r\n\"4,5 Nm\"\r\n", "\ufefftext\n\"a\nb\"\n",
		"a\"b\n", "\"a\nb\nc", "\"a\"b\n\n,,\n\"\"\n", "\"\"\"\"\n", "a\rb\r\r\n\"\r\n\"\r",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		rows := readRows(t, text)
		require.LessOrEqual(t, len(rows), strings.Count(text, "\n")+1)
		reference := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff")))
		reference.FieldsPerRecord = -1
		want, err := reference.ReadAll()
		if err != nil || len(text) > maxRowBytes {
			return
		}
		require.Equal(t, want, withoutBlank(text, rows))
	})
}

// withoutBlank leaves out the rows that encoding/csv does not report: empty
// lines. A cell "" in quotes is a row for both, so the two are counted.
func withoutBlank(text string, rows [][]string) [][]string {
	r := newCSVReader(strings.NewReader(text))
	var out [][]string
	for _, cells := range rows {
		row, err := r.next()
		if err == nil && !row.isBlank {
			out = append(out, cells)
		}
	}
	return out
}
