package joint

import "strconv"

// A Contact is the state of the faces between a clamp and the tube it holds.
type Contact uint8

const (
	// ContactUnknown is the zero value; a friction must then be given.
	ContactUnknown Contact = iota
	// CarbonDry is a fiber tube in an alloy clamp, clean and dry.
	CarbonDry
	// CarbonPaste is the same with friction paste.
	CarbonPaste
	// AlloyDry is alloy in alloy, clean and dry.
	AlloyDry
	// AlloyGreased is alloy in alloy with a film of grease.
	AlloyGreased
	contactCount
)

// contacts lists the friction of each state. The first slip of a fiber laminate
// on aluminum was measured at 0.23 (Coefficient of friction for aluminum in
// contact with a carbon fiber epoxy composite, 2004, abstract); the peak of 0.68
// after wear-in holds for no fresh joint and is not used.
var contacts = [contactCount]struct {
	name   string
	mu     Band
	source string
}{
	ContactUnknown: {name: "unknown"},
	CarbonDry:      {"carbon, dry", Band{0.15, 0.20, 0.30}, "judgment around a published first-slip value of 0.23, from memory"},
	CarbonPaste:    {"carbon, paste", Band{0.25, 0.33, 0.45}, "inferred from workshop claims of 20 % to 30 % less torque for the same hold; not measured"},
	AlloyDry:       {"alloy, dry", Band{0.15, 0.18, 0.60}, "public table of static friction for the ends; nominal from memory"},
	AlloyGreased:   {"alloy, greased", Band{0.08, 0.12, 0.16}, "friction class B of VDI 2230 applied, from memory"},
}

// String returns the state in words: "carbon, dry".
func (c Contact) String() string {
	if c < contactCount {
		return contacts[c].name
	}
	return "contact " + strconv.Itoa(int(c))
}

// Friction returns the usual friction of the state and where it is from; for an
// unknown state the zero Friction.
func (c Contact) Friction() (f Friction, source string) {
	if c >= contactCount {
		return Friction{}, ""
	}
	return Friction{contacts[c].mu}, contacts[c].source
}

// MarshalText writes the state as [Contact.String] does.
func (c Contact) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads what [Contact.MarshalText] writes; anything else gives a
// [FieldError].
func (c *Contact) UnmarshalText(text []byte) (err error) {
	names := make([]string, contactCount)
	for i := range names {
		names[i] = contacts[i].name
	}
	*c, err = oneOf[Contact](names, "contact", string(text))
	return err
}
