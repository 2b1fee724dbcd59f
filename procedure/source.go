package procedure

// Confidence says how far a figure can be leaned on.
type Confidence uint8

// The degrees of confidence, weakest first.
const (
	// FromMemory figures are common practice that nobody has looked up. They
	// never release a safety-critical joint by themselves.
	FromMemory Confidence = iota + 1
	// Documented figures were read in a published document that is named.
	Documented
	// Manual figures were read in the part's own manual for this build.
	Manual
	// Printed figures were read off the part itself.
	Printed
)

var confidenceNames = []string{"", "from-memory", "documented", "manual", "printed"}

// String returns the degree in words.
func (c Confidence) String() string { return enumName(confidenceNames, c) }

// MarshalText writes the degree in words; the zero value is empty.
func (c Confidence) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (c *Confidence) UnmarshalText(b []byte) (err error) {
	if len(b) == 0 {
		*c = 0
		return nil
	}
	*c, err = enumParse[Confidence]("confidence", confidenceNames, string(b))
	return err
}

// A Source says where a figure or a rule comes from.
type Source struct {
	// Text names the document, edition and place, or says
	// "common practice, no source".
	Text string `json:"text" yaml:"text"`
	// Confidence says how far it can be leaned on.
	Confidence Confidence `json:"confidence" yaml:"confidence"`
}

// CommonPractice is the source of what every careful shop does and nobody
// has written down where we could read it.
const CommonPractice = "common practice, no source"
