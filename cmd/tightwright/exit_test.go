package main

import (
	"io"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Flags stand before or after the arguments, and a negative number is never
// taken for one.
func TestConvertCommandLine(t *testing.T) {
	const want = `{"value":-500,"exact":"-500","unit":"N.cm"}` + "\n"
	for _, line := range []string{
		"convert -5 N.m N.cm --json",
		"convert --json -5 N.m N.cm",
		"convert -5 --json N.m N.cm",
		"--json convert -5 N.m N.cm",
		"convert --json -- -5 N.m N.cm",
		"convert --json -5 -- N.m N.cm",
		"convert --json=true -5 N.m N.cm",
	} {
		t.Run(line, func(t *testing.T) {
			require.Equal(t, outcome{codeOK, want, ""}, tightwright(t, "", strings.Fields(line)...))
		})
	}
}

// Exit codes, and one line on standard error whatever was typed.
func TestExitCodes(t *testing.T) {
	for _, tt := range []struct {
		name string
		args []string
		code int
		says string
	}{
		{"answer", []string{"convert", "5", "N.m", "N.cm"}, codeOK, ""},
		{"help", []string{"convert", "--help"}, codeOK, ""},
		{"help, short", []string{"marking", "-h"}, codeOK, ""},
		{"too few", []string{"convert", "5", "N.m"}, codeBadInput, "convert takes a value"},
		{"too many", []string{"convert", "5", "N.m", "N.cm", "mN.m"}, codeBadInput, "convert takes a value"},
		{"none", []string{"marking"}, codeBadInput, "marking takes one text"},
		{"dash beside others", []string{"convert", "-", "N.m", "N.cm"}, codeBadInput, `value "-"`},
		{"dash after --", []string{"marking", "--", "-"}, codeBadInput, "there is no number"},
		{"unknown flag", []string{"convert", "5", "N.m", "N.cm", "--colour"}, codeBadInput, "unknown flag: --colour"},
		{"unknown short flag", []string{"convert", "5", "N.m", "N.cm", "-x"}, codeBadInput, "unknown shorthand flag"},
		{"flag without its value", []string{"convert", "5", "N.m", "N.cm", "--places"}, codeBadInput, "flag needs an argument: --places"},
		{"unknown command", []string{"konvert"}, codeBadInput, "unknown command"},
		{"line end in a value", []string{"convert", "5\n6", "N.m", "N.cm"}, codeBadInput, `value "5\n6"`},
		{"line end in a flag", []string{"convert", "5", "N.m", "N.cm", "--a\nb"}, codeBadInput, "unknown flag"},
		{"line end in a unit", []string{"convert", "5", "N\nm", "N.cm"}, codeBadInput, "unknown unit"},
		{"escape in a marking", []string{"marking", "5 Nm\x1b[2J"}, codeBadInput, `\x1b`},
		{"negative marking", []string{"marking", "-3 Nm"}, codeBadInput, "a number is negative"},
		{"both roundings", []string{"convert", "5", "N.m", "N.cm", "--digits", "1", "--places", "1"}, codeBadInput, "give one of them"},
		{"no such limit", []string{"convert", "5", "N.m", "N.cm", "--places", "1", "--as", "most"}, codeBadInput, "write max or min"},
		{"limit without a fineness", []string{"convert", "5", "N.m", "N.cm", "--as", "max"}, codeBadInput, "how finely"},
		{"no digits at all", []string{"convert", "5", "N.m", "N.cm", "--digits", "0"}, codeBadInput, "from 1 to 40"},
		{"empty flag means not given", []string{"convert", "5", "N.m", "N.cm", "--digits", ""}, codeOK, ""},
		{"digits in words", []string{"convert", "5", "N.m", "N.cm", "--digits", "two"}, codeBadInput, "from 1 to 40"},
		{"places past all reason", []string{"convert", "5", "N.m", "N.cm", "--places", "999999999999"}, codeBadInput, "from -40 to 40"},
		{"negative places", []string{"convert", "15", "N.m", "N.m", "--places", "-1"}, codeOK, ""},
		{"too fine", []string{"convert", "0.0000000000000000000000000000000000001", "mN.m", "kN.m", "--digits", "3"}, codeBadInput, "too small to be rounded"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := tightwright(t, "", tt.args...)
			require.Equal(t, tt.code, got.code, got.stderr)
			require.Contains(t, got.stderr, tt.says)
			if tt.code == codeOK {
				require.Empty(t, got.stderr)
				require.NotEmpty(t, got.stdout)
				return
			}
			require.Empty(t, got.stdout)
			require.Equal(t, 1, strings.Count(got.stderr, "\n"), got.stderr)
			require.True(t, strings.HasPrefix(got.stderr, "tightwright: "), got.stderr)
		})
	}
}

// With --json what went wrong is an object on standard output.
func TestErrorObject(t *testing.T) {
	got := tightwright(t, "", "marking", "5 nm", "--json")
	require.Equal(t, codeBadInput, got.code)
	require.Empty(t, got.stderr)
	require.Equal(t, []map[string]any{{"error": map[string]any{
		"reason":  "ambiguous_unit",
		"message": `marking "5 nm": the capitals of the unit leave more than one reading; write N·m if newton meter is meant (nm is a nanometer, n.m. a nautical mile)`,
	}}}, answers(t, got.stdout))
}

// What is refused before a command runs is an object too.
func TestErrorObjectBeforeTheCommand(t *testing.T) {
	for _, tt := range []struct{ line, reason, message string }{
		{"convert 5 N.m N.cm --colour --json", "bad_option", "unknown flag: --colour"},
		{"teach --json --seed -1", "bad_option", `seed "-1": write a whole number of 0 or more`},
		{"konvert --json", "bad_input", `unknown command "konvert" for "tightwright"`},
		{"help konvert --json", "not_found", `there is no command "konvert"`},
		{"serve --json", "bad_input", "give --store FILE, or --demo for a temporary one"},
		{"demo --json --record no/such/folder", "bad_file", `record "no/such/folder": there is no such folder`},
	} {
		t.Run(tt.line, func(t *testing.T) {
			got := tightwright(t, "", strings.Fields(tt.line)...)
			require.Equal(t, codeBadInput, got.code)
			require.Empty(t, got.stderr)
			require.Equal(t, []map[string]any{{"error": map[string]any{"reason": tt.reason, "message": tt.message}}}, answers(t, got.stdout))
		})
	}
}

// A reader that goes away ends the command without a word.
func TestQuietWhenReaderLeaves(t *testing.T) {
	cmd := exec.Command("tightwright", "convert", "-")
	cmd.Stdin = io.MultiReader(strings.NewReader("value,from,to\n"), &rowSource{rows: 100_000})
	var stderr strings.Builder
	cmd.Stderr = &stderr
	stdout, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	_, err = io.ReadFull(stdout, make([]byte, 10))
	require.NoError(t, err)
	require.NoError(t, stdout.Close())
	require.Error(t, cmd.Wait())
	require.Empty(t, stderr.String())
}
