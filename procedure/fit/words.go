package fit

// explain sets the reason that belongs to the verdict, and says so where a fit
// has nothing to spare.
func (r *Result) explain(fits, try, not string) {
	switch r.Verdict {
	case Fits, FitsWith:
		r.Why = fits
		if r.Margin == lengthMargin(0) {
			r.Why += " Nothing is left to the limit."
		}
	case TryAndMeasure:
		r.Why = try
	case DoesNotFit:
		r.Why = not
	case NotChecked:
		r.Why = ""
	}
}

// tooCoarse is the reason for most of the tries.
const tooCoarse = "So close to the limit that this instrument can't decide: measure again with a finer one, or fit dry and look."
