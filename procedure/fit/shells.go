package fit

import (
	"cmp"
	"slices"
	"strings"
)

// A Crank is what decides which bottom bracket shell it goes in. The number of
// sprockets it drives is not part of it.
type Crank struct {
	Spindle string // id as in [Spindles]
	Width   Length // shell and spacers together that it needs; 0: not looked up
	Spacer  Length // thickness of one spacer of its set; 0: any
}

// A ShellChoice is one kind of shell of one width, and what it is to a crank.
type ShellChoice struct {
	Shell   ShellKind
	Width   Length // between the faces
	Results []Result
}

// Verdict is the worst of the results.
func (c ShellChoice) Verdict() Verdict { return Worst(c.Results...) }

// wideShell is the width from which shells have the bearings inside, except
// threaded ones of 1.37 in, which keep them outside. Source: common practice, no
// source.
const wideShell = 79 * Millimeter

// FindShells goes through the known bottom bracket shells for a crank: which take
// it and with what spacers, and which do not and why. Those that take it come
// first. Widths of shells are those of the list here; ins is what the crank's
// own width was taken with, [Marked] if it was read.
//
// A newer chainset runs in an older threaded shell: spindle and width decide.
// Source: common practice, no source.
//
// Width lies between 50 mm and 150 mm or is 0, Spacer between 0 and 20 mm.
func FindShells(c Crank, ins Instrument) ([]ShellChoice, error) {
	var in inputs
	in.choice("spindle", c.Spindle, Spindles()...)
	if c.Width != 0 {
		in.length("needs_width", c.Width, 50*Millimeter, 150*Millimeter)
	}
	in.length("spacer", c.Spacer, 0, 20*Millimeter)
	in.instrument(ins)
	if err := in.err("find-shells"); err != nil {
		return nil, err
	}
	var out []ShellChoice
	for _, kind := range ShellKinds() {
		for _, width := range kind.Widths {
			out = append(out, ShellChoice{Shell: kind, Width: width, Results: c.in(kind, width, ins)})
		}
	}
	slices.SortStableFunc(out, func(a, b ShellChoice) int { return cmp.Compare(a.Verdict(), b.Verdict()) })
	return out, nil
}

// in asks about one shell. A spindle that does not exist for it ends it.
func (c Crank) in(kind ShellKind, width Length, ins Instrument) []Result {
	s := Shell{Width: width, Spindle: c.Spindle, CrankWidth: c.Width, Spacer: c.Spacer}
	spindle := s.spindle([]ShellKind{kind})
	if spindle.Verdict == DoesNotFit {
		return []Result{spindle}
	}
	isWide := width >= wideShell && !kind.isOutboard()
	switch {
	case c.Width == 0:
		return []Result{spindle, otherWidth("not looked up", width, ins,
			"Look up in the crank's papers how wide shell and spacers have to be, and how the spacers are divided.")}
	case isWide != (c.Width >= wideShell) && !(kind.isOutboard() && width >= wideShell):
		return []Result{spindle, otherWidth(c.Width.String(), width, ins,
			"The width the crank needs is stated for another kind of shell: in a narrow one the bearings sit outside, in a wide one inside. Look up in its papers what it needs here.")}
	}
	return []Result{spindle, spacers(s, ins)}
}

// isOutboard reports whether even a wide shell of the kind has its bearings
// outside.
func (k ShellKind) isOutboard() bool { return strings.HasPrefix(k.ID, "threaded 1.37 in") }

// otherWidth is the answer where the widths cannot be compared.
func otherWidth(needs string, shell Length, ins Instrument, why string) Result {
	return Result{
		Rule: shellRule, Check: "spacers", Verdict: TryAndMeasure, Instrument: ins,
		Measured: "shell " + shell.String() + ", crank needs: " + needs, Limit: "the width in the crank's papers",
		Why: why, Source: sourcePractice, Confidence: CommonPractice,
	}
}

// OlderShellNote says what riders ask about a new chainset. Source: common
// practice, no source.
func OlderShellNote() string {
	return "A newer chainset runs in an older threaded shell, whatever the number of sprockets: spindle and width decide."
}
