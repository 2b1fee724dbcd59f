package main

import (
	"strconv"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/wrench"
)

func newDecideCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "decide --reading T --u U [--min T] [--max T]",
		Short: "What a reading with its uncertainty proves about limits",
		Long: `What a reading with its uncertainty proves about limits.

All figures are plain decimals in one unit, whichever it is. One of --min and --max
may be missing. --u is a standard uncertainty, one standard deviation: divide an
expanded uncertainty by its coverage factor first.

The reading conforms when it lies within the limits with the probability --level,
95 % where none is given; it is nonconforming when it lies beyond them with that
probability, and undecided otherwise (JCGM 106:2012, 7.3 and 7.4). Limits belong
to what is allowed and are compared exactly.

Other rules (ILAC-G8:09/2019, 4.2) compare the reading itself:
  --rule simple             with the limits, uncertainty left out
  --rule guarded            with limits moved inward by a guard band
  --rule guarded-both-ways  the same, and nonconforming only beyond the limits by it
The guard band is z·u for the level, or --guard-factor times --k times u.`,
		Example: `  tightwright decide --min 5 --max 7 --reading 6.9 --u 0.1
  tightwright decide --max 7 --reading 6.9 --u 0.1 --level 0.8 --unit N.m
  tightwright decide --json --min 5 --max 7 --reading 6.9 --u 0.1 --rule guarded --guard-factor 1
  printf 'min,max,reading,u\n5,7,6.9,0.1\n' | tightwright decide -`,
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	flags := cmd.Flags()
	flags.String("min", "", "the least `value` that is allowed")
	flags.String("max", "", "the greatest `value` that is allowed")
	flags.String("reading", "", "the `value` that was read")
	flags.String("u", "", "its standard uncertainty, a `value` of 0 or more")
	flags.String("unit", "", "the `unit` of all four, for the words of the answer only")
	flags.String("rule", "", "the `rule`: by-probability, simple, guarded or guarded-both-ways; by-probability")
	flags.String("level", "", "the `probability` asked for, at least 0.5 and below 1; 0.95")
	flags.String("guard-factor", "", "the guard band as a `multiple` of the expanded uncertainty k·u")
	flags.String("k", "", "the coverage `factor` that goes with the guard factor; 2")
	return calculation{
		hint: "decide takes flags, or - alone for rows of CSV, as in: decide --min 5 --max 7 --reading 6.9 --u 0.1",
		work: workDecide,
	}.command(cmd)
}

func workDecide(in inputs) (answer, error) {
	r := newReading(in)
	r.require("reading", "u")
	if !r.has("min") && !r.has("max") {
		r.faults.add("max", torque.ReasonMissingValue, "give a minimum, a maximum or both: without a limit nothing can be decided")
	}
	for _, name := range []string{"min", "max", "reading", "u", "guard-factor", "k"} {
		r.number(name) // says what is wrong with it
	}
	q := wrench.Question{
		Min: r.text("min"), Max: r.text("max"), Reading: r.text("reading"), U: r.text("u"),
		Rule:  word[wrench.Rule](r, "rule", ruleNames()...),
		Level: r.positive("level"), GuardFactor: r.text("guard-factor"), K: r.text("k"),
	}
	unit := ""
	if r.has("unit") {
		unit = " " + r.unit("unit").Symbol()
	}
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	d, err := wrench.Decide(q)
	r.faults.take(err, nil)
	return decision{d, q, unit}, r.faults.err()
}

func ruleNames() []string {
	var names []string
	for rule := wrench.ByProbability; rule <= wrench.GuardedBothWays; rule++ {
		names = append(names, rule.String())
	}
	return names
}

// decision is the answer of decide.
type decision struct {
	wrench.Decision
	question wrench.Question
	unit     string // with a space before it, or empty
}

func (d decision) object() any { return d.Decision }

func (d decision) words() string {
	var p page
	q := d.question
	p.row("reading", q.Reading+d.unit+", standard uncertainty "+q.U+d.unit)
	p.row("limits", d.limits(q.Min, q.Max))
	p.row("within them", chance(d.Probability)+" (below "+chance(d.Below)+", above "+chance(d.Above)+")")
	switch d.Rule {
	case wrench.ByProbability:
		p.row("asked for", rounded(100*d.Level, 10)+" %")
	case wrench.Simple:
		p.row("rule", "the reading is compared with the limits, its uncertainty is left out")
	default:
		p.row("guard band", d.GuardBand+d.unit)
		if !d.NoAcceptance {
			p.row("accepted", d.limits(d.AcceptMin, d.AcceptMax))
		}
	}
	p.row("outcome", d.Outcome.String()+": "+d.meaning())
	if d.NoAcceptance {
		p.row("mind", wrench.ErrNoAcceptance.Error())
	}
	return p.String()
}

func (d decision) limits(low, high string) string {
	switch {
	case low == "":
		return "at most " + high + d.unit
	case high == "":
		return "at least " + low + d.unit
	}
	return low + d.unit + " to " + high + d.unit
}

// meaning says the outcome in plain words.
func (d decision) meaning() string {
	switch {
	case d.Outcome == wrench.Undecided:
		return "too near to a limit to be told with this uncertainty"
	case d.Outcome == wrench.Conforming:
		return "it is inside"
	case d.Within && d.Rule != wrench.ByProbability:
		return "it is inside, but not by the guard band"
	}
	return "it is not inside"
}

// chance writes a probability in percent. What is not quite certain is never
// written as 0 % or 100 %.
func chance(p float64) string {
	const least = 0.00005 // half of the last digit shown
	switch {
	case p > 0 && p < least:
		return "less than 0.01 %"
	case p < 1 && p > 1-least:
		return "more than 99.99 %"
	}
	return strconv.FormatFloat(100*p, 'f', 2, 64) + " %"
}
