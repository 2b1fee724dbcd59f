package procedure

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/torque/joint"
)

// Limits of a build sheet, so that a record stays readable.
const (
	maxParts     = 100
	maxPrinted   = 20
	maxTextRunes = 200
	// mostPasteLess is in percent; makers who allow it say 20 to 25 (common
	// practice, no source), and more is a misreading.
	mostPasteLess = 30
)

// Normalize checks the sheet against the vocabulary and brings its values to
// canonical text: lengths in millimeters ("36.75 mm"), threads as
// joint.Thread.String writes them, counts without leading zeros, everything
// without outer spaces. A role or attribute that the vocabulary does not
// know, a role taken twice, a value of another form and a marking that cannot
// be read are reported by field, all at once. An attribute that is missing is
// not a mistake here: what a job needs, its plan asks for.
func (s *Sheet) Normalize(vocab *Vocabulary) error {
	var p problems
	s.Build, s.Label = strings.TrimSpace(s.Build), strings.TrimSpace(s.Label)
	if s.Build != "" && !validID(s.Build) {
		p.add("build", "malformed-id", "write lower-case letters, digits and hyphens, at most 63, not %q", s.Build)
	}
	checkShown(&p, "label", s.Label)
	switch {
	case len(s.Parts) == 0:
		p.add("parts", "missing", "list the parts that were found on the bike")
	case len(s.Parts) > maxParts:
		p.add("parts", "too-many", "a sheet has at most %d parts, not %d", maxParts, len(s.Parts))
	}
	first := map[string]int{}
	for i := range s.Parts {
		path, role := fmt.Sprintf("parts[%d]", i), s.Parts[i].Role
		if before, twice := first[role]; twice && role != "" {
			p.add(path+".role", "duplicate-role", "parts[%d] is the %s already: one part a role", before, role)
		} else {
			first[role] = i
		}
		p.take(path, s.Parts[i].normalize(vocab))
	}
	return p.err()
}

// normalize checks one part against its role.
func (part *Part) normalize(vocab *Vocabulary) error {
	var p problems
	role, known := vocab.Role(part.Role)
	if !known {
		p.add("role", "unknown-role", "there is no role %q%s", part.Role, meant(part.Role, vocab.roleNames()))
		role = &PartRole{}
	}
	switch {
	case part.Material == "":
		p.add("material", "missing", "say what the part is made of: one of %s", strings.Join(vocab.Materials, ", "))
	default:
		checkWord(&p, "material", "unknown-material", "material", part.Material, vocab.Materials)
	}
	for _, name := range keysOf(part.Is) {
		path := joinPath("is", name)
		attribute, ok := role.attribute(name)
		if !ok {
			if known {
				p.add(path, "unknown-attribute", "a %s has no attribute %q%s", part.Role, name, meant(name, role.attributeNames()))
			}
			continue
		}
		value, err := attribute.canonical(part.Is[name])
		p.take(path, err)
		part.Is[name] = value
	}
	if len(part.Printed) > maxPrinted {
		p.add("printed", "too-many", "a part has at most %d printed figures", maxPrinted)
	}
	for i := range part.Printed {
		p.take(fmt.Sprintf("printed[%d]", i), part.Printed[i].normalize())
	}
	return p.err()
}

// canonical brings a value of the attribute's form to its one spelling.
func (a *PartAttribute) canonical(value string) (string, error) {
	var p problems
	value = strings.TrimSpace(value)
	checkShown(&p, "", value)
	if value == "" {
		p.add("", "empty-value", "nothing stands here: give a value or leave the key out")
	}
	if err := p.err(); err != nil {
		return value, err
	}
	switch a.Form {
	case "length":
		l, err := fit.ParseLength(value)
		if err != nil {
			p.add("", "malformed-length", "write a length with its unit such as 36.75 mm, not %q", value)
			break
		}
		value = l.String()
		if l < 0 || l > fit.Meter {
			p.add("", "out-of-range", "a part of a bicycle is between 0 mm and 1 m here, not %s", value)
		}
	case "thread":
		tidyThread(&p, &value, "")
	case "choice":
		checkWord(&p, "", "unknown-choice", a.Name, value, a.Choices)
	case "count":
		n, err := strconv.ParseUint(value, 10, 16)
		if err != nil {
			p.add("", "malformed-count", "write a whole number such as 11, not %q", value)
			break
		}
		value = strconv.FormatUint(n, 10)
	}
	return value, p.err()
}

// normalize wants a figure that was seen, on the part or in its manual: a
// remembered one stands in the joint table and releases nothing critical.
func (f *PrintedFigure) normalize() error {
	var p problems
	f.Joint, f.Marking, f.Where = strings.TrimSpace(f.Joint), strings.TrimSpace(f.Marking), strings.TrimSpace(f.Where)
	if !validID(f.Joint) {
		p.add("joint", "malformed-id", "name the row of the joint table that the figure is for, not %q", f.Joint)
	}
	if _, err := f.window(); err != nil {
		p.add("marking", "malformed-marking", "%s", err)
	}
	if f.Seen != Manual && f.Seen != Printed {
		p.add("seen", "not-seen", "write printed for a figure on the part, or manual for one in its manual")
	}
	if f.Where == "" {
		p.add("where", "missing", "say where the figure was read, such as inside of the left arm")
	}
	if f.PasteLess < 0 || f.PasteLess > mostPasteLess {
		p.add("paste_less", "out-of-range", "write by how many percent less the maker allows it to be tightened with carbon paste, 1 to %d, not %d", mostPasteLess, f.PasteLess)
	}
	if w, err := f.window(); err == nil && f.PasteLess > 0 {
		if _, hasMax := w.Max(); !hasMax {
			p.add("paste_less", "no-maximum", "less than a maximum is allowed with paste, and this figure has none")
		}
	}
	checkShown(&p, "marking", f.Marking)
	checkShown(&p, "where", f.Where)
	return p.err()
}

// checkWord wants one of a list and offers the near one.
func checkWord(p *problems, path, rule, what, word string, list []string) {
	for _, w := range list {
		if w == word {
			return
		}
	}
	p.add(path, rule, "%s %q is not known%s: write one of %s",
		words(what), word, meant(word, list), strings.Join(list, ", "))
}

// checkShown wants text that a screen can show on one line.
func checkShown(p *problems, path, text string) {
	switch {
	case !utf8.ValidString(text) || strings.ContainsFunc(text, func(r rune) bool { return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' }):
		p.add(path, "unprintable", "the text has signs that cannot be shown on one line")
	case utf8.RuneCountInString(text) > maxTextRunes:
		p.add(path, "too-long", "the text has %d signs, more than %d", utf8.RuneCountInString(text), maxTextRunes)
	}
}

// knownThread reports whether text is a thread in canonical form.
func knownThread(text string) bool {
	t, err := joint.ParseThread(text)
	return err == nil && t.String() == text
}
