package main

import (
	"strings"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/fit"
)

func newFitSheetCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "sheet FILE", Short: "Every rule that a build sheet has the figures for",
		Long: `Every rule that a build sheet has the figures for, and what is missing for the
others.

The sheet is a YAML or JSON file that lists the parts of one bike, - is standard
input. Exit code 1 means that something does not fit or has to be tried and measured.`,
		Example:           "  tightwright fit sheet testdata/sheets/whole-road.yaml\n  tightwright fit sheet bike.yaml --instrument careful-caliper --json",
		Args:              oneArgument("fit sheet takes one file, as in: fit sheet bike.yaml"),
		ValidArgsFunction: nil,
	}
	addInstrument(cmd)
	folder := cmd.Flags().String("catalogue", "", catalogueUsage)
	cmd.RunE = func(cmd *cobra.Command, args []string) error { return runFitSheet(cmd, args[0], *folder) }
	return cmd
}

func runFitSheet(cmd *cobra.Command, file, folder string) error {
	known, err := loadCatalogue(folder)
	if err != nil {
		return refused(cmd, err)
	}
	r := newReading(givenFlags(cmd))
	ins := r.instrument()
	if err := r.faults.err(); err != nil {
		return refused(cmd, err)
	}
	sheet, err := readSheet(cmd, file, known.Vocabulary)
	if err != nil {
		return refused(cmd, err)
	}
	out := sheetFitAnswer(procedure.AskSheetFit(sheet, ins))
	if wantsJSON(cmd) {
		err = writeJSON(cmd, out.object())
	} else {
		err = writeText(cmd, out.words())
	}
	if err == nil && out.isFinding() {
		return finding("")
	}
	return err
}

// sheetFitAnswer is what every rule comes to on one sheet.
type sheetFitAnswer []procedure.FitAnswer

func (a sheetFitAnswer) verdict() fit.Verdict {
	worst := fit.NotChecked
	for _, rule := range a {
		worst = max(worst, rule.Verdict())
	}
	return worst
}

// isFinding reports a misfit, a doubt, or a figure that a rule refuses.
func (a sheetFitAnswer) isFinding() bool {
	for _, rule := range a {
		if rule.Problem != "" {
			return true
		}
	}
	return a.verdict() >= fit.TryAndMeasure
}

func (a sheetFitAnswer) object() any {
	type rule struct {
		Rule    string            `json:"rule"`
		Verdict fit.Verdict       `json:"verdict"`
		Results []fitResultObject `json:"results,omitempty"`
		Missing []string          `json:"missing,omitempty"`
		Problem string            `json:"problem,omitempty"`
	}
	out := struct {
		Verdict fit.Verdict `json:"verdict"`
		Rules   []rule      `json:"rules"`
	}{Verdict: a.verdict()}
	for _, x := range a {
		out.Rules = append(out.Rules, rule{x.Rule, x.Verdict(), fitObjects(x.Results), x.Missing, x.Problem})
	}
	return out
}

func (a sheetFitAnswer) words() string {
	var p page
	for _, rule := range a {
		if len(rule.Results) == 0 && rule.Problem == "" {
			continue
		}
		switch isPlain := len(rule.Results) == 1 && rule.Results[0].Check == ""; {
		case !isPlain:
			p.heading("%s: %s", capital(spelled(rule.Rule)), strings.ToUpper(rule.Verdict().String()))
		case p.Len() > 0:
			p.line("")
		}
		p.row("  problem", rule.Problem)
		p.results(rule.Results)
	}
	var lacks, idle []string
	for _, rule := range a {
		switch {
		case len(rule.Missing) > 0:
			lacks = append(lacks, rule.Rule)
		case len(rule.Results) == 0 && rule.Problem == "":
			idle = append(idle, spelled(rule.Rule))
		}
	}
	if len(lacks) > 0 {
		p.heading("Not asked, because something is missing:")
	}
	for _, rule := range a {
		if len(rule.Missing) > 0 {
			p.row("  "+spelled(rule.Rule), strings.Join(spelledAll(rule.Missing), "; "))
		}
	}
	if len(idle) > 0 {
		p.heading("Nothing to ask of these parts: %s.", strings.Join(idle, ", "))
	}
	return p.String()
}

// spelledAll writes keys as a mechanic says them: "frame: gap rear".
func spelledAll(keys []string) []string {
	out := make([]string, 0, len(keys))
	for _, key := range keys {
		role, name, _ := strings.Cut(key, ".")
		out = append(out, spelled(role)+": "+strings.ReplaceAll(name, "_", " "))
	}
	return out
}
