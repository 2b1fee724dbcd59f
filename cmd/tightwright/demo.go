package main

import (
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure/script"
)

const demoNotice = "An invented week: people, tools, bikes and events are made up. The server keeps\n" +
	"it in a temporary store and forgets it. Not for real work.\n\n"

func newDemoCommand() *cobra.Command {
	var record string
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "Play an invented week against a temporary server",
		Long: `Play an invented week of a workshop: six people, nine wrenches and twelve bikes,
whose jobs are planned, guided, recorded, refused and audited. What goes wrong in
it is stopped at the bench or found by the audit; on Friday a wrench turns out to
deliver too much, and its readings of half a year are looked at again. A server is
started for it on a free port of this machine with a temporary store, and every
command goes to it as a gRPC call, as from any client.

A line is a command of the scripts, the lines with > below it are what the server
answered. The scripts, one a day, and their files are testdata/week.`,
		Example: `  tightwright demo
  tightwright demo --record week.record.jsonl`,
		Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error { return demo(cmd, record) },
	}
	cmd.Flags().StringVar(&record, "record", "", "also export the record of the week to this `FILE`, for audit")
	return cmd
}

// A demoLine is one line of the week with what the server answered.
type demoLine struct {
	Line    string   `json:"line"`
	Answers []string `json:"answers"`
}

func demo(cmd *cobra.Command, record string) error {
	if record != "" {
		if info, err := os.Stat(filepath.Dir(record)); err != nil || !info.IsDir() {
			return refused(cmd, wrong(reasonBadFile, "record %q: there is no such folder", record))
		}
	}
	lines := []demoLine{}
	say := sayTo(cmd.OutOrStdout())
	if wantsJSON(cmd) {
		say = collectIn(&lines)
	} else if _, err := io.WriteString(cmd.OutOrStdout(), demoNotice); err != nil {
		return finding("%s", err)
	}
	err := withDemo(cmd.Context(), func(d demoServer) error {
		if err := playWeek(cmd.Context(), d.conn, d.hall, say); err != nil || record == "" {
			return err
		}
		return exportFile(cmd.Context(), d.kept, defaultWorkshop, record)
	})
	if err != nil {
		return finding("%s", err)
	}
	if wantsJSON(cmd) {
		return writeJSON(cmd, lines)
	}
	return nil
}

// collectIn keeps each line but the remarks, with its answers.
func collectIn(lines *[]demoLine) func(script.Line, []string) error {
	return func(l script.Line, answer []string) error {
		if !l.IsRemark() {
			*lines = append(*lines, demoLine{Line: l.Text, Answers: append([]string{}, answer...)})
		}
		return nil
	}
}
