package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// The exit codes.
const (
	codeOK       = 0
	codeFinding  = 1 // something was found, or the work itself went wrong
	codeBadInput = 2 // what was given cannot be used
)

// An exitError ends the program with a code. Text is the one line that is
// written to standard error; it may be empty when the output has said it.
type exitError struct {
	code int
	text string
}

func (e *exitError) Error() string { return e.text }

// finding ends the program with 1. An empty format says nothing more.
func finding(format string, args ...any) error {
	return &exitError{code: codeFinding, text: fmt.Sprintf(format, args...)}
}

// badInput ends the program with 2.
func badInput(format string, args ...any) error {
	return &exitError{code: codeBadInput, text: fmt.Sprintf(format, args...)}
}

// run runs one command line and returns the exit code.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	root := newRootCommand(stdin, stdout, stderr)
	root.SetArgs(args)
	err := root.Execute()
	if err == nil {
		return codeOK
	}
	// An error without a code is cobra's own: an unknown command, a flag that
	// is not there, a wrong number of arguments.
	code := codeBadInput
	if exit, ok := errors.AsType[*exitError](err); ok {
		code = exit.code
	}
	text := oneLine(err.Error())
	switch {
	case text == "": // the output has said it
	case code == codeBadInput && asksForJSON(args):
		_ = encodeJSON(stdout, asErrorObject(err)) // nobody is left to tell
	default:
		_, _ = fmt.Fprintf(stderr, "tightwright: %s\n", text)
	}
	return code
}

// asksForJSON reports whether --json stands on a command line that may have
// been refused before its flags were read to the end.
func asksForJSON(args []string) bool {
	if end := slices.Index(args, "--"); end >= 0 {
		args = args[:end]
	}
	return slices.Contains(args, "--json") || slices.Contains(args, "--json=true")
}

// flagError says what is wrong with a flag in the words of this program.
func flagError(_ *cobra.Command, err error) error {
	bad, ok := errors.AsType[*pflag.InvalidValueError](err)
	if !ok {
		return wrong(reasonBadOption, "%s", err)
	}
	form := "another value"
	switch bad.GetFlag().Value.Type() {
	case "int", "int64":
		form = "a whole number"
	case "uint", "uint64":
		form = "a whole number of 0 or more"
	case "bool":
		form = "true or false, or nothing"
	}
	return wrong(reasonBadOption, "%s %q: write %s", bad.GetFlag().Name, bad.GetValue(), form)
}

// helpArguments refuses help for a command that is not there.
func helpArguments(cmd *cobra.Command, args []string) error {
	if _, rest, err := cmd.Root().Find(args); err != nil || len(rest) > 0 {
		return wrong(reasonNotFound, "there is no command %q", strings.Join(args, " "))
	}
	return nil
}

// oneLine joins the lines of a message, so that an error is always one line.
func oneLine(text string) string {
	lines := strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' })
	for i := range lines {
		lines[i] = strings.TrimSpace(lines[i])
	}
	return strings.Join(lines, "; ")
}

// newRootCommand returns the whole command tree. Each subcommand is made in a
// file of its own and added here.
func newRootCommand(stdin io.Reader, stdout, stderr io.Writer) *cobra.Command {
	root := &cobra.Command{
		Use:           "tightwright",
		Short:         "Torque and assembly procedures for a bicycle workshop",
		SilenceErrors: true, // run writes the one line
		SilenceUsage:  true,
		Args:          cobra.NoArgs,
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	root.PersistentFlags().Bool("json", false, "write JSON instead of words")
	root.SetFlagErrorFunc(flagError)
	root.AddCommand(subcommands()...)
	root.InitDefaultHelpCmd()
	if help, _, err := root.Find([]string{"help"}); err == nil {
		help.Args = helpArguments
		help.Example = "  tightwright help plan\n  tightwright help catalogue check"
	}
	return root
}
