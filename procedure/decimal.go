package procedure

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"
)

var decimalForm = regexp.MustCompile(`^-?[0-9]{1,9}(\.[0-9]{1,9})?$`)

// parseDecimal reads a plain decimal such as 36.75 exactly. Exponents,
// grouping and more than nine digits either side are refused.
func parseDecimal(text string) (*big.Rat, error) {
	if !decimalForm.MatchString(text) {
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

var idForm = regexp.MustCompile(`^[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?$`)

// validID reports whether text can name a build, job, tool, step or person:
// one to 63 lower-case letters, digits and inner hyphens (the resource id
// form of AIP-122).
func validID(text string) bool { return idForm.MatchString(text) }

func ratAdd(a, b *big.Rat) *big.Rat { return new(big.Rat).Add(a, b) }
func ratSub(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }
