package procedure

import (
	"fmt"
	"math/big"
	"strings"
)

// isDecimal reports an optional minus sign and one to nine digits, with a point
// and one to nine more where there is one.
func isDecimal(text string) bool {
	whole, fraction, hasPoint := strings.Cut(strings.TrimPrefix(text, "-"), ".")
	return isDigits(whole) && (!hasPoint || isDigits(fraction))
}

// isDigits reports one to nine ASCII digits.
func isDigits(text string) bool {
	for i := range len(text) {
		if text[i] < '0' || text[i] > '9' {
			return false
		}
	}
	return 0 < len(text) && len(text) <= 9
}

// isPositive reports a plain decimal above zero, as parseDecimal reads it.
func isPositive(text string) bool {
	return isDecimal(text) && text[0] != '-' && strings.ContainsAny(text, "123456789")
}

// parseDecimal reads a plain decimal such as 36.75 exactly. Exponents,
// grouping and more than nine digits either side are refused.
func parseDecimal(text string) (*big.Rat, error) {
	if !isDecimal(text) {
		return nil, fmt.Errorf("%q is not a plain decimal such as 36.75", text)
	}
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return nil, fmt.Errorf("%q is not a plain decimal such as 36.75", text)
	}
	return r, nil
}

// formatRat writes r with at most places decimals and no trailing zeros.
func formatRat(r *big.Rat, places int) string {
	s := r.FloatString(places)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// validID reports whether text can name a build, job, tool, step or person:
// one to 63 lower-case letters, digits and inner hyphens (the resource id
// form of AIP-122).
func validID(text string) bool {
	for i := range len(text) {
		c, inner := text[i], i > 0 && i < len(text)-1
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && (c != '-' || !inner) {
			return false
		}
	}
	return 0 < len(text) && len(text) <= 63
}

func ratAdd(a, b *big.Rat) *big.Rat { return new(big.Rat).Add(a, b) }
func ratSub(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }
