package drawing

import (
	"math"
	"strconv"
	"strings"
)

// figures writes x to a number of figures, without an exponent: 1852 to two
// figures is "1900".
func figures(x float64, count int) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', count-1, 64), 64)
	if err != nil {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	places := count - 1 - int(math.Floor(math.Log10(math.Abs(rounded))+1e-12))
	return strconv.FormatFloat(rounded, 'f', max(0, places), 64)
}

// shortened takes the zeros off that end a decimal.
func shortened(text string) string {
	if !strings.Contains(text, ".") {
		return text
	}
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// percent writes a share of 1 as whole percent.
func percent(share float64) string { return strconv.FormatFloat(100*share, 'f', 0, 64) + " %" }

// sentences joins what is to be said, each part ended by a full stop.
func sentences(parts ...string) string {
	var out []string
	for _, part := range parts {
		if part = strings.TrimRight(part, ". "); part != "" {
			out = append(out, part+".")
		}
	}
	return strings.Join(out, " ")
}
