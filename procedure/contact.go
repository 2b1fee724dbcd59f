package procedure

import (
	"fmt"
	"slices"
	"strings"
)

// A Contact is a pair of surfaces that meet on the bike, with what goes
// between them by what they are made of. Steps name contacts, so that the
// reason for a prep stands in one place.
type Contact struct {
	ID string `json:"id" yaml:"id"`
	// Places, where the contact is at more than one (see Definition.Places).
	Places []string `json:"places,omitempty" yaml:"places"`
	Title  string   `json:"title" yaml:"title"`
	// Between names the roles of the parts that meet.
	Between []string `json:"between" yaml:"between"`
	// Uses are the preps; the first whose condition holds counts.
	Uses   []PrepChoice `json:"uses" yaml:"uses"`
	Source Source       `json:"source" yaml:"source"`
}

// Reason says what a prep is against, or for.
type Reason uint8

// The reasons.
const (
	// Galvanic: two unlike metals, or metal and carbon, corrode where wet.
	Galvanic Reason = iota + 1
	// Galling: soft metals weld and tear as they slide under pressure.
	Galling
	// Friction: the faces have to grip, or to turn freely.
	Friction
	// Corrosion: the surface rusts or seizes by itself.
	Corrosion
	// Locking: the thread must not shake loose.
	Locking
)

var reasonNames = []string{"", "galvanic", "galling", "friction", "corrosion", "locking"}

// String returns the reason in a word.
func (r Reason) String() string { return enumName(reasonNames, r) }

// MarshalText writes the reason; the zero value is empty.
func (r Reason) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (r *Reason) UnmarshalText(b []byte) (err error) {
	if len(b) == 0 {
		*r = 0
		return nil
	}
	*r, err = enumParse[Reason]("reason", reasonNames, string(b))
	return err
}

// ReadContacts reads a list of contacts, as strictly as ReadDefinition.
func ReadContacts(file string, data []byte) ([]Contact, error) {
	var list []Contact
	if err := readFile(file, data, &list, func() error { return nil }); err != nil {
		return nil, err
	}
	return list, nil
}

// CheckContacts looks for what is wrong with a list of contacts: ids twice,
// parts and attributes that the vocabulary does not know, a use that forbids
// itself or that never counts.
func CheckContacts(list []Contact, vocab *Vocabulary) error {
	c := &checker{References: &References{vocab: vocab}, def: &Definition{Roles: vocab.roleNames()}}
	seen := map[string]bool{}
	for i := range list {
		contact, path := &list[i], fmt.Sprintf("[%d]", i)
		c.id(path+".id", contact.ID)
		if seen[contact.ID] {
			c.add(path+".id", "duplicate-id", "the contact %q stands here twice", contact.ID)
		}
		seen[contact.ID] = true
		c.text(path+".title", contact.Title, maxTitle)
		c.roles(path+".between", contact.Between, vocab.roleNames())
		if len(contact.Between) == 0 {
			c.add(path+".between", "missing", "name the parts that meet here")
		}
		c.uses(path+".uses", contact.Uses)
		c.source(path+".source", &contact.Source)
	}
	return c.err()
}

// uses checks the preps of a contact.
func (c *checker) uses(path string, uses []PrepChoice) {
	if len(uses) == 0 {
		c.add(path, "missing", "say what goes between the parts")
	}
	var conditions []Condition
	for j := range uses {
		use, at := &uses[j], fmt.Sprintf("%s[%d]", path, j)
		conditions = append(conditions, use.When)
		c.condition(at+".when", use.When)
		if use.Use == 0 {
			c.add(at+".use", "missing", "say what goes on: %s", strings.Join(prepNames[1:], ", "))
		}
		if use.Reason == 0 {
			c.add(at+".reason", "missing", "say what the prep is for: %s", strings.Join(reasonNames[1:], ", "))
		}
		if slices.Contains(use.Never, use.Use) {
			c.add(at+".never", "contradiction", "%s is what goes on here, and what must never", use.Use)
		}
		c.text(at+".why", use.Why, maxSentence)
	}
	c.reachable(path, nil, conditions)
}

// TakeContacts completes the prep of steps that name a contact from a list.
// A name that the list does not have, and a surface that has both a contact
// and choices of its own, are reported.
func (d *Definition) TakeContacts(list []Contact) error {
	var p problems
	byID := map[string]*Contact{}
	for i := range list {
		byID[list[i].ID] = &list[i]
	}
	for i := range d.Steps {
		if rule := d.Steps[i].Prep; rule != nil {
			path := fmt.Sprintf("steps[%d].prep", i)
			p.takeContact(path+".thread_at", rule.ThreadAt, &rule.Thread, byID)
			p.takeContact(path+".face_at", rule.FaceAt, &rule.Face, byID)
		}
	}
	return p.err()
}

func (p *problems) takeContact(path, id string, choices *[]PrepChoice, byID map[string]*Contact) {
	if id == "" {
		return
	}
	contact, known := byID[id]
	switch {
	case !known:
		p.add(path, "unknown-contact", "there is no contact %q%s", id, meant(id, keysOf(byID)))
	case len(*choices) > 0:
		p.add(path, "both", "name the contact or write the choices out, not both")
	default:
		*choices = slices.Clone(contact.Uses)
	}
}
