package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// drawn are the command lines that draw.
var drawn = [][]string{
	{"joint", "--thread", "M8", "--class", "8.8", "--friction", "0.12"},
	{"clamp", "--tube-diameter", "27.2", "--length", "22", "--bolts", "1", "--preload", "5000", "--contact", "alloy, dry"},
	{"spline", "--crank-torque", "230", "--chainring", "34", "--sprocket", "25", "--lockring-torque", "40", "--body", "7075"},
	{"setting", "--torque", "135", "--unit", "in-lb", "--length", "10", "--extension", "1.5"},
	{"setting", "--torque", "6", "--min", "5", "--max", "7", "--wrench-min", "2", "--wrench-max", "20", "--graduation", "0.2"},
	{"setting", "--torque", "6", "--wrench-min", "2", "--wrench-max", "20", "--graduation", "0.2"},
	{"setting", "--torque", "6", "--wrench-kind", "fixed", "--wrench-min", "6", "--wrench-max", "6"},
}

// The answer is the same with a drawing, and nothing but the drawing is left.
func TestDrawings(t *testing.T) {
	for _, args := range drawn {
		t.Run(args[0], func(t *testing.T) {
			dir := t.TempDir()
			file := filepath.Join(dir, "drawing.svg")
			require.NoError(t, os.WriteFile(file, []byte("an older drawing"), 0o600))
			plain := tightwright(t, "", args...)
			got := tightwright(t, "", append([]string{args[0], "--svg", file}, args[1:]...)...)
			require.Equal(t, codeOK, got.code, got.stderr)
			require.Equal(t, plain, got)
			svg, err := os.ReadFile(file)
			require.NoError(t, err)
			requireXML(t, svg)
			entries, err := os.ReadDir(dir)
			require.NoError(t, err)
			require.Len(t, entries, 1)
		})
	}
}

func requireXML(tb testing.TB, data []byte) {
	tb.Helper()
	d := xml.NewDecoder(bytes.NewReader(data))
	count := 0
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(tb, err)
		count++
	}
	require.Greater(tb, count, 10)
}

// What cannot be drawn or written is said, and an older drawing stays.
func TestDrawingRefusals(t *testing.T) {
	dir := t.TempDir()
	older := filepath.Join(dir, "older.svg")
	require.NoError(t, os.WriteFile(older, []byte("an older drawing"), 0o600))
	for _, tt := range []struct {
		name  string
		stdin string
		args  []string
		says  string
	}{
		{"no such folder", "", append([]string{drawn[0][0], "--svg", filepath.Join(dir, "none", "x.svg")}, drawn[0][1:]...), "svg: open"},
		{"a folder", "", append([]string{drawn[0][0], "--svg", dir}, drawn[0][1:]...), "svg: "},
		{"short form", "", []string{"joint", "--thread", "M8", "--torque", "20", "--nut-factor", "0.2", "--svg", older}, "svg: a nut factor"},
		{"reverse", "", []string{"setting", "--set-to", "5", "--length", "10", "--extension", "1", "--svg", older}, "svg: a drawing"},
		{"wrong input", "", []string{"joint", "--thread", "M8", "--torque", "20", "--svg", older}, "friction"},
		{"rows", "thread\nM8\n", []string{"joint", "-", "--svg", older}, "svg draws one answer"},
		{"rows, with =", "thread\nM8\n", []string{"joint", "-", "--svg=" + older}, "svg draws one answer"},
		{"a column", "thread,svg\nM8,x.svg\n", []string{"joint", "-"}, `there is no column "svg"`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := tightwright(t, tt.stdin, tt.args...)
			require.Equal(t, codeBadInput, got.code)
			require.Empty(t, got.stdout)
			require.Contains(t, got.stderr, tt.says)
			kept, err := os.ReadFile(older)
			require.NoError(t, err)
			require.Equal(t, "an older drawing", string(kept))
		})
	}
	left, err := filepath.Glob(filepath.Join(dir, "*.part"))
	require.NoError(t, err)
	require.Empty(t, left)
}
