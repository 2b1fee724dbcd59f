package main

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"github.com/tightwright/tightwright/torque"
)

func newConvertCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "convert VALUE FROM TO",
		Short: "Convert a torque exactly from one unit to another",
		Long: `Convert a torque exactly from one unit to another.

VALUE is a plain decimal with a point, such as 5, 0.75 or -3. FROM and TO are
units of torque, written as symbols, as UCUM codes such as N.m and
[lbf_av].[in_i], or plainly as Nm, in-lb or ft lbs. The units are
` + strings.Join(unitSymbols(), ", ") + `.

The answer is exact. Where its decimals never end, the first 16 digits are
shown and … stands for the rest; --json has the exact fraction.

Rounding is asked for:
  --places 1          to one decimal, a tie to the even digit (NIST SP 811, B.7.1)
  --digits 3          to three digits, in the same way
  --digits auto       to as many digits as VALUE has, one more where the answer
                      begins with a smaller digit (first-digit rule, NIST SP 1038,
                      attribution from memory)
  --as max, --as min  a limit: a maximum only ever goes down, a minimum up

With - as the only argument, rows of CSV are read from standard input with the
columns value, from, to and, where wanted, digits, places, as.`,
		Example: `  tightwright convert 5 N.m lbf.in
  tightwright convert 44 in-lb N.m --places 1
  tightwright convert 5 N.m lbf.in --as max --places 0
  tightwright convert --json -- -3 N.m kgf.cm
  printf 'value,from,to\n5,N.m,lbf.in\n' | tightwright convert -`,
		ValidArgsFunction: completeConvert,
	}
	cmd.Flags().String("digits", "", "round to `N` digits, or auto")
	cmd.Flags().String("places", "", "round to `N` decimals")
	cmd.Flags().String("as", "", "round as a limit: `max` down, min up")
	return calculation{
		args: []string{"value", "from", "to"},
		hint: "convert takes a value, the unit it is in and the unit wanted, as in: convert 5 N.m lbf.in",
		work: convert,
	}.command(cmd)
}

// completeConvert offers units for the second and third argument and the words
// that flags take.
func completeConvert(cmd *cobra.Command, raw []string, _ string) ([]string, cobra.ShellCompDirective) {
	const noFiles = cobra.ShellCompDirectiveNoFileComp
	if len(raw) > 0 && isFlag(raw[len(raw)-1]) && takesNext(cmd.Flags(), raw[len(raw)-1]) {
		words := map[string][]string{"--as": {"max", "min"}, "--digits": {"auto"}}
		return words[raw[len(raw)-1]], noFiles
	}
	if _, args, _ := sortArgs(cmd.Flags(), raw); len(args) == 1 || len(args) == 2 {
		return unitCodes(), noFiles
	}
	return nil, noFiles
}

func unitSymbols() []string {
	var out []string
	for _, u := range torque.Units() {
		out = append(out, u.Symbol())
	}
	return out
}

func unitCodes() []string {
	var out []string
	for _, u := range torque.Units() {
		out = append(out, u.UCUM())
	}
	return out
}

// conversion is the answer of convert.
type conversion struct {
	from    torque.Figure
	exact   torque.Exact
	rounded string // empty when no rounding was asked for
	how     string // the rounding in words
}

func convert(in inputs) (answer, error) {
	from, err := unitOf(in, "from")
	if err != nil {
		return nil, err
	}
	to, err := unitOf(in, "to")
	if err != nil {
		return nil, err
	}
	figure, err := figureOf(in, "value", from)
	if err != nil {
		return nil, err
	}
	out := conversion{from: figure, exact: figure.In(to)}
	wanted, err := roundingOf(in)
	if err != nil {
		return nil, err
	}
	if out.rounded, out.how, err = wanted.apply(out.exact, figure); err != nil {
		return nil, err
	}
	return out, nil
}

func (c conversion) words() string {
	if c.rounded != "" {
		return fmt.Sprintf("%v = %s %v (%s)\n", c.from, c.rounded, c.exact.Unit(), c.how)
	}
	return fmt.Sprintf("%v = %s %v\n", c.from, shown(c.exact), c.exact.Unit())
}

type conversionObject struct {
	Value   float64     `json:"value"` // the nearest float64
	Exact   string      `json:"exact"` // a decimal or a fraction
	Unit    torque.Unit `json:"unit"`  // as UCUM code
	Rounded string      `json:"rounded,omitempty"`
}

func (c conversion) object() any {
	return conversionObject{c.exact.Float64(), c.exact.Text(), c.exact.Unit(), c.rounded}
}

// shownDigits is how many digits of a decimal that never ends are shown.
const shownDigits = 16

// shown is the exact decimal, or its first digits and a sign that it goes on.
func shown(e torque.Exact) string {
	if text, ends := e.Decimal(); ends {
		return text
	}
	places := shownDigits - 1 - leadingPlace(e)
	switch {
	case !canRound(places):
		return e.Text()
	case e.Rat().Sign() < 0:
		return e.CeilPlaces(places) + "…"
	}
	return e.FloorPlaces(places) + "…"
}

// unitOf reads a unit that has to be given.
func unitOf(in inputs, name string) (torque.Unit, error) {
	text := strings.TrimSpace(in[name])
	if text == "" {
		return 0, wrong(torque.ReasonMissingUnit, "there is no unit under %q: write one such as N.m", name)
	}
	unit, err := torque.ParseUnit(text)
	if err != nil {
		return 0, wrong(torque.ReasonUnknownUnit, "%s: %s", name, err)
	}
	return unit, nil
}

// figureOf reads a decimal that has to be given.
func figureOf(in inputs, name string, unit torque.Unit) (torque.Figure, error) {
	text := strings.TrimSpace(in[name])
	if text == "" {
		return torque.Figure{}, wrong(torque.ReasonMissingValue, "there is no number under %q: write one such as 5 or 0.75", name)
	}
	figure, err := torque.ParseFigure(text, unit)
	if err != nil {
		reason, mend := notDecimal(text)
		return torque.Figure{}, wrong(reason, "%s %q: %s", name, clipped(text), mend)
	}
	return figure, nil
}

// notDecimal says why a text is no plain decimal, and the mend.
func notDecimal(text string) (reason, mend string) {
	const digits = "0123456789"
	number := strings.TrimLeft(text, "+-")
	switch {
	case isOnly(number, digits+".") && len(number) > torque.MaxFigureDigits:
		return torque.ReasonOutOfRange, fmt.Sprintf("write at most %d digits", torque.MaxFigureDigits)
	case isOnly(number, digits):
		return torque.ReasonMalformed, "write the digits, with one minus before them where the value is negative"
	case isOnly(number, digits+"."):
		return torque.ReasonMalformed, "write digits on both sides of one decimal point, as in 0.5"
	case isOnly(number, digits+".,"):
		return torque.ReasonAmbiguousNumber, "write a decimal point, and no grouping"
	case exponentForm.MatchString(number):
		return torque.ReasonExponentNotAllowed, "write the number out, without a power of ten"
	}
	return torque.ReasonNotANumber, "write a plain decimal such as 5 or 0.75"
}

var exponentForm = regexp.MustCompile(`^[0-9.,]+[eE][+-]?[0-9]+$`)

func isOnly(text, allowed string) bool { return strings.Trim(text, allowed) == "" }

// clipped shortens a text that is quoted in a message.
func clipped(text string) string {
	const longest = 60
	if runes := []rune(text); len(runes) > longest {
		return string(runes[:longest]) + "…"
	}
	return text
}
