package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// A calculation is a command that works out one answer from its arguments and
// flags and touches nothing. All of them are run the same way: once from the
// command line, or once for each row of CSV on standard input where a single
// - stands for the arguments (see rows).
//
// Arguments and flags reach work under one set of names, the columns of the
// CSV: the arguments as listed in args, the flags by their long name.
type calculation struct {
	// args are the names of the arguments in order, in lower case.
	args []string
	// optional is the name of one more argument that may be left out, or empty.
	optional string
	// hint says how to write the arguments, for a wrong number of them.
	hint string
	// work answers or says what is wrong with the inputs; the error is an
	// *inputError where there is a code for it.
	work func(in inputs) (answer, error)
}

// inputs holds what was given, by name. A name that is not in it was not given.
type inputs map[string]string

// An answer has two forms: words for a person and an object for a machine.
type answer interface {
	// words returns the answer in lines, each ended with a newline.
	words() string
	// object returns what is written as one JSON object.
	object() any
}

// A finder is an answer that can be a finding: the command has answered and ends
// with 1. Rows of CSV do not: there an answer is an answer.
type finder interface{ isFinding() bool }

// command completes cmd, which has its own flags already, to one that runs
// the calculation.
func (c calculation) command(cmd *cobra.Command) *cobra.Command {
	// Cobra takes -5 for a flag. These commands take it for a number, so they
	// sort their command line themselves: see sortArgs.
	cmd.DisableFlagParsing = true
	cmd.Args = cobra.ArbitraryArgs
	cmd.RunE = func(cmd *cobra.Command, raw []string) error {
		flags, args, asRows := sortArgs(cmd.Flags(), raw)
		if err := cmd.Flags().Parse(flags); err != nil {
			return flagError(cmd, err)
		}
		if help, err := cmd.Flags().GetBool("help"); err == nil && help {
			return cmd.Help()
		}
		given := givenFlags(cmd)
		if asRows {
			return c.rows(cmd, given)
		}
		return c.once(cmd, args, given)
	}
	return cmd
}

// once runs the calculation on the command line's own arguments.
func (c calculation) once(cmd *cobra.Command, args []string, given inputs) error {
	names := c.arguments()
	isBare := len(args) == 0 && len(given) == 0 // how to begin helps more than what is missing
	if isBare || len(args) < len(c.args) || len(args) > len(names) {
		return refused(cmd, &inputError{reason: reasonWrongArguments, message: c.hint})
	}
	for i, arg := range args {
		given[names[i]] = arg
	}
	out, err := c.work(given)
	if err != nil {
		return refused(cmd, err)
	}
	if wantsJSON(cmd) {
		err = writeJSON(cmd, out.object())
	} else {
		err = writeText(cmd, out.words())
	}
	if found, ok := out.(finder); err == nil && ok && found.isFinding() {
		return finding("")
	}
	return err
}

// arguments are the names of all arguments, the optional one last.
func (c calculation) arguments() []string {
	names := slices.Clone(c.args)
	if c.optional != "" {
		names = append(names, c.optional)
	}
	return names
}

// columns are the names a CSV header may have.
func (c calculation) columns(cmd *cobra.Command) []string {
	names := c.arguments()
	ownFlags(cmd, func(f *pflag.Flag) { names = append(names, f.Name) })
	return names
}

func (c calculation) columnNames(cmd *cobra.Command) string {
	return strings.Join(c.columns(cmd), ", ")
}

// givenFlags collects the command's own flags as they were written.
func givenFlags(cmd *cobra.Command) inputs {
	given := inputs{}
	ownFlags(cmd, func(f *pflag.Flag) {
		if f.Changed {
			given[f.Name] = f.Value.String()
		}
	})
	return given
}

// ownFlags visits the flags that say something about the calculation: not
// help, and not those of all commands.
func ownFlags(cmd *cobra.Command, visit func(*pflag.Flag)) {
	cmd.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) {
		if f.Name != "help" {
			visit(f)
		}
	})
}

// sortArgs tells flags from arguments, in any order. A word that starts with a
// minus and a digit, a point or a comma is an argument, as is everything after
// --. A single - that is the only argument asks for rows of CSV; after -- it
// is a text like any other.
func sortArgs(set *pflag.FlagSet, raw []string) (flags, args []string, asRows bool) {
	end := len(raw)
	for i := 0; i < len(raw); i++ {
		word := raw[i]
		if word == "--" {
			end = i
			break
		}
		if !isFlag(word) {
			args = append(args, word)
			continue
		}
		flags = append(flags, word)
		if takesNext(set, word) && i+1 < len(raw) {
			i++
			flags = append(flags, raw[i])
		}
	}
	asRows = len(args) == 1 && args[0] == "-" && end == len(raw)
	if end < len(raw) {
		args = append(args, raw[end+1:]...)
	}
	return flags, args, asRows
}

func isFlag(word string) bool {
	return len(word) > 1 && word[0] == '-' && !strings.ContainsRune("0123456789.,", rune(word[1]))
}

// takesNext reports whether a flag has its value in the next word.
func takesNext(set *pflag.FlagSet, word string) bool {
	name, long := strings.CutPrefix(word, "--")
	if strings.Contains(name, "=") {
		return false
	}
	var f *pflag.Flag
	switch {
	case long:
		f = set.Lookup(name)
	case len(word) == 2:
		f = set.ShorthandLookup(word[1:])
	}
	return f != nil && f.NoOptDefVal == ""
}
