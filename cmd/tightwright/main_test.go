package main

import (
	"bytes"
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write what came out into the expected files")

// TestMain lets the test binary stand in for the built command: tests and
// scripts start it as tightwright, with its own process, pipes and exit code.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"tightwright": main})
}

// The scripts cli_*.txtar: what a person types, what comes out, to the letter.
// With -update the expected output is written anew.
func TestScripts(t *testing.T) {
	scripts, err := filepath.Glob("../../testdata/runs/cli_*.txtar")
	require.NoError(t, err)
	require.NotEmpty(t, scripts)
	testscript.Run(t, testscript.Params{
		Files:               scripts,
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "record": record},
		Setup: func(env *testscript.Env) error {
			return os.CopyFS(filepath.Join(env.WorkDir, "shop"), os.DirFS(shop))
		},
	})
}

// exits CODE COMMAND ARGS... runs a command that has to end with that code.
func exits(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) < 2 {
		ts.Fatalf("usage: exits code command [args...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	code := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		exit, isExit := errors.AsType[*exec.ExitError](err)
		if !isExit {
			ts.Fatalf("%s: %v", args[1], err)
		}
		code = exit.ExitCode()
	}
	if code != want {
		ts.Fatalf("%s ended with %d, want %d", strings.Join(args[1:], " "), code, want)
	}
}

// outcome is what a command line left behind.
type outcome struct {
	code           int
	stdout, stderr string
}

// tightwright runs a command line in this process.
func tightwright(t testing.TB, stdin string, args ...string) outcome {
	t.Helper()
	var stdout, stderr bytes.Buffer
	code := run(args, strings.NewReader(stdin), &stdout, &stderr)
	return outcome{code, stdout.String(), stderr.String()}
}
