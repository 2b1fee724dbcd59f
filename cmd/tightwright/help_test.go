package main

import (
	"io"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"
)

// commands lists every command of ours that can be run.
func commands(t testing.TB) []*cobra.Command {
	t.Helper()
	var out []*cobra.Command
	var walk func(*cobra.Command)
	walk = func(c *cobra.Command) {
		for _, sub := range c.Commands() {
			walk(sub)
		}
		if c.Runnable() && !c.HasSubCommands() {
			out = append(out, c)
		}
	}
	walk(newRootCommand(strings.NewReader(""), io.Discard, io.Discard))
	require.NotEmpty(t, out)
	return out
}

// Every command says what it does, shows how, and takes --json.
func TestEveryCommandHasHelp(t *testing.T) {
	for _, c := range commands(t) {
		t.Run(c.CommandPath(), func(t *testing.T) {
			require.NotEmpty(t, c.Short)
			require.Contains(t, c.Example, c.CommandPath())
			require.NotNil(t, c.InheritedFlags().Lookup("json"))
			for line := range strings.Lines(c.Long) {
				require.LessOrEqual(t, len([]rune(line)), 90, line)
			}
		})
	}
}

// What a shell is offered on the tab key.
func TestCompletion(t *testing.T) {
	for _, tt := range []struct {
		name string
		args []string
		want []string
	}{
		{"unit", []string{"convert", "5", ""}, []string{"N.m", "[lbf_av].[in_i]", "kgf.cm"}},
		{"no number", []string{"convert", ""}, nil},
		{"unit behind flags", []string{"convert", "--places", "1", "-5", "N.m", ""}, []string{"kgf.cm"}},
		{"flag", []string{"convert", "--p"}, []string{"--places\t"}},
		{"procedure", []string{"plan", "ped"}, []string{"pedals\tPedals"}},
		{"one procedure only", []string{"plan", "pedals", ""}, nil},
		{"command", []string{"cat"}, []string{"catalogue\t"}},
		{"limit", []string{"convert", "--as", ""}, []string{"max", "min"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := tightwright(t, "", append([]string{"__complete"}, tt.args...)...)
			require.Equal(t, codeOK, got.code)
			for _, want := range tt.want {
				require.Contains(t, got.stdout, want)
			}
			if tt.want == nil {
				require.Equal(t, ":4\n", got.stdout) // nothing, and no file names either
			}
		})
	}
	for _, shell := range []string{"bash", "zsh", "fish", "powershell"} {
		got := tightwright(t, "", "completion", shell)
		require.Equal(t, codeOK, got.code, got.stderr)
		require.Contains(t, got.stdout, "tightwright")
	}
}
