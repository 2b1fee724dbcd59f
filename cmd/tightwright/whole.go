package main

import (
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
)

func newWholeCommand() *cobra.Command {
	var flags planFlags
	cmd := &cobra.Command{
		Use:   "whole --sheet FILE",
		Short: "Plan all the work on one bike",
		Long: `Plan all the work on one bike: every procedure that its parts ask for, in the
order of the build, with the time, what to lay out, where somebody else has to
look, and the day with its waits filled.

The build sheet lists what was found on the bike, the rack the torque tools with
their calibrations. Both are YAML or JSON files, - is standard input. A
procedure whose parts are not on the sheet is left out: read that list, a part
that was forgotten looks the same as one that the bike does not have.

"tightwright plan" shows each of the jobs in full, "tightwright card" writes
all of them as sheets to print.

Exit code 1 means that a plan is stopped: something has to be mended before
that job can begin.`,
		Example: `  tightwright whole --sheet bike.yaml
  tightwright whole --sheet bike.yaml --tools rack.yaml --at 2025-03-03T09:00:00Z
  tightwright whole --sheet bike.yaml --accept pedal-left-9-16x20=foreman --json`,
		Args:              noArguments,
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE:              func(cmd *cobra.Command, _ []string) error { return runWhole(cmd, flags) },
	}
	flags.addTo(cmd)
	return cmd
}

// addTo adds the flags that say for which bike to plan, with what and when.
func (f *planFlags) addTo(cmd *cobra.Command) {
	cmd.Flags().StringVar(&f.sheet, "sheet", "", "the build sheet `FILE` of the bike")
	cmd.Flags().StringVar(&f.tools, "tools", "", "the `FILE` with the torque tools of the rack")
	cmd.Flags().StringVar(&f.at, "at", "", "plan for this `TIME`, such as 2025-03-03T09:00:00Z (default now)")
	cmd.Flags().StringArrayVar(&f.accept, "accept", nil, "the foreman who answers for a joint's window, as `JOINT=PERSON`")
	cmd.Flags().StringVar(&f.catalogue, "catalogue", "", catalogueUsage)
}

func runWhole(cmd *cobra.Command, flags planFlags) error {
	w, err := makeWhole(cmd, flags)
	if err != nil {
		return refused(cmd, err)
	}
	if wantsJSON(cmd) {
		err = writeJSON(cmd, w.Whole)
	} else {
		err = writeText(cmd, wholeText(w.Whole, flags.tools != ""))
	}
	if err != nil {
		return err
	}
	return stoppedPlans(w.Whole)
}

// stoppedPlans ends a command with 1 where a plan is stopped.
func stoppedPlans(w *procedure.Whole) error {
	if stopped := w.Blocked(); len(stopped) > 0 {
		var titles []string
		for _, p := range stopped {
			titles = append(titles, p.Title)
		}
		return finding("%s stopped: %s", counted(len(stopped), "plan"), printable(strings.Join(titles, "; ")))
	}
	return nil
}

// A plannedWhole is a whole with what it was planned from.
type plannedWhole struct {
	*procedure.Whole
	sheet      *procedure.Sheet
	tools      []procedure.Tool
	procedures []*procedure.Resolved
}

func makeWhole(cmd *cobra.Command, flags planFlags) (*plannedWhole, error) {
	known, err := loadCatalogue(flags.catalogue)
	if err != nil {
		return nil, err
	}
	w := &plannedWhole{}
	if w.procedures, err = resolveAll(known, known.IDs()); err != nil {
		return nil, err
	}
	at, err := timeOf(flags.at)
	if err != nil {
		return nil, err
	}
	policy, err := policyOf(flags.accept, at, allJoints(w.procedures))
	if err != nil {
		return nil, err
	}
	if err := w.read(cmd, flags, known.Vocabulary); err != nil {
		return nil, err
	}
	w.Whole, err = procedure.NewWhole(w.procedures, w.sheet, w.tools, at.UTC().Truncate(time.Second), policy)
	return w, err
}

// read reads the bike and the rack.
func (w *plannedWhole) read(cmd *cobra.Command, flags planFlags, vocab *procedure.Vocabulary) (err error) {
	if flags.sheet == "" {
		return wrong(reasonWrongArguments, "say with --sheet FILE which bike it is")
	}
	if flags.sheet == "-" && flags.tools == "-" {
		return wrong(reasonBadOption, "sheet and tools cannot both be standard input")
	}
	if w.sheet, err = readSheet(cmd, flags.sheet, vocab); err != nil {
		return err
	}
	w.tools, err = readTools(cmd, flags.tools)
	return err
}

// allJoints is what the joints of all procedures are looked up in.
func allJoints(all []*procedure.Resolved) *procedure.Resolved {
	out := &procedure.Resolved{Definition: procedure.Definition{ID: "the catalogue"}}
	for _, r := range all {
		for _, row := range r.Joints {
			if _, known := out.Joint(row.ID); !known {
				out.Joints = append(out.Joints, row)
			}
		}
	}
	slices.SortFunc(out.Joints, func(a, b procedure.JointRow) int { return strings.Compare(a.ID, b.ID) })
	return out
}
