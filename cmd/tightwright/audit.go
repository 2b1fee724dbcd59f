package main

import (
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

type auditFlags struct{ tools, at string }

func newAuditCommand() *cobra.Command {
	var flags auditFlags
	cmd := &cobra.Command{
		Use:   "audit FILE",
		Short: "Look for what was done wrong, in an exported record",
		Long: `Look for what was done wrong on a bike, in its exported record alone: steps
missing or out of order, results that a later step spoiled, values outside or
too near a limit, prep other than planned, holds that nobody signed, waits that
were cut short, tools that could not vouch for a reading on that day.

FILE is an exported record, - is standard input. Its verdicts are not made
again: what the rules of the day said stands in it. Tools are judged by the
rack that the record brings along, or by the one given with --tools, where
later calibrations may stand; without either they are not judged.

A finding is open until somebody mends it or the record shows that it was made
good. Exit code 1 means that findings are open. A note is something to know,
and nothing to mend.`,
		Example: `  tightwright audit b-03.record.jsonl
  tightwright audit b-03.record.jsonl --tools rack.yaml
  tightwright audit b-03.record.jsonl --json`,
		Args: oneArgument("audit takes one file, as in: audit b-03.record.jsonl"),
		RunE: func(cmd *cobra.Command, args []string) error { return runAudit(cmd, args[0], flags) },
	}
	cmd.Flags().StringVar(&flags.tools, "tools", "", "the `FILE` with the torque tools as they are known now")
	cmd.Flags().StringVar(&flags.at, "at", "", "judge tools by the calibrations known at this `TIME` (default all)")
	return cmd
}

// A buildFinding is a finding with the build it is about.
type buildFinding struct {
	Build string `json:"build"`
	audit.Finding
}

func runAudit(cmd *cobra.Command, name string, flags auditFlags) error {
	record, err := openRecord(cmd, name)
	if err != nil {
		return refused(cmd, err)
	}
	view, err := auditView(cmd, name, flags, record)
	if err != nil {
		return refused(cmd, err)
	}
	builds, found, err := auditRecord(name, record, view)
	if err != nil {
		return refused(cmd, err)
	}
	if wantsJSON(cmd) {
		err = writeJSON(cmd, found)
	} else {
		err = writeText(cmd, auditText(builds, found, len(view.Tools) > 0))
	}
	if err != nil {
		return err
	}
	if open := openFindings(found); open > 0 {
		return finding("%s open", isAre(open, "finding"))
	}
	return nil
}

func openRecord(cmd *cobra.Command, name string) (*recordFile, error) {
	if name == "-" {
		return readRecord(name, cmd.InOrStdin())
	}
	file, err := os.Open(name)
	if err != nil {
		return nil, wrong(reasonBadFile, "%s", err)
	}
	defer closeRead(file)
	return readRecord(name, file)
}

// auditView is what is known beside the entries.
func auditView(cmd *cobra.Command, name string, flags auditFlags, record *recordFile) (audit.View, error) {
	view := audit.View{Tools: record.tools, Ranks: record.ranks, Skills: record.skills}
	var err error
	if flags.at != "" {
		if view.At, err = timeOf(flags.at); err != nil {
			return view, err
		}
	}
	if flags.tools == "" {
		return view, nil
	}
	if name == "-" && flags.tools == "-" {
		return view, wrong(reasonBadOption, "record and tools cannot both be standard input")
	}
	view.Tools, err = readTools(cmd, flags.tools)
	return view, err
}

// auditRecord folds and examines each build of a record.
func auditRecord(name string, record *recordFile, view audit.View) ([]*procedure.Build, []buildFinding, error) {
	var builds []*procedure.Build
	found := []buildFinding{}
	for _, id := range record.builds {
		b, err := record.fold(id)
		if err != nil {
			return nil, nil, wrong(reasonBadFile, "%s: the record does not hold together: %s", name, err)
		}
		findings, err := audit.Build(b, view)
		if err != nil {
			return nil, nil, err
		}
		for _, f := range findings {
			if f.Rule == audit.RuleToolUnknown && len(view.Tools) == 0 {
				continue // without a rack every tool is unknown
			}
			found = append(found, buildFinding{b.ID, f})
		}
		builds = append(builds, b)
	}
	return builds, found, nil
}

func openFindings(found []buildFinding) int {
	open := 0
	for _, f := range found {
		if f.Status == audit.Open && !f.Note {
			open++
		}
	}
	return open
}

// auditColumn is where paragraphs begin beside their labels.
const auditColumn = 14

func auditText(builds []*procedure.Build, found []buildFinding, hasRack bool) string {
	var p page
	if !hasRack {
		p.line("No rack is known, so the tools are not judged.")
	}
	if len(builds) == 0 {
		p.line("The record holds no build.")
	}
	for i, b := range builds {
		if i > 0 {
			p.line("")
		}
		var own []audit.Finding
		for _, f := range found {
			if f.Build == b.ID {
				own = append(own, f.Finding)
			}
		}
		p.line("Build %s: %s, %s", printable(b.ID), counted(len(b.Jobs), "job"), summaryText(audit.Summarize(own)))
		for _, f := range own {
			p.finding(b, f)
		}
	}
	return p.String()
}

func summaryText(s audit.Summary) string {
	if s.Total == 0 && s.Notes == 0 {
		return "nothing found"
	}
	text := fmt.Sprintf("%s open, %d made good", counted(s.Open, "finding"), s.Reworked)
	if s.Notes > 0 {
		text += ", " + counted(s.Notes, "note")
	}
	return text
}

func (p *page) finding(b *procedure.Build, f audit.Finding) {
	state := "OPEN"
	switch {
	case f.Note:
		state = "note"
	case f.Status == audit.Reworked:
		state = "made good"
	}
	p.heading("%s: %s", state, spelled(f.Rule))
	p.hang("  risk", auditColumn, f.Risk.String())
	p.hang("  where", auditColumn, placeText(b, f))
	p.hang("  found", auditColumn, f.Text)
	if f.Sure != audit.Certain {
		p.hang("  how sure", auditColumn, f.Sure.String())
	}
	if f.Status == audit.Open && !f.Note {
		p.hang("  to mend", auditColumn, f.Mend)
	}
	p.hang("  shown by", auditColumn, entriesText(f.Entries))
}

func placeText(b *procedure.Build, f audit.Finding) string {
	if f.Job == "" {
		return "the bike as a whole"
	}
	text := "job " + f.Job
	j, ok := b.Job(f.Job)
	if !ok {
		return text
	}
	text += ", " + lowerFirst(j.Plan.Title)
	if s, ok := j.Plan.Step(f.Step); ok {
		text += ": " + lowerFirst(s.Title)
	}
	if kind, name, ok := strings.Cut(f.Item, "."); ok {
		text += fmt.Sprintf(", %s %s", kind, spelled(name))
	}
	return text
}

func entriesText(entries []audit.EntryRef) string {
	const most = 8
	var out []string
	for i, e := range entries {
		if i == most {
			return strings.Join(out, ", ") + fmt.Sprintf(" and %d more", len(entries)-most)
		}
		out = append(out, fmt.Sprintf("entry %d (%s)", e.Seq, e.Actor))
	}
	return strings.Join(out, ", ")
}

// isAre counts things that are something: 1 finding is, 2 findings are.
func isAre(n int, what string) string {
	if n == 1 {
		return "1 " + what + " is"
	}
	return counted(n, what) + " are"
}
