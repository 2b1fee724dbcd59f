package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/procedure/fit"
)

func newFitCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "fit",
		Short: "Whether parts go together, and what they need",
		Long: `Whether parts go together, and what they need, without a job.

Each question is a command of its own. Lengths are in mm where no unit is written, and
"1.37 in" is read as well. --instrument says what they were measured with; figures that
are counted, gauged or read off a part keep their own.

Every answer says what was measured and how well, the limit, what is left, and where
the limit comes from. A margin below the error of the instrument is never a plain fit.
The maker's printed figure comes first.

Exit code 1 means that the parts do not fit, or have to be tried and measured.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return refused(cmd, wrong(reasonWrongArguments, "there is no question %s: tightwright help fit lists them", clipped(args[0])))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	for _, q := range fitQuestions() {
		cmd.AddCommand(q.command())
	}
	cmd.AddCommand(newFitBodyCommand(), newFitShellCommand(), newFitDiscCommand(), newFitSheetCommand())
	return cmd
}

// A fitQuestion is a question of a rider in terms of the fit rules.
type fitQuestion struct {
	name, short string
	long        string // one paragraph more, may be empty
	examples    []string
	fields      []fitField
	asks        []fitAsk
	note        string // goes with every answer, may be empty
}

// A fitAsk is one rule of a question. It is asked where one of the flags in when
// is given, and always where there are none.
type fitAsk struct {
	rule string
	when []string
}

// A fitField is a flag of a question and the attributes it stands for.
type fitField struct {
	flag, form, about string
	// keys are the attributes, role.attribute; those of a field in two parts are
	// parted by a bar: "cassette.smallest|cassette.largest". An @ is the end of the
	// bicycle that --place says, a ~ the fork in front and the frame at the rear.
	keys []string
	// usual stands in for a value that is not given; hidden has no flag at all.
	usual  string
	hidden bool
	// span is two numbers in any order, or one for both; pair is two in this order.
	span, pair bool
}

const (
	instrumentFlag = "instrument"
	placeFlag      = "place"
)

// hasPlace reports whether the question is about one end of the bicycle.
func (q fitQuestion) hasPlace() bool {
	return slices.ContainsFunc(q.asks, func(a fitAsk) bool { return strings.Contains(a.rule, "@") })
}

func (q fitQuestion) command() *cobra.Command {
	cmd := &cobra.Command{
		Use: q.name, Short: q.short, Long: fitLong(q.short, q.long),
		Example: fitExamples(q.name, q.examples), ValidArgsFunction: cobra.NoFileCompletions,
	}
	for _, f := range q.fields {
		if !f.hidden {
			cmd.Flags().String(f.flag, "", f.usage())
		}
	}
	if q.hasPlace() {
		cmd.Flags().String(placeFlag, "", "the `end` of the bicycle: front or rear")
	}
	addInstrument(cmd)
	return calculation{hint: "fit " + fitHint(q.name, q.examples[0]), work: q.work}.command(cmd)
}

// usage is the line of the flag in the help.
func (f fitField) usage() string {
	form := ", a `" + f.form + "`"
	if f.form == inMM || f.form == inTeeth {
		form = ", in `" + f.form + "`"
	}
	text := f.about + form
	if what, choices, ok := strings.Cut(f.about, ": "); ok {
		text = what + form + ": " + choices
	}
	if strings.HasPrefix(f.about, "of ") || strings.HasPrefix(f.about, "in ") {
		text = "the `" + f.form + "` " + f.about
	}
	if f.usual != "" {
		text += "; " + f.usual
	}
	return text
}

func addInstrument(cmd *cobra.Command) {
	cmd.Flags().String(instrumentFlag, "", "what the lengths were measured with, a `name`: "+strings.Join(instrumentNames(), ", "))
}

func instrumentNames() []string {
	var names []string
	for _, m := range fit.Measuring() {
		names = append(names, m.Short)
	}
	return names
}

const fitRows = `With - as the only argument, rows of CSV are read from standard input with columns
that are named like the flags.`

func fitLong(paragraphs ...string) string {
	var out []string
	for i, p := range paragraphs {
		switch {
		case p == "":
		case i == 0:
			out = append(out, p+".")
		default:
			out = append(out, p)
		}
	}
	return strings.Join(append(out, fitRows), "\n\n")
}

func fitExamples(name string, examples []string) string {
	var lines []string
	for _, e := range examples {
		lines = append(lines, "  tightwright fit "+name+" "+e)
	}
	return strings.Join(lines, "\n")
}

func fitHint(name, example string) string {
	return name + " takes flags, or - alone for rows of CSV, as in: fit " + name + " " + example
}
