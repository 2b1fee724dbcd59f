package main

import (
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// contactsAnswer lists places where parts meet, with the preps that can count.
type contactsAnswer []procedure.Contact

func (a contactsAnswer) object() any {
	if a == nil {
		return []procedure.Contact{}
	}
	return []procedure.Contact(a)
}

func (a contactsAnswer) words() string {
	var p page
	if len(a) == 0 {
		p.line("Nothing is listed for that.")
	}
	for _, c := range a.bothEnds() {
		p.heading("%s", capital(c.Title))
		p.row("  between", strings.Join(roles(c.Between), ", "))
		for _, use := range c.Uses {
			if len(use.When) > 0 {
				p.row("  where", use.When.Words())
			}
			p.row("  prep", use.Use.Words()+" ("+use.Reason.String()+")")
			p.row("    why", use.Why)
			p.row("    never", prepList(use.Never))
		}
		p.row("  source", c.Source.Text)
	}
	return p.String()
}

// bothEnds writes a place that is at both ends of the bicycle once, with the parts
// of both.
func (a contactsAnswer) bothEnds() []procedure.Contact {
	var out []procedure.Contact
	for _, c := range a {
		last := len(out) - 1
		isSame := last >= 0 && out[last].Title == c.Title && len(out[last].Uses) == len(c.Uses)
		if !isSame || slices.ContainsFunc(c.Uses, func(u procedure.PrepChoice) bool { return len(u.When) > 0 }) {
			out = append(out, c)
			continue
		}
		for _, role := range c.Between {
			if !slices.Contains(out[last].Between, role) {
				out[last].Between = append(slices.Clip(out[last].Between), role)
			}
		}
	}
	return out
}

func roles(list []string) []string {
	out := make([]string, 0, len(list))
	for _, role := range list {
		out = append(out, spelled(role))
	}
	return out
}

// capital begins a text with a capital.
func capital(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// prepList names preps as a mechanic does.
func prepList(list []procedure.Prep) string {
	var out []string
	for _, p := range list {
		out = append(out, p.Words())
	}
	return strings.Join(out, "; ")
}

// pairAnswer explains two materials.
type pairAnswer procedure.MaterialPair

func (a pairAnswer) object() any {
	type prep struct {
		Joint  string           `json:"joint"`
		Use    procedure.Prep   `json:"use"`
		Reason procedure.Reason `json:"reason"`
		Never  []procedure.Prep `json:"never,omitempty"`
		Why    string           `json:"why"`
	}
	out := struct {
		Inner    string           `json:"inner"`
		Outer    string           `json:"outer"`
		Suffers  string           `json:"suffers,omitempty"`
		Galvanic string           `json:"galvanic"`
		Galls    bool             `json:"galls"`
		Galling  string           `json:"galling"`
		Preps    []prep           `json:"preps"`
		Order    []string         `json:"galvanic_order"`
		Source   procedure.Source `json:"source"`
	}{a.Inner, a.Outer, a.Suffers, a.Galvanic, a.Galls, a.Galling, nil, procedure.PairMaterials(), a.Source}
	for _, x := range a.Preps {
		out.Preps = append(out.Preps, prep{string(x.Joint), x.Use, x.Reason, x.Never, x.Why})
	}
	return out
}

func (a pairAnswer) words() string {
	var p page
	p.row("pair", spelled(a.Inner)+" in "+spelled(a.Outer))
	p.row("in the wet", a.Galvanic)
	p.row("sliding", a.Galling)
	for _, x := range a.Preps {
		p.heading("%s", capital(string(x.Joint)))
		p.row("  prep", x.Use.Words()+" ("+x.Reason.String()+")")
		p.row("    why", x.Why)
		p.row("    never", prepList(x.Never))
	}
	p.line("")
	p.row("order", "from the one that is eaten to the one that is not: "+strings.Join(roles(procedure.PairMaterials()[:len(procedure.PairMaterials())-1]), ", ")+"; resin does not conduct")
	p.row("source", a.Source.Text+", from memory; what the maker prints comes first")
	return p.String()
}
