package procedure

import (
	"strings"

	"github.com/tightwright/tightwright/torque"
)

// A Sheet lists the parts of one bike: interfaces by dimension, materials,
// and the torque that each part prints. It is what the mechanic found on the
// bike, not what the box said.
type Sheet struct {
	// Build names the bike's build; set by the server, free in a file.
	Build string `json:"build" yaml:"build"`
	// Label is what the shop calls the bike, such as the job card's number.
	Label string `json:"label,omitempty" yaml:"label"`
	// Invented marks demonstration data.
	Invented bool   `json:"invented,omitempty" yaml:"invented"`
	Parts    []Part `json:"parts" yaml:"parts"`
}

// A Part is one part on the sheet.
type Part struct {
	// Role is its place on the bike, a word of the parts vocabulary such as
	// freehub-body; one part a role.
	Role string `json:"role" yaml:"role"`
	// Material is what its own surface in the joint is made of.
	Material string `json:"material" yaml:"material"`
	// Is holds its attributes as the vocabulary names them: dimensions with
	// unit ("36.75 mm"), threads ("1.37 in x 24 tpi LH"), choices, counts.
	Is map[string]string `json:"is,omitempty" yaml:"is"`
	// Printed lists the torque figures on the part or in its manual.
	Printed []PrintedFigure `json:"printed,omitempty" yaml:"printed"`
}

// A PrintedFigure is a torque a maker states for one joint of a part.
type PrintedFigure struct {
	// Joint is the row of the joint table that the figure is for.
	Joint string `json:"joint" yaml:"joint"`
	// Marking is the text as printed. A bare figure is also the maximum.
	Marking string `json:"marking" yaml:"marking"`
	// Seen says whether it was printed on the part or stood in its manual.
	Seen Confidence `json:"seen" yaml:"seen"`
	// Where says where it was read, such as "inside of the left arm".
	Where string `json:"where" yaml:"where"`
	// PasteLess is by how much less the maker allows it to be tightened with
	// carbon paste on the contact face, in whole percent from 1 to 30, read at
	// the same place as the figure. 0: the maker says nothing of it, and then
	// nothing is lowered.
	PasteLess int `json:"paste_less,omitempty" yaml:"paste_less"`
}

// Part returns the part in a role, or false.
func (s *Sheet) Part(role string) (*Part, bool) {
	for i := range s.Parts {
		if s.Parts[i].Role == role {
			return &s.Parts[i], true
		}
	}
	return nil, false
}

// Attribute returns the value of "role.attribute"; "role.material" is the
// material. It reports false when the sheet does not say.
func (s *Sheet) Attribute(key string) (string, bool) {
	role, name, ok := cutLast(key)
	if !ok {
		return "", false
	}
	p, ok := s.Part(role)
	if !ok {
		return "", false
	}
	if name == "material" {
		return p.Material, p.Material != ""
	}
	v, ok := p.Is[name]
	return v, ok && v != ""
}

// cutLast cuts at the last dot.
func cutLast(s string) (before, after string, found bool) {
	i := strings.LastIndexByte(s, '.')
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+1:], true
}

// window reads the marking as limits. A bare figure is also the maximum.
func (f PrintedFigure) window() (torque.Window, error) {
	m, err := torque.ParseMarking(f.Marking)
	if err != nil {
		return torque.Window{}, err
	}
	w, err := m.Window()
	if err != nil {
		return torque.Window{}, err
	}
	if _, hasMax := w.Max(); hasMax {
		return w, nil
	}
	if nominal, ok := w.Nominal(); ok {
		return torque.AtMost(nominal)
	}
	return w, nil
}
