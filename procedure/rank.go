package procedure

// Rank is what a person may do at the bench (common practice, no source).
// The zero value may do nothing that is signed.
type Rank uint8

// The ranks, in rising order.
const (
	// Helper prepares parts and works under another's eyes.
	Helper Rank = iota + 1
	// Builder builds, with a second person where a hold asks for one.
	Builder
	// SeniorBuilder builds and may be the second person for another's work.
	SeniorBuilder
	// Foreman may also accept, dispose and release, never own work.
	Foreman
)

var rankNames = []string{"", "helper", "builder", "senior-builder", "foreman"}

// String returns the rank in words.
func (r Rank) String() string { return enumName(rankNames, r) }

// MarshalText writes the rank; the zero value is empty.
func (r Rank) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (r *Rank) UnmarshalText(b []byte) (err error) {
	if len(b) == 0 {
		*r = 0
		return nil
	}
	*r, err = enumParse[Rank]("rank", rankNames, string(b))
	return err
}

// MaySecond reports whether the person may sign as the second person.
func (r Rank) MaySecond() bool { return r >= SeniorBuilder }

// MayRelease reports whether the person may accept, dispose and release.
func (r Rank) MayRelease() bool { return r >= Foreman }
