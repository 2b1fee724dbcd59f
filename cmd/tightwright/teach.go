package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/procedure/teaching"
)

type teachFlags struct {
	catalogue, findings, tools, at string
	seed                           uint64
	questions                      int
	held                           []string
}

func newTeachCommand() *cobra.Command {
	var flags teachFlags
	cmd := &cobra.Command{
		Use:   "teach [PROCEDURE...]",
		Short: "Make a curriculum from procedures",
		Long: `Make a curriculum from procedures: the skills they take in an order in which
each stands on those before it, with what to lay out, a practical test, a fault
to plant and catch, and questions whose answers are worked out and not typed
in. Without a PROCEDURE it covers the whole catalogue.

With --findings, what went wrong in this shop comes first; the file is what
"tightwright audit --json" writes, - is standard input. With --tools the
questions about tools are about the shop's own rack, else about invented ones.

The same seed gives the same curriculum, another seed other questions. The
answers stand at the end, with the mistake behind each wrong one.`,
		Example: `  tightwright teach pedals
  tightwright teach --held threads --held measuring --seed 7
  tightwright audit b-03.record.jsonl --json | tightwright teach --findings -
  tightwright teach pedals --json`,
		ValidArgsFunction: completeProcedures,
		RunE: func(cmd *cobra.Command, ids []string) error {
			curriculum, err := makeCurriculum(cmd, ids, flags)
			if err != nil {
				return refused(cmd, err)
			}
			if wantsJSON(cmd) {
				return writeJSON(cmd, curriculum)
			}
			return writeText(cmd, curriculumText(curriculum))
		},
	}
	cmd.Flags().StringVar(&flags.findings, "findings", "", "the `FILE` with findings of an audit, as JSON")
	cmd.Flags().Uint64Var(&flags.seed, "seed", 0, "the `NUMBER` that makes the choices")
	cmd.Flags().IntVar(&flags.questions, "questions", 0, fmt.Sprintf("ask `N` questions in a module (default %d)", teaching.DefaultQuestions))
	cmd.Flags().StringArrayVar(&flags.held, "held", nil, "the id of a `SKILL` that need not be taught")
	cmd.Flags().StringVar(&flags.tools, "tools", "", "the `FILE` with the torque tools of the rack")
	cmd.Flags().StringVar(&flags.at, "at", "", "look at the tools as of this `TIME` (default now)")
	cmd.Flags().StringVar(&flags.catalogue, "catalogue", "", catalogueUsage)
	return cmd
}

func makeCurriculum(cmd *cobra.Command, ids []string, flags teachFlags) (*teaching.Curriculum, error) {
	known, err := loadCatalogue(flags.catalogue)
	if err != nil {
		return nil, err
	}
	procedures, err := resolveAll(known, ids)
	if err != nil {
		return nil, err
	}
	if err := knownSkills(known, flags.held); err != nil {
		return nil, err
	}
	findings, err := readFindings(cmd, flags.findings)
	if err != nil {
		return nil, err
	}
	options := teaching.Options{Seed: flags.seed, Questions: flags.questions, Held: flags.held}
	if options.At, err = timeOf(flags.at); err != nil {
		return nil, err
	}
	if flags.findings == "-" && flags.tools == "-" {
		return nil, wrong(reasonBadOption, "findings and tools cannot both be standard input")
	}
	if options.Tools, err = readTools(cmd, flags.tools); err != nil {
		return nil, err
	}
	return teaching.New(procedures, findings, options)
}

// resolveAll returns the procedures named, or all of the catalogue.
func resolveAll(known *catalogue.Catalogue, ids []string) ([]*procedure.Resolved, error) {
	if len(ids) == 0 {
		ids = known.IDs()
	}
	var out []*procedure.Resolved
	for _, id := range ids {
		if _, ok := known.Definition(id); !ok {
			return nil, unknownProcedure(known, id)
		}
		r, err := known.Resolve(id)
		if err != nil {
			return nil, err
		}
		out = append(out, r)
	}
	return out, nil
}

func knownSkills(known *catalogue.Catalogue, held []string) error {
	var ids []string
	for _, s := range known.Skills {
		ids = append(ids, s.ID)
	}
	for _, id := range held {
		if !slices.Contains(ids, id) {
			return wrong(reasonNotFound, "held %q: there is no such skill: there are %s", clipped(id), strings.Join(ids, ", "))
		}
	}
	return nil
}

// readFindings reads what audit writes as JSON; no name means none.
func readFindings(cmd *cobra.Command, name string) ([]audit.Finding, error) {
	if name == "" {
		return nil, nil
	}
	const limit = 64 << 20
	data, err := readInput(cmd, name, limit)
	if err != nil {
		return nil, err
	}
	var findings []audit.Finding
	if err := json.Unmarshal(data, &findings); err != nil {
		return nil, wrong(reasonBadFile, "%s: this is not what an audit writes with --json: %s", name, err)
	}
	return findings, nil
}
