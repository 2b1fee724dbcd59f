package teaching

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/torque/joint"
)

// Bodies and stacks of the spacer questions, by their lengths (common practice,
// no source).
func spacerCases() map[string][3]fit.Length {
	const long, usual, own = 36750 * fit.Micrometer, 34900 * fit.Micrometer, fit.Millimeter
	return map[string][3]fit.Length{
		"long":     {long, usual, 0},
		"long-own": {long, usual, own},
		"even":     {usual, usual, 0},
		"even-own": {usual, usual, own},
		"short":    {usual, long, 0},
	}
}

// askAboutFit makes the questions about fit rules that a procedure names.
func (m *maker) askAboutFit(p *procedure.Resolved) []candidate {
	var out []candidate
	about := func(kind Kind, detail string, ask asker) {
		out = append(out, candidate{id: fmt.Sprintf("%s/%s/%s", kind, p.ID, detail), kind: kind, procedure: p.ID, ask: ask})
	}
	for _, rule := range p.Fit {
		switch rule {
		case "body-length":
			for _, name := range []string{"long", "long-own", "even", "even-own", "short"} {
				c := spacerCases()[name]
				about(Spacer, name, func(*dice) (Question, bool) { return spacer(c[0], c[1], c[2]) })
			}
		case "shell-and-spindle":
			for i, shell := range []fit.Length{68 * fit.Millimeter, 73 * fit.Millimeter} {
				for k := range 3 {
					about(ShellSpacers, fmt.Sprintf("%d-%d", i+1, k), func(*dice) (Question, bool) { return shellSpacers(shell, 73*fit.Millimeter, k) })
				}
			}
		}
	}
	return out
}

// spacer asks for what lies behind a cassette.
func spacer(body, made, own fit.Length) (Question, bool) {
	r, err := fit.BodyLength(body, made, own, fit.CarefulCaliper())
	if err != nil {
		return Question{}, false
	}
	q := Question{
		Stem: fmt.Sprintf("The body measures %v, the cassette is made for %v%s. How much spacer lies behind the cassette in all?",
			body, made, ownWords(own)),
		Answer: misfit, Solution: r.Why,
		Source:  procedure.Source{Text: r.Source, Confidence: procedure.FromMemory},
		Caution: "Measure body and spacer, and see that the smallest sprocket stands out at the end.",
	}
	if total, ok := SpacersFor(body, made, own); ok {
		q.Answer = total.String()
		q.Solution += fmt.Sprintf(" Body less what the cassette is made for, plus its own spacer: %v.", total)
	}
	q.give("body", body.String())
	q.give("made_for", made.String())
	q.give("own_spacer", own.String())
	q.wrong((body - made).Abs().String(), "leaves the cassette's own spacer out, or measures the wrong way round")
	q.wrong((body - made - own).Abs().String(), "takes its own spacer off instead of adding it")
	q.wrong(fit.Length(0).String(), "slides it on and takes that for a fit")
	q.wrong((2*(body-made) + own).Abs().String(), "fits one on each side")
	q.wrong(misfit, "gives up although a spacer makes it fit")
	return q, true
}

const misfit = "None: these parts do not belong together."

// ownWords tells of the spacer that a cassette always needs.
func ownWords(own fit.Length) string {
	if own == 0 {
		return " and comes without a spacer"
	}
	return fmt.Sprintf(" and comes with a spacer of %v that always goes behind it", own)
}

// SpacersFor returns what lies behind a cassette in all, as the fit rule works
// it out: spacers that make up the length, and the one that the cassette always
// needs. It reports false where the rule does not say fit or fits with.
func SpacersFor(body, made, own fit.Length) (fit.Length, bool) {
	r, err := fit.BodyLength(body, made, own, fit.CarefulCaliper())
	if err != nil || (r.Verdict != fit.Fits && r.Verdict != fit.FitsWith) {
		return 0, false
	}
	total := fit.Length(0)
	for _, name := range []string{"spacers_behind_mm", "own_spacer_mm"} {
		l, err := fit.ParseLength(r.Numbers[name] + " mm")
		if err != nil {
			return 0, false
		}
		total += l
	}
	return total, true
}

// spacerRing is the thickness of one spacer of a bottom bracket (common
// practice, no source).
const spacerRing = 2500 * fit.Micrometer

// shellSpacers asks how many spacers bring a shell to the width that a crank
// needs, which is a usual one and some rings more.
func shellSpacers(width, needs fit.Length, rings int) (Question, bool) {
	needs += fit.Length(rings) * spacerRing
	count, why, ok := ShellSpacersFor(width, needs)
	if !ok {
		return Question{}, false
	}
	q := Question{
		Stem:     fmt.Sprintf("A 1.37 in shell is %v wide, the crank needs %v between its bearings, one spacer is %v thick. How many spacers go in, both sides together?", width, needs, spacerRing),
		Answer:   count,
		Solution: fmt.Sprintf("(%v - %v)/%v is %s. %s", needs, width, spacerRing, count, why),
		Source:   procedure.Source{Text: procedure.CommonPractice, Confidence: procedure.FromMemory},
		Caution:  "Measure the shell at two places; how the spacers are divided stands in the crank's papers.",
	}
	q.give("width", width.String())
	q.give("needs", needs.String())
	q.give("spacer", spacerRing.String())
	n := decimal(count).Num().Int64()
	q.wrong(fmt.Sprint(2*n), "counts for each side")
	q.wrong(fmt.Sprint(n+1), "counts the ends, not the gaps")
	q.wrong(fmt.Sprint(max(0, n-1)), "leaves one out for the drag of the seals")
	return q, true
}

// ShellSpacersFor returns how many spacers of 2.5 mm bring a 1.37 in shell to
// the width that a crank needs, and why, as the fit rule works it out. It
// reports false where they do not make it fit.
func ShellSpacersFor(width, needs fit.Length) (count, why string, ok bool) {
	drive, err := joint.ParseThread("1.37 in x 24 tpi LH")
	if err != nil {
		return "", "", false
	}
	other := drive.WithHand(joint.RightHand)
	results, err := fit.ShellAndSpindle(fit.Shell{Width: width, Drive: drive, NonDrive: other, CupDrive: drive, CupNonDrive: other,
		Spindle: "24 mm", CrankWidth: needs, Spacer: spacerRing}, fit.CarefulCaliper())
	if err != nil {
		return "", "", false
	}
	for _, r := range results {
		if r.Check != "spacers" || (r.Verdict != fit.Fits && r.Verdict != fit.FitsWith) {
			continue
		}
		if n := r.Numbers["spacer_count"]; n != "" {
			return n, r.Why, true
		}
		return "0", r.Why, true
	}
	return "", "", false
}
