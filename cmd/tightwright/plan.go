package main

import (
	"strings"
	"time"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
)

type planFlags struct {
	sheet, tools, at, catalogue string
	accept                      []string
}

func newPlanCommand() *cobra.Command {
	var flags planFlags
	var drawings string
	cmd := &cobra.Command{
		Use:   "plan PROCEDURE --sheet FILE",
		Short: "Work a procedure out for one bike",
		Long: `Work a procedure out for one bike: will the parts fit, what is tightened to
what and why, what goes on the thread, and how each tool is set.

PROCEDURE is one of those that "tightwright catalogue list" shows. The build
sheet lists what was found on the bike: its parts, their dimensions and
materials, and the torque each part prints. The rack lists the torque tools
with their calibrations; without one no settings are worked out. Both are YAML
or JSON files, - is standard input.

A window that is nowhere printed and only known from memory never releases a
safety-critical joint by itself. A foreman can answer for it by name with
--accept; the plan says so.

With --drawings every step is drawn as well: bolts in their order with the
passes, which way a thread tightens, what goes where and what never, stacks, and
gaps to compare; black on white, to be shown or printed.

Exit code 1 means that something has to be mended before the job can begin.`,
		Example: `  tightwright plan cassette-splined-body --sheet bike.yaml
  tightwright plan crank-two-pinch-bolts --sheet bike.yaml --tools rack.yaml
  tightwright plan pedals --sheet bike.yaml --drawings pedals
  tightwright plan pedals --sheet bike.yaml --at 2025-03-03T09:00:00Z --json
  tightwright plan pedals --sheet bike.yaml --accept pedal-left-9-16x20=foreman`,
		Args:              oneArgument("plan takes one procedure, as in: plan pedals --sheet bike.yaml"),
		ValidArgsFunction: completeProcedure,
		RunE:              func(cmd *cobra.Command, args []string) error { return runPlan(cmd, args[0], flags, drawings) },
	}
	flags.addTo(cmd)
	cmd.Flags().StringVar(&drawings, "drawings", "", "also draw the steps into this `FOLDER`, as SVG")
	return cmd
}

func runPlan(cmd *cobra.Command, id string, flags planFlags, drawings string) error {
	plan, err := makePlan(cmd, id, flags)
	if err == nil {
		err = writeDrawings(drawings, plan)
	}
	if err != nil {
		return refused(cmd, err)
	}
	if wantsJSON(cmd) {
		err = writeJSON(cmd, plan)
	} else {
		err = writeText(cmd, planText(plan, flags.tools != ""))
	}
	if err != nil {
		return err
	}
	for _, f := range plan.Findings {
		if f.Blocks {
			return finding("the plan is stopped: %s", printable(f.Text))
		}
	}
	return nil
}

func makePlan(cmd *cobra.Command, id string, flags planFlags) (*procedure.Plan, error) {
	known, resolved, err := findProcedure(flags.catalogue, id)
	if err != nil {
		return nil, err
	}
	at, err := timeOf(flags.at)
	if err != nil {
		return nil, err
	}
	policy, err := policyOf(flags.accept, at, resolved)
	if err != nil {
		return nil, err
	}
	if flags.sheet == "" {
		return nil, wrong(reasonWrongArguments, "say with --sheet FILE which bike it is")
	}
	if flags.sheet == "-" && flags.tools == "-" {
		return nil, wrong(reasonBadOption, "sheet and tools cannot both be standard input")
	}
	sheet, err := readSheet(cmd, flags.sheet, known.Vocabulary)
	if err != nil {
		return nil, err
	}
	tools, err := readTools(cmd, flags.tools)
	if err != nil {
		return nil, err
	}
	return procedure.NewPlan(resolved, sheet, tools, at, policy)
}

// timeOf reads the time a plan or an audit is made for; empty means now.
func timeOf(text string) (time.Time, error) {
	if text == "" {
		return time.Now().UTC(), nil
	}
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		return time.Time{}, wrong(reasonBadOption, "at %q: write a time such as 2025-03-03T09:00:00Z, with its zone", clipped(text))
	}
	return at.UTC(), nil
}

// policyOf reads the joints that a foreman answers for.
func policyOf(accept []string, at time.Time, resolved *procedure.Resolved) (procedure.Policy, error) {
	var policy procedure.Policy
	for _, text := range accept {
		joint, person, ok := strings.Cut(text, "=")
		joint, person = strings.TrimSpace(joint), strings.TrimSpace(person)
		switch _, known := resolved.Joint(joint); {
		case !ok || joint == "" || person == "":
			return policy, wrong(reasonBadOption, "accept %q: write the joint, = and the person, as in pedal-left-9-16x20=foreman", clipped(text))
		case !known:
			return policy, wrong(reasonNotFound, "accept %q: %s has no such joint: it has %s", clipped(joint), resolved.ID, jointNames(resolved))
		}
		policy.Accepted = append(policy.Accepted, procedure.Acceptance{Joint: joint, Person: person, At: at})
	}
	return policy, nil
}

func jointNames(resolved *procedure.Resolved) string {
	var names []string
	for _, row := range resolved.Joints {
		names = append(names, row.ID)
	}
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(names, ", ")
}
