package card

import (
	"fmt"
	"regexp"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

const dayForm = "2 January 2006"

// clock is a time of the day on which work starts; on later days with its date.
func clock(start time.Time, after procedure.Duration) string {
	at := start.Add(time.Duration(after)).UTC()
	if at.Format(time.DateOnly) == start.UTC().Format(time.DateOnly) {
		return at.Format("15:04")
	}
	return at.Format("2 January, 15:04")
}

func durationText(d time.Duration) string {
	hours, minutes := int(d/time.Hour), int(d%time.Hour/time.Minute)
	switch {
	case hours == 0:
		return fmt.Sprintf("%d min", minutes)
	case minutes == 0:
		return fmt.Sprintf("%d h", hours)
	}
	return fmt.Sprintf("%d h %d min", hours, minutes)
}

// longerText says what makes a wait longer.
func longerText(l procedure.Longer) string {
	var when []string
	if len(l.Metals) > 0 {
		when = append(when, "on "+strings.Join(each(l.Metals, plain), " or "))
	}
	if l.BelowCelsius != nil {
		when = append(when, fmt.Sprintf("below %d °C", *l.BelowCelsius))
	}
	return fmt.Sprintf("%d times as long %s", l.Times, strings.Join(when, " and "))
}

func stepsText(s procedure.Slot) string {
	if s.First == s.Last {
		return fmt.Sprintf("step %d of %d", s.First, s.Steps)
	}
	return fmt.Sprintf("steps %d to %d of %d", s.First, s.Last, s.Steps)
}

// confidence says how far a figure can be leaned on.
func confidence(c procedure.Confidence) string {
	switch c {
	case procedure.Printed:
		return "printed on the part"
	case procedure.Manual:
		return "in its manual"
	case procedure.Documented:
		return "published document"
	case procedure.FromMemory:
		return "from memory"
	}
	return c.String()
}

// plain turns an id into words, the side of the bike first.
func plain(id string) string {
	for _, side := range []string{"left", "right", "front", "rear"} {
		if part, ok := strings.CutSuffix(id, "-"+side); ok {
			id = side + "-" + part
		}
	}
	return strings.NewReplacer("-", " ", "_", " ", "/", ", ").Replace(id)
}

// held keeps a figure and its unit on one line: a window breaks before "to".
func held(figures string) string {
	return strings.ReplaceAll(strings.ReplaceAll(figures, " ", "\u00a0"), "\u00a0to\u00a0", " to\u00a0")
}

// attribute finds role.attribute_name in a sentence.
var attribute = regexp.MustCompile(`([a-z])\.([a-z])`)

// sentence turns the ids of attributes in a sentence into words.
func sentence(text string) string {
	return strings.ReplaceAll(attribute.ReplaceAllString(text, "$1 $2"), "_", " ")
}

func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

func each(words []string, change func(string) string) []string {
	out := make([]string, 0, len(words))
	for _, w := range words {
		out = append(out, change(w))
	}
	return out
}

func short(revision string) string { return revision[:min(12, len(revision))] }

func lowerFirst(text string) string {
	if len(text) > 1 && text[1] >= 'a' && text[1] <= 'z' {
		return strings.ToLower(text[:1]) + text[1:]
	}
	return text
}
