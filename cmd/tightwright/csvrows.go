package main

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"strings"
)

// maxRowBytes bounds one row of CSV, and with it the memory of a run.
const maxRowBytes = 64 << 10

// A csvReader reads CSV (RFC 4180) one row at a time, in bounded memory. Lines
// end with LF or CRLF; a byte-order mark before the first is left out.
//
// A row that cannot be read is reported and reading goes on with the line
// after the one on which it began, so that a quote that is never closed costs
// one row and not the rest of the file.
type csvReader struct {
	in    *bufio.Reader
	ahead []csvLine // lines that are read again
	count int       // lines read from in
}

type csvLine struct {
	number int // from 1
	text   []byte
	isLong bool // cut off at maxRowBytes
}

// A csvRow is one row: its cells or what is wrong with it.
type csvRow struct {
	line  int // on which it begins
	cells []string
	err   error
	// isBlank says that the line is empty; cells is one empty cell then.
	isBlank bool
}

func newCSVReader(in io.Reader) *csvReader {
	r := &csvReader{in: bufio.NewReaderSize(in, maxRowBytes)}
	if mark, err := r.in.Peek(3); err == nil && string(mark) == "\ufeff" {
		_, _ = r.in.Discard(len(mark)) // cannot fail: the bytes were peeked
	}
	return r
}

// next returns the next row, io.EOF after the last, or the error of the
// underlying reader. A row with mistakes is no error of next.
func (r *csvReader) next() (csvRow, error) {
	first, err := r.line()
	if err != nil {
		return csvRow{}, err
	}
	row := csvRow{line: first.number}
	if first.isLong {
		row.err = wrong(reasonTooLong, "line %d is longer than the %d bytes that are read of a row", first.number, maxRowBytes)
		return row, nil
	}
	text := first.text
	var more []csvLine
	for isOpen := endsInQuotes(text, false); isOpen; {
		line, err := r.line()
		if err != nil && !errors.Is(err, io.EOF) {
			return csvRow{}, err
		}
		if err != nil || line.isLong || len(text)+len(line.text) > maxRowBytes {
			if err == nil {
				more = append(more, line)
			}
			r.again(more)
			row.err = wrong(reasonBrokenQuotes, "line %d opens a quote that does not close", first.number)
			return row, nil
		}
		more = append(more, line)
		isOpen = endsInQuotes(line.text, true)
		text = append(text, line.text...)
	}
	r.parse(&row, text, more)
	return row, nil
}

// parse takes the text of a row apart.
func (r *csvReader) parse(row *csvRow, text []byte, more []csvLine) {
	if len(bytes.TrimSuffix(bytes.TrimSuffix(text, []byte("\n")), []byte("\r"))) == 0 {
		row.cells, row.isBlank = []string{""}, true
		return
	}
	parser := csv.NewReader(bytes.NewReader(text))
	parser.FieldsPerRecord = -1
	cells, err := parser.Read()
	if err != nil {
		r.again(more)
		row.err = wrong(reasonBrokenQuotes, `line %d has a quote in the wrong place: put the whole cell in quotes and write a quote inside it twice, as in "1 "" x 24"`, row.line)
		return
	}
	row.cells = cells
}

// again puts lines back.
func (r *csvReader) again(lines []csvLine) {
	if len(lines) > 0 {
		r.ahead = append(lines, r.ahead...)
	}
}

// line returns the next line with its end, as a copy.
func (r *csvReader) line() (csvLine, error) {
	if len(r.ahead) > 0 {
		line := r.ahead[0]
		r.ahead = r.ahead[1:]
		return line, nil
	}
	r.count++
	line := csvLine{number: r.count}
	text, err := r.in.ReadSlice('\n')
	line.text = bytes.Clone(text)
	for errors.Is(err, bufio.ErrBufferFull) {
		line.isLong = true
		_, err = r.in.ReadSlice('\n')
	}
	if errors.Is(err, io.EOF) && len(line.text) > 0 {
		return line, nil // the last line has no end
	}
	return line, err
}

// endsInQuotes reports whether a row that goes on with this line is still
// inside quotes at its end. inside says whether it was before. What is broken
// ends the row: the parser finds it.
func endsInQuotes(text []byte, inside bool) bool {
	line := string(text)
	for {
		if !inside {
			if rest, quoted := strings.CutPrefix(line, `"`); quoted {
				inside, line = true, rest
				continue
			}
			_, rest, more := strings.Cut(line, ",")
			if !more {
				return false
			}
			line = rest
			continue
		}
		_, rest, closed := strings.Cut(line, `"`)
		switch {
		case !closed:
			return true
		case strings.HasPrefix(rest, `"`):
			line = rest[1:]
		case strings.HasPrefix(rest, ","):
			inside, line = false, rest[1:]
		default:
			return false
		}
	}
}
