package fit

import "strings"

// judge sets verdict and margin from the distance to a limit and the largest
// error of the figure it came from. A margin at least as large as the error
// fits, a shortage at least as large does not, and between them the rule can't
// decide. Without error, nothing to spare is still a fit.
func (r *Result) judge(margin, uncertainty Length) {
	r.Margin, r.Uncertainty = lengthMargin(margin), uncertainty
	switch {
	case margin >= uncertainty:
		r.Verdict = Fits
	case margin < 0 && -margin >= uncertainty:
		r.Verdict = DoesNotFit
	default:
		r.Verdict = TryAndMeasure
	}
}

// judgeCount is judge for teeth, which are counted.
func (r *Result) judgeCount(margin int) {
	r.Margin = countMargin(margin, "teeth")
	r.Verdict = Fits
	if margin < 0 {
		r.Verdict = DoesNotFit
	}
}

// number keeps a figure the rule worked out; names of lengths end in _mm.
func (r *Result) number(name, decimal string) {
	if r.Numbers == nil {
		r.Numbers = map[string]string{}
	}
	r.Numbers[name] = decimal
}

// length keeps a length the rule worked out.
func (r *Result) length(name string, l Length) {
	r.number(name+"_mm", strings.TrimSuffix(l.String(), " mm"))
}

// need records something the parts fit with. A plain fit becomes a fit with it;
// a worse verdict stays.
func (r *Result) need(what string) {
	r.Needs = append(r.Needs, what)
	r.Verdict = max(r.Verdict, FitsWith)
}
