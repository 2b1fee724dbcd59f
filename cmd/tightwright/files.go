package main

import (
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

// readInput reads a file of at most limit bytes; - is standard input.
func readInput(cmd *cobra.Command, name string, limit int64) ([]byte, error) {
	in := cmd.InOrStdin()
	if name != "-" {
		file, err := os.Open(name)
		if err != nil {
			return nil, wrong(reasonBadFile, "%s", err)
		}
		defer closeRead(file)
		in = file
	}
	data, err := io.ReadAll(io.LimitReader(in, limit+1))
	if err != nil {
		return nil, wrong(reasonBadFile, "read %s: %s", name, err)
	}
	if int64(len(data)) > limit {
		return nil, wrong(reasonBadFile, "%s is larger than the %d bytes that are read", name, limit)
	}
	return data, nil
}

// closeRead closes a file that was only read: nothing can be lost any more.
func closeRead(file *os.File) { _ = file.Close() }

// readSheet reads the build sheet of one bike.
func readSheet(cmd *cobra.Command, name string, vocab *procedure.Vocabulary) (*procedure.Sheet, error) {
	data, err := readInput(cmd, name, procedure.MaxFileBytes)
	if err != nil {
		return nil, err
	}
	return procedure.ReadSheet(name, data, vocab)
}

// readTools reads the rack; no name means no rack.
func readTools(cmd *cobra.Command, name string) ([]procedure.Tool, error) {
	if name == "" {
		return nil, nil
	}
	data, err := readInput(cmd, name, procedure.MaxFileBytes)
	if err != nil {
		return nil, err
	}
	return procedure.ReadTools(name, data)
}

// oneArgument wants a single argument.
func oneArgument(hint string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) != 1 {
			return refused(cmd, wrong(reasonWrongArguments, "%s", hint))
		}
		return nil
	}
}

// noArguments wants none.
func noArguments(cmd *cobra.Command, args []string) error {
	if len(args) > 0 {
		return refused(cmd, wrong(reasonWrongArguments, "%s takes no arguments, not %q", cmd.Name(), args[0]))
	}
	return nil
}

// completeProcedure offers the ids of the built-in procedures for one argument.
func completeProcedure(cmd *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return completeProcedures(cmd, args, word)
}

// completeProcedures offers the ids of the built-in procedures.
func completeProcedures(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	c, err := catalogue.Load()
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var out []string
	for _, d := range c.Definitions {
		out = append(out, fmt.Sprintf("%s\t%s", d.ID, d.Title))
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}
