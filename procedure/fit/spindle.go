package fit

import (
	"slices"
	"strconv"
	"strings"
)

// spindle asks whether the spindle exists for this kind of shell.
func (s Shell) spindle(kinds []ShellKind) Result {
	r := Result{
		Rule: shellRule, Check: "spindle", Instrument: Marked(), Verdict: DoesNotFit,
		Measured: "spindle " + s.Spindle, Source: sourcePractice, Confidence: CommonPractice,
	}
	var all []string
	isReduced := false
	for _, k := range kinds {
		all = append(all, k.Spindles...)
		isReduced = isReduced || slices.Contains(k.Reduced, s.Spindle)
	}
	slices.Sort(all)
	all = slices.Compact(all)
	r.Limit = "one of " + strings.Join(all, ", ")
	switch {
	case len(kinds) == 0:
		r.Verdict, r.Limit = TryAndMeasure, "a spindle known for this shell"
		r.Why = "The kind of shell is not known, so neither are its spindles."
	case slices.Contains(all, s.Spindle):
		r.Verdict = Fits
		r.Why = "Bearings with this spindle exist for this shell."
	case isReduced:
		r.need("a bearing or reducer for a " + s.Spindle + " spindle")
		r.Verdict = FitsWith
		r.Why = "The spindle is smaller than the bearing of this shell; a reducer takes up the difference."
	default:
		r.Why = "No bearing for this spindle exists in this shell."
	}
	return r
}

// spacers works out what fills the width the crank needs.
func spacers(s Shell, ins Instrument) Result {
	total := s.CrankWidth - s.Width
	r := Result{
		Rule: shellRule, Check: "spacers", Instrument: ins,
		Measured: "shell " + s.Width.String() + ", crank needs " + s.CrankWidth.String(),
		Limit:    "spacers make up the difference within " + shellWidthTolerance.String(),
		Source:   sourcePractice, Confidence: CommonPractice,
	}
	count, rest := fill(total, s.Spacer)
	r.judge(shellWidthTolerance-rest.Abs(), ins.Error)
	r.length("spacers", total)
	switch {
	case total < 0 && count == 0 && r.Verdict == DoesNotFit:
		r.Margin = lengthMargin(total)
		r.Why = "The shell is " + (-total).String() + " too wide for this crank; no spacer mends that."
	case r.Verdict == DoesNotFit:
		r.Verdict = TryAndMeasure
		r.Why = "The difference of " + total.String() + " is no whole number of " + s.Spacer.String() + " spacers. Measure again and look up the crank's spacers."
	case r.Verdict == TryAndMeasure:
		r.Why = "The difference of " + total.String() + " can't be told from the limit with this instrument. Measure again and fit dry."
	case count == 0:
		r.Why = "The shell has the width the crank needs; no spacers."
	default:
		r.need(spacerText(total, s.Spacer, count))
		if s.Spacer > 0 {
			r.number("spacer_count", strconv.FormatInt(int64(count), 10))
		}
		r.Why = "Spacers bring the shell to the width the crank needs. Divide them between the sides as the crank's papers say, not all on one side."
	}
	return r
}

// fill returns how many spacers come nearest to total, and what is left over.
func fill(total, spacer Length) (count Length, rest Length) {
	switch {
	case total <= shellWidthTolerance:
		return 0, total
	case spacer == 0:
		return 1, 0
	}
	count = (total + spacer/2) / spacer
	return count, total - count*spacer
}

func spacerText(total, spacer, count Length) string {
	switch {
	case spacer == 0:
		return total.String() + " of spacers"
	case count == 1:
		return "1 spacer of " + spacer.String()
	}
	return strconv.FormatInt(int64(count), 10) + " spacers of " + spacer.String()
}

// reach asks whether the spindle is long enough for shell and spacers.
func (s Shell) reach(ins Instrument) Result {
	need := max(s.Width, s.CrankWidth)
	r := Result{
		Rule: shellRule, Check: "spindle length", Instrument: ins,
		Measured: "spindle " + s.SpindleLength.String() + " long", Limit: "at least " + need.String(),
		Source: sourcePractice, Confidence: CommonPractice,
	}
	r.judge(s.SpindleLength-need, ins.Error)
	r.explain(
		"The spindle covers the shell and its spacers.",
		"The spindle covers the shell and its spacers by less than this instrument can tell.",
		"The spindle is too short for this shell and its spacers.")
	return r
}
