package main

import (
	"strings"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/torque/joint"
)

func newPrepCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "prep --thread THREAD --surface SURFACE --stated PREP --torque T",
		Short: "What grease does to a torque that was meant dry, and the reverse",
		Long: `What grease does to a torque that was meant dry, and the reverse.

A torque figure means a prep. --stated is the prep it was stated for; the answer
says what the same torque does to the bolt with every other prep, and which torque
would pull as hard. Where the friction of a prep is unknown it says so and works
nothing out.

--surface is the material and finish of the thread. A figure of your own for a prep
comes first: --friction-dry and the like for µ, --nut-factor-dry for K, each with
its range as low:figure:high where it is known.

The answer explains why prep is part of a torque figure. It converts no figure for
use, and sets no window, no plan and no wrench; the maker's printed figure comes first.

With - as the only argument, rows of CSV are read from standard input with columns
that are named like the flags.`,
		Example: `  tightwright prep --thread M6 --class 8.8 --surface 'zinc-plated steel' --stated dry --torque 10
  tightwright prep --thread '9/16 in x 20 tpi' --surface 'plain steel' --stated grease --torque 35 \
      --head-bearing-diameter 18 --hole-diameter 14.5
  tightwright prep - <preps.csv`,
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	flags := cmd.Flags()
	flags.String("thread", "", "the `thread`")
	flags.String("class", "", "the strength `class`")
	flags.String("surface", "", "the `surface` of the thread: "+quoted(surfaceNames()[1:]))
	flags.String("stated", "", "the `prep` that the torque was stated for: "+strings.Join(prepNames()[1:], ", "))
	flags.String("torque", "", "the `torque` as it was stated")
	flags.String("unit", "", "the `unit` of the torque; N·m where none is given")
	flags.String("head", "", "the `kind` of head: hexagon or socket (ISO 4762)")
	flags.String("head-bearing-diameter", "", "the outer diameter on which the head turns, in `mm`")
	flags.String("hole-diameter", "", "the hole under the head, in `mm`")
	flags.String("cone-angle", "", "the whole angle of a countersunk seat, in `degrees`")
	for i, prep := range prepNames()[1:] {
		flags.String("friction-"+prep, "", "your own coefficient of friction µ, a `number`, "+prepWords(joint.Prep(i+1)))
		flags.String("nut-factor-"+prep, "", "your own factor K, a `number`, "+prepWords(joint.Prep(i+1)))
	}
	return calculation{
		hint: "prep takes flags, or - alone for rows of CSV, as in: prep --thread M6 --surface 'plain steel' --stated dry --torque 10",
		work: workPrep,
	}.command(cmd)
}

// surfaceNames lists the surfaces of threads, "unknown" first.
func surfaceNames() []string {
	names := []string{}
	for s := joint.SurfaceUnknown; s <= joint.TitaniumAlloy; s++ {
		names = append(names, s.String())
	}
	return names
}

// prepNames lists the preps, "unknown" first.
func prepNames() []string {
	names := []string{}
	for p := joint.PrepUnknown; p <= joint.Threadlocker; p++ {
		names = append(names, p.String())
	}
	return names
}

func workPrep(in inputs) (answer, error) {
	r := newReading(in)
	r.require("thread", "stated", "torque")
	q := joint.PrepQuestion{
		Surface: word[joint.Surface](r, "surface", surfaceNames()...),
		Stated:  word[joint.Prep](r, "stated", prepNames()...),
		Torque:  r.torque("torque", r.unit("unit")),
		Bolt:    joint.Bolt{Thread: r.thread("thread"), Class: r.class("class")},
		Known:   r.ownConditions(),
	}
	if stated := r.text("stated"); !r.has("friction-"+stated) && !r.has("nut-factor-"+stated) {
		r.require("surface")
	}
	r.bearing(&q.Bolt)
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	out, err := q.Compare()
	r.faults.take(err, jointFlags)
	return prepAnswer{out}, r.faults.err()
}

// ownConditions reads the figures that come before those of the tables.
func (r *reading) ownConditions() []joint.Condition {
	var own []joint.Condition
	for i, prep := range prepNames() {
		mu, k := "friction-"+prep, "nut-factor-"+prep
		r.exclude(mu, k)
		if r.has(mu) || r.has(k) {
			own = append(own, joint.Condition{Prep: joint.Prep(i), Friction: r.friction(mu), NutFactor: r.nutFactor(k)})
		}
	}
	return own
}

// prepAnswer is the answer of prep.
type prepAnswer struct{ joint.PrepComparison }

func (a prepAnswer) object() any { return a.PrepComparison }

func (a prepAnswer) words() string {
	var p page
	p.row("figure", rounded(a.TorqueNewtonMeters, 4)+" N·m for "+a.Thread.String()+", meant "+prepWords(a.Stated))
	for _, row := range a.Rows {
		p.row(row.Prep.String(), "pulls with "+force(row.PreloadBandNewtons)+a.compared(row))
		if !row.TensionOverYield.IsZero() {
			p.row("", "which is "+banded(row.TensionOverYield.Times(100), "%")+" of the yield, in tension alone")
		}
		p.row("", conditionWords(row.Condition))
	}
	for _, gap := range a.Unknown {
		p.row(gap.Prep.String(), "nothing is worked out: "+gap.Why)
	}
	for _, w := range a.Warnings.List() {
		if w != joint.MoreFiguresThanScatter {
			p.row("mind", "with at least one of these preps: "+w.Text())
		}
	}
	p.rests(a.Assumptions, 0)
	return p.String()
}

// compared says how a row differs from the one that the figure meant.
func (a prepAnswer) compared(row joint.PrepRow) string {
	if row.Prep == a.Stated {
		return ", as meant"
	}
	return ", " + banded(row.PreloadRatio.Times(100), "%") + " of what was meant; " +
		banded(row.EqualTorqueNewtonMeters, "N·m") + " would pull as hard"
}

func prepWords(p joint.Prep) string {
	if p == joint.Dry {
		return "dry"
	}
	return "with " + p.String()
}

func conditionWords(c joint.Condition) string {
	text := "µ " + muOrK(c.Friction.Mu())
	if !c.Friction.IsKnown() {
		text = "K " + muOrK(c.NutFactor.K())
	}
	if c.Confidence == joint.GivenByCaller {
		return text + ", as given"
	}
	if c.Source == c.Confidence || c.Source == "" {
		return text + " (" + c.Confidence + ")"
	}
	return text + " (" + c.Confidence + ": " + c.Source + ")"
}
