package teaching

import (
	"fmt"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// plain turns an identifier into words for a person.
func plain(id string) string {
	return strings.NewReplacer("-", " ", "_", " ", ".", " ").Replace(id)
}

// roleWords turns the name of a part into words, its place first: the front
// axle.
func roleWords(role string) string {
	for _, place := range []string{"front", "rear", "left", "right"} {
		if part, ok := strings.CutSuffix(role, "-"+place); ok {
			return place + " " + plain(part)
		}
	}
	return plain(role)
}

// factWords says of an attribute what it is, and where it is several, what they
// are.
func factWords(key, value string) string {
	role, name, _ := strings.Cut(key, ".")
	if role == "fit" {
		return fmt.Sprintf("the fit check of %s says %s", plain(name), plain(value))
	}
	verb := "is"
	if strings.HasSuffix(name, "s") && !strings.HasSuffix(name, "ss") {
		verb = "are"
	}
	return fmt.Sprintf("the %s of the %s %s %s", plain(name), roleWords(role), verb, plain(value))
}

// limitWords says the limits of a measure. Nothing cannot be undercut, and is
// no limit; two that are the same leave one value.
func limitWords(low, high, unit string) string {
	switch {
	case high != "" && decimal(low).Sign() == 0:
		low = ""
	case low != "" && low == high:
		return "Exactly " + procedure.MeasureWords(low, unit) + "."
	}
	return procedure.LimitWords(low, high, unit)
}

// withArticle puts a or an before a word.
func withArticle(words string) string {
	if strings.ContainsRune("aeiou", rune(words[0])) {
		return "an " + words
	}
	return "a " + words
}

// capital begins a sentence.
func capital(words string) string { return strings.ToUpper(words[:1]) + words[1:] }
