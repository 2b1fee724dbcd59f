package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/torque"
)

func newMarkingCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "marking TEXT",
		Short: "Read the torque that is printed on a part",
		Long: `Read the torque that is printed on a part, and say what it means.

TEXT is the marking as it stands on the part, in quotes: a range, a maximum, a
minimum, one figure, or a figure with its tolerance, in any usual unit, with
the same torque in other units behind it where that is printed too.

What could mean two things is refused, with the reason and what would be
accepted; nothing is guessed and nothing left out. One bare figure on a part
counts as its maximum as well.

With - as the only argument, rows of CSV are read from standard input with the
column text. A marking that is a minus sign alone stands after --.`,
		Example: `  tightwright marking '5-7 Nm'
  tightwright marking 'MAX 5 Nm (44 in-lb)'
  tightwright marking --json '8 ± 1 N·m'
  printf 'text\n"4,5 Nm"\n' | tightwright marking -`,
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	return calculation{
		args: []string{"text"},
		hint: "marking takes one text: put it in quotes, as in: marking '5-7 Nm'",
		work: func(in inputs) (answer, error) {
			marking, err := torque.ParseMarking(in["text"])
			if err != nil {
				return nil, err
			}
			return readMarking{marking}, nil
		},
	}.command(cmd)
}

// readMarking is the answer of marking.
type readMarking struct{ torque.Marking }

// A markingObject has every figure, "" for one that the kind does not have,
// and warnings only where a person should know how the text was read.
type markingObject struct {
	Kind torque.Kind `json:"kind"`
	figuresObject
	Alternates []figuresObject  `json:"alternates"`
	AsWritten  string           `json:"as_written"`
	Warnings   []torque.Warning `json:"warnings,omitempty"`
}

type figuresObject struct {
	Nominal string      `json:"nominal"`
	Min     string      `json:"min"`
	Max     string      `json:"max"`
	Unit    torque.Unit `json:"unit"`
}

func (m readMarking) object() any {
	alternates := make([]figuresObject, 0, len(m.Alternates))
	for _, a := range m.Alternates {
		alternates = append(alternates, figuresObject{a.Nominal, a.Min, a.Max, a.Unit})
	}
	return markingObject{m.Kind, figuresObject{m.Nominal, m.Min, m.Max, m.Unit}, alternates, m.AsWritten, m.Warnings}
}

var kindWords = map[torque.Kind]string{
	torque.KindRange:            "a range",
	torque.KindMax:              "a maximum",
	torque.KindMin:              "a minimum",
	torque.KindNominal:          "one figure, which is also the maximum",
	torque.KindNominalPlusMinus: "a figure with its tolerance",
}

func (m readMarking) words() string {
	var out strings.Builder
	row := func(name, text string) { fmt.Fprintf(&out, "%-14s%s\n", name, text) }
	row("as printed", printable(m.AsWritten))
	row("is", kindWords[m.Kind])
	row("reads", m.String())
	for _, a := range m.Alternates {
		row("also", alternateWords(a))
	}
	row("window", windowWords(m.FigureWindow()))
	for _, w := range m.Warnings {
		row("note", w.Text())
	}
	return out.String()
}

func alternateWords(a torque.Alternate) string {
	window := a.FigureWindow()
	switch {
	case a.Nominal != "" && a.Min == "" && a.Max == "":
		return window.Nominal.String()
	case a.Nominal != "":
		return fmt.Sprintf("%v (%v)", window.Nominal, window)
	}
	return window.String()
}

// windowWords gives the limits in newton meters. Figures in another unit are
// rounded inward, to the hundredth where that leaves anything.
func windowWords(w torque.FigureWindow) string {
	inward := torque.Scale{Unit: torque.NewtonMeters}
	if w.Min.Unit() == torque.NewtonMeters && w.Max.Unit() == torque.NewtonMeters {
		return torque.FigureWindow{Min: w.Min, Max: w.Max}.String()
	}
	for _, inward.Step = range []string{"0.01", "0.0001", "0.000001"} {
		marks, err := w.RoundInward(inward)
		if err == nil {
			return fmt.Sprintf("%v (rounded inward)", torque.FigureWindow{Min: marks.Min, Max: marks.Max})
		}
		if !errors.Is(err, torque.ErrVanishes) {
			return err.Error()
		}
	}
	window, err := w.Window()
	if err != nil {
		return err.Error()
	}
	return window.String()
}
