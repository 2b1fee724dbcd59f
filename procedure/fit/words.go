package fit

// choose picks the sentence that belongs to the verdict of a rule.
func choose(v Verdict, fits, try, not string) string {
	switch v {
	case Fits, FitsWith:
		return fits
	case TryAndMeasure:
		return try
	case DoesNotFit:
		return not
	case NotChecked:
		return ""
	}
	return ""
}

// tooCoarse is the reason for most of the tries.
const tooCoarse = "So close to the limit that this instrument can't decide: measure again with a finer one, or fit dry and look."
