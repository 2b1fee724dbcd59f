package procedure

import (
	"fmt"
	"strings"
)

// name returns the name of value v in names, or a placeholder that shows the
// number, so that an unknown value read from a newer record is still visible.
func enumName[E ~uint8](names []string, v E) string {
	if int(v) < len(names) {
		return names[v]
	}
	return fmt.Sprintf("unknown(%d)", v)
}

// enumParse finds text in names. The error lists what is accepted.
func enumParse[E ~uint8](what string, names []string, text string) (E, error) {
	for i, n := range names {
		if n != "" && n == text {
			return E(i), nil
		}
	}
	accepted := make([]string, 0, len(names))
	for _, n := range names {
		if n != "" {
			accepted = append(accepted, n)
		}
	}
	return 0, &FieldError{Rule: "unknown-" + strings.ReplaceAll(what, " ", "-"),
		Text: fmt.Sprintf("unknown %s %q%s: write one of %s", what, text, meant(text, accepted), strings.Join(accepted, ", "))}
}
