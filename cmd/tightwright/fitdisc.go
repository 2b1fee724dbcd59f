package main

import (
	"strings"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/fit"
)

func newFitDiscCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "disc", Short: "What going from rim to disc brakes needs, and what of it is there",
		Long: fitLong("What going from rim to disc brakes needs, and what of it is there",
			`Frame, fork, levers, calipers and wheels all have to serve (common practice, no source).
What is not given is not there. What both ends have is given once; where they differ,
the front stands first, as flat/post.`),
		Example: fitExamples("disc", []string{"--fork none --frame none --levers short-pull",
			"--fork flat --frame flat --levers mineral-oil --calipers flat --calipers-by mineral-oil --hubs six-bolt --rotors six-bolt", "- <bikes.csv"}),
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	flags := cmd.Flags()
	const mounts, means = "none, side-tab, post or flat", "mineral-oil, glycol, short-pull, long-pull or drop-bar-pull"
	flags.String("fork", "", "the mount of the fork for a disc caliper, a `word`: "+mounts)
	flags.String("frame", "", "the mount of the frame, a `word`: "+mounts)
	flags.String("levers", "", "what the levers work with, `words`: none, "+means)
	flags.String("calipers", "", "the disc calipers that are there, `words`: "+mounts)
	flags.String("calipers-by", "", "what works them, `words`: "+means)
	flags.String("hubs", "", "the seats of the hubs for rotors, `words`: none, six-bolt or splined")
	flags.String("rotors", "", "the rotors that are there, `words`: none, six-bolt or splined")
	return calculation{hint: fitHint("disc", "--fork none --frame none --levers short-pull"), work: workFitDisc}.command(cmd)
}

// bothEnds reads a word for both ends, or one for each with a stroke between.
func (r *reading) bothEnds(name string) (front, rear string) {
	front, rear, ok := strings.Cut(r.text(name), "/")
	if !ok {
		return front, front
	}
	return strings.TrimSpace(front), strings.TrimSpace(rear)
}

func workFitDisc(in inputs) (answer, error) {
	r := newReading(in)
	front, rear := procedure.DiscEnd{Mount: r.text("fork")}, procedure.DiscEnd{Mount: r.text("frame")}
	front.LeverBy, rear.LeverBy = r.bothEnds("levers")
	front.Caliper, rear.Caliper = r.bothEnds("calipers")
	front.CaliperBy, rear.CaliperBy = r.bothEnds("calipers-by")
	front.RotorSeat, rear.RotorSeat = r.bothEnds("hubs")
	front.Rotor, rear.Rotor = r.bothEnds("rotors")
	needs, err := procedure.AskDiscChange(front, rear)
	for _, fe := range procedure.FieldErrors(err) {
		if flag := discFlag(fe.Path); !r.faults.has(flag) { // both ends say the same
			r.faults.add(flag, fitReason(fe.Rule), "%s", fe.Text)
		}
	}
	return discAnswer(needs), r.faults.err()
}

// discFlag is the flag of a field of an end.
func discFlag(path string) string {
	end, field, _ := strings.Cut(path, ".")
	if field == "mount" {
		return map[string]string{"front": "fork", "rear": "frame"}[end]
	}
	return map[string]string{"caliper": "calipers", "caliper_by": "calipers-by", "rotor_seat": "hubs", "rotor": "rotors", "lever_by": "levers"}[field]
}

// discAnswer is what the five things come to.
type discAnswer []fit.DiscNeed

// isFinding reports that not everything is there.
func (a discAnswer) isFinding() bool {
	for _, n := range a {
		if n.Verdict() >= fit.TryAndMeasure {
			return true
		}
	}
	return false
}

func (a discAnswer) object() any {
	type part struct {
		Part    string            `json:"part"`
		Present bool              `json:"present"`
		Verdict fit.Verdict       `json:"verdict"`
		Needs   []string          `json:"needs,omitempty"`
		Results []fitResultObject `json:"results"`
	}
	var out struct {
		Verdict fit.Verdict `json:"verdict"`
		Parts   []part      `json:"parts"`
	}
	for _, n := range a {
		out.Verdict = max(out.Verdict, n.Verdict())
		out.Parts = append(out.Parts, part{n.Part, n.IsPresent(), n.Verdict(), n.Needs(), fitObjects(n.Results)})
	}
	return out
}

func (a discAnswer) words() string {
	var p page
	for _, n := range a {
		if n.IsPresent() {
			p.row(n.Part, "present")
			continue
		}
		p.row(n.Part, "missing: "+strings.Join(n.Needs(), "; "))
		for _, r := range n.Results {
			if r.Verdict != fit.Fits {
				p.row("  "+strings.Fields(r.Check)[0], strings.ToUpper(r.Verdict.String())+". "+r.Why+" ("+r.Measured+"; "+r.Source+")")
			}
		}
	}
	return p.String()
}
