package procedure

import (
	"fmt"
	"math/big"
)

// JudgeMeasure decides on a measured value as the bench does: well inside its
// limits it conforms, within the instrument's error of a limit it is
// undecided, beyond that it does not conform. All are plain decimals in one
// unit; an empty limit is none, an empty error is exact.
func JudgeMeasure(value, low, high, instrumentError string) (Verdict, error) {
	v, err := parseDecimal(value)
	if err != nil {
		return 0, fmt.Errorf("judge a measure: %w", err)
	}
	limits := map[string]*big.Rat{}
	for _, text := range []string{low, high, instrumentError} {
		if text == "" {
			continue
		}
		if limits[text], err = parseDecimal(text); err != nil {
			return 0, fmt.Errorf("judge a measure: %w", err)
		}
	}
	return judgeMeasure(v, limits[low], limits[high], orZero(instrumentError)), nil
}
