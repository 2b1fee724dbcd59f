package main

import (
	"bytes"
	"os"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/server/card"
)

func newCardCommand() *cobra.Command {
	var flags planFlags
	var out string
	cmd := &cobra.Command{
		Use:   "card --sheet FILE --tools FILE --out FILE",
		Short: "Write all the work on one bike as sheets to print",
		Long: `Write all the work on one bike as sheets to print: one HTML file for A4 paper,
black on white, which needs no other file and no network.

The first sheet has the jobs in order, the day with its waits, what to lay out
and what is left out. Then comes a sheet for each job: will the parts fit; each
joint with its thread, what goes on it, its window, the setting of each wrench of
the rack that can do it, and where the figures are from; the waits; and lines
for the signatures of those who look. The QR code holds the id of the build.

Open the file in a browser and print it. Exit code 1 means that a plan is
stopped; the card is written all the same, and says so.`,
		Example: `  tightwright card --sheet bike.yaml --tools rack.yaml --out card.html
  tightwright card --sheet bike.yaml --tools rack.yaml --at 2025-03-03T09:00:00Z --out - > card.html`,
		Args:              noArguments,
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE:              func(cmd *cobra.Command, _ []string) error { return runCard(cmd, flags, out) },
	}
	flags.addTo(cmd)
	cmd.Flags().StringVar(&out, "out", "", "write the card to this `FILE`, - is standard output")
	return cmd
}

func runCard(cmd *cobra.Command, flags planFlags, out string) error {
	if out == "" {
		return refused(cmd, wrong(reasonWrongArguments, "say with --out FILE where to write the card"))
	}
	w, err := makeWhole(cmd, flags)
	if err != nil {
		return refused(cmd, err)
	}
	var html bytes.Buffer
	err = card.Write(&html, card.Card{Whole: w.Whole, Tools: w.tools, Catalogue: card.Revision(w.procedures), Invented: w.sheet.Invented})
	if err != nil {
		return refused(cmd, err)
	}
	if err := writeOut(cmd, out, html.Bytes()); err != nil {
		return refused(cmd, err)
	}
	return stoppedPlans(w.Whole)
}

// writeOut writes a file, or to standard output.
func writeOut(cmd *cobra.Command, name string, data []byte) error {
	if name == "-" {
		return writeText(cmd, string(data))
	}
	if err := os.WriteFile(name, data, 0o644); err != nil {
		return wrong(reasonBadFile, "%s", err)
	}
	return nil
}
