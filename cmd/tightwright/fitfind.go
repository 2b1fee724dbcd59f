package main

import (
	"strings"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/torque"
)

func newFitBodyCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "body", Short: "Which freehub body and spacer a cassette needs",
		Long: fitLong("Which freehub body and spacer a cassette needs",
			`All known bodies and hubs are gone through, those that take the cassette first. They
are told apart by counting and measuring; each is described in the answer.`,
			`Sprockets that sit on the body one by one mark a soft one; with --loose yes the
answer says how hard they press.`),
		Example: fitExamples("body", []string{"--splines 9-spline --made-for 34.9 --smallest 11",
			"--splines 9-spline --made-for 34.9 --own-spacer 1 --loose yes", "- <cassettes.csv"}),
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	flags := cmd.Flags()
	flags.String("splines", "", "the pattern the cassette is cut for, a `word`: 9-spline, deep-8-spline, 23-spline, outer-thread-driver, threaded-hub or fixed-hub")
	flags.String("made-for", "", "the length of body it was made for, in `mm`; 9-spline bodies have two")
	flags.String("own-spacer", "", "a spacer that always goes behind it, in `mm`")
	flags.String("smallest", "", "the `teeth` of its smallest sprocket")
	flags.String("loose", "", "whether sprockets sit on the body one by one, a `word`: yes or no; no")
	addInstrument(cmd)
	return calculation{hint: fitHint("body", "--splines 9-spline --made-for 34.9"), work: workFitBody}.command(cmd)
}

// fitLength reads a length; a bare number is in mm.
func (r *reading) fitLength(name string) fit.Length {
	if !r.has(name) {
		return 0
	}
	l, err := fit.ParseLength(lengthText(r.text(name)))
	if err != nil {
		r.faults.add(name, torque.ReasonMalformed, "write a length such as 36.75 or 36.75 mm, not %q", clipped(r.text(name)))
	}
	return l
}

// readWith is the instrument, or reading where none is named.
func (r *reading) readWith() fit.Instrument {
	if ins := r.instrument(); ins != nil {
		return *ins
	}
	return fit.Marked()
}

// takeFit notes what package fit says is wrong.
func (f *faults) takeFit(err error, names map[string]string) {
	for _, fe := range procedure.FieldErrors(procedure.FitErrors(err)) {
		f.add(flagOf(fe.Path, names), fitReason(fe.Rule), "%s", fe.Text)
	}
}

// isYes reads yes or no.
func (r *reading) isYes(name string) bool {
	const yes = 2
	return word[uint8](r, name, "not given", "no", "yes") == yes
}

func workFitBody(in inputs) (answer, error) {
	r := newReading(in)
	r.require("splines")
	c := fit.Cassette{Splines: r.text("splines"), MadeFor: r.fitLength("made-for"), OwnSpacer: r.fitLength("own-spacer"), SmallestSprocket: r.someOf("smallest")}
	isLoose, ins := r.isYes("loose"), r.readWith()
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	bodies, err := fit.FindBodies(c, ins)
	r.faults.takeFit(err, map[string]string{"made_for_length": "made-for", "smallest_sprocket": "smallest"})
	var out fitChoices
	for _, b := range bodies {
		name := b.Body.ID
		if b.Length > 0 {
			name += ", " + b.Length.String() + " long"
		}
		out.choices = append(out.choices, fitChoice{Name: name, About: b.Body.Recognize, results: b.Results})
	}
	if isLoose {
		out.Notes = append(out.Notes, fit.LooseSprocketNote())
	}
	return out, r.faults.err()
}

func newFitShellCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "shell", Short: "Which bottom bracket shell a crank wants, and with what spacers",
		Long: fitLong("Which bottom bracket shell a crank wants, and with what spacers",
			`All known shells are gone through, those that take the crank first. A newer chainset
runs in an older threaded shell, whatever the number of sprockets: spindle and width
decide (common practice, no source).`),
		Example:           fitExamples("shell", []string{"--spindle '24 mm' --needs-width 75.5 --spacer 2.5", "--spindle 'square taper'", "- <cranks.csv"}),
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	flags := cmd.Flags()
	flags.String("spindle", "", "the spindle, a `word`: "+quoted(fit.Spindles()))
	flags.String("needs-width", "", "shell and spacers together that the crank needs, in `mm`")
	flags.String("spacer", "", "the thickness of one spacer of its set, in `mm`")
	addInstrument(cmd)
	return calculation{hint: fitHint("shell", "--spindle '24 mm' --needs-width 75.5"), work: workFitShell}.command(cmd)
}

func workFitShell(in inputs) (answer, error) {
	r := newReading(in)
	r.require("spindle")
	c := fit.Crank{Spindle: r.text("spindle"), Width: r.fitLength("needs-width"), Spacer: r.fitLength("spacer")}
	ins := r.readWith()
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	shells, err := fit.FindShells(c, ins)
	r.faults.takeFit(err, nil)
	out := fitChoices{fitNotes: fitNotes{Notes: []string{fit.OlderShellNote()}}}
	for _, s := range shells {
		about := "bore " + s.Shell.Bore.String()
		if s.Shell.Bore == 0 {
			about = "drive side " + s.Shell.Drive.String() + ", other side " + s.Shell.NonDrive.String()
		}
		out.choices = append(out.choices, fitChoice{Name: s.Shell.ID + ", " + s.Width.String() + " wide", About: about, results: s.Results})
	}
	return out, r.faults.err()
}

type fitNotes struct {
	Notes []string `json:"notes,omitempty"`
}

// fitChoices is the answer of a question that goes through all that is known.
type fitChoices struct {
	choices []fitChoice
	fitNotes
}

type fitChoice struct {
	Name    string            `json:"name"`
	About   string            `json:"about"`
	Verdict fit.Verdict       `json:"verdict"`
	Results []fitResultObject `json:"results"`

	results []fit.Result
}

func (c fitChoice) verdict() fit.Verdict { return fit.Worst(c.results...) }

// isFinding reports that nothing that is known simply takes the part.
func (a fitChoices) isFinding() bool {
	for _, c := range a.choices {
		if c.verdict() <= fit.FitsWith {
			return false
		}
	}
	return true
}

func (a fitChoices) object() any {
	out := struct {
		Choices []fitChoice `json:"choices"`
		fitNotes
	}{fitNotes: a.fitNotes}
	for _, c := range a.choices {
		c.Verdict, c.Results = c.verdict(), fitObjects(c.results)
		out.Choices = append(out.Choices, c)
	}
	return out
}

// words lists each choice with what decides it: the worst result, and what is
// needed.
func (a fitChoices) words() string {
	var p page
	for i, c := range a.choices {
		if i > 0 {
			p.line("")
		}
		p.line("%s: %s", c.Name, strings.ToUpper(c.verdict().String()))
		p.row("  told by", c.About)
		for _, r := range c.results {
			if r.Verdict < c.verdict() && len(r.Needs) == 0 {
				continue
			}
			p.row("  "+fitName(r), verdictWords(r))
			p.row("    why", r.Why)
			p.row("    held", r.Measured+", "+fitInstrument(r.Instrument)+"; limit: "+r.Limit)
			p.row("    left", fitLeft(r))
			p.row("    source", fitSource(r))
		}
	}
	if len(a.Notes) > 0 {
		p.line("")
	}
	for _, note := range a.Notes {
		p.row("note", note)
	}
	return p.String()
}
