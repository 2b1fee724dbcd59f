package main

import (
	"errors"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// rows runs the calculation on each row of CSV on standard input and writes
// one JSON object a row, in order, at once.
//
// The first row names the columns: arguments and flags in lower case, in any
// order. An argument needs its column, a flag does not. An empty cell means
// not given, and the flag of the command line holds then, if there is one. A
// row that is wrong gives an error object and the run goes on; the exit code
// says whether the run came to its end, not whether every row was right. A
// header that is wrong ends the run before it begins.
//
// A line without anything is a row with one empty cell where the file has one
// column, and no row where it has several.
func (c calculation) rows(cmd *cobra.Command, given inputs) error {
	reader := newCSVReader(cmd.InOrStdin())
	header, err := c.header(cmd, reader)
	if err != nil {
		return badInput("%s", printable(err.Error()))
	}
	for {
		row, err := reader.next()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return finding("read rows: %s", err)
		}
		if row.isBlank && len(header) > 1 {
			continue
		}
		if err := writeJSON(cmd, c.row(header, row, given)); err != nil {
			return err
		}
	}
}

// row answers one row: an answer or an error object.
func (c calculation) row(header []string, row csvRow, given inputs) any {
	if row.err != nil {
		return asErrorObject(row.err)
	}
	if len(row.cells) != len(header) {
		return asErrorObject(wrong(reasonFieldCount, "line %d has %d cells, the header has %d", row.line, len(row.cells), len(header)))
	}
	in := maps.Clone(given)
	for i, cell := range row.cells {
		if cell != "" {
			in[header[i]] = cell
		}
	}
	out, err := c.work(in)
	if err != nil {
		return asErrorObject(err)
	}
	return out.object()
}

// header reads the names of the columns.
func (c calculation) header(cmd *cobra.Command, reader *csvReader) ([]string, error) {
	row, err := reader.next()
	for err == nil && row.isBlank {
		row, err = reader.next()
	}
	switch {
	case errors.Is(err, io.EOF):
		return nil, wrong(reasonOther, "standard input is empty: %s; rows begin with a line that names their columns: %s", c.hint, c.columnNames(cmd))
	case err != nil:
		return nil, err
	case row.err != nil:
		return nil, row.err
	}
	known := c.columns(cmd)
	header := make([]string, len(row.cells))
	for i, cell := range row.cells {
		name := strings.TrimSpace(cell)
		switch {
		case strings.ContainsRune(cell, 0):
			return nil, wrong(reasonOther, "the header is not UTF-8 text: save the file as UTF-8")
		case !slices.Contains(known, name):
			return nil, wrong(reasonOther, "there is no column %q: the columns are %s", name, c.columnNames(cmd))
		case slices.Contains(header, name):
			return nil, wrong(reasonOther, "the column %q stands twice", name)
		}
		header[i] = name
	}
	for _, name := range c.args {
		if !slices.Contains(header, name) {
			return nil, wrong(reasonOther, "the column %q is missing: the header has %s", name, strings.Join(header, ", "))
		}
	}
	return header, nil
}
