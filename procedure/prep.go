package procedure

// Prep is what goes on a thread or on a contact face before a joint is
// tightened. It is part of the torque figure: the same torque on a greased
// thread gives about a third more clamp than on a dry one (from memory), so
// a joint prepared otherwise than planned is not the joint the window is for.
//
// The zero value means that the procedure says nothing about this surface.
type Prep uint8

// The kinds of prep.
const (
	// Dry is clean and free of grease, on purpose.
	Dry Prep = iota + 1
	// Grease is a thin film of assembly grease.
	Grease
	// AntiSeize is a paste with solid lubricant, for pairs that gall.
	AntiSeize
	// LightOil is a drop of thin oil.
	LightOil
	// ThreadlockerLow, ThreadlockerMedium and ThreadlockerHigh are liquid
	// threadlockers by strength; colours differ by supplier and are not used.
	ThreadlockerLow
	ThreadlockerMedium
	ThreadlockerHigh
	// PreApplied is the compound a new fastener arrives with.
	PreApplied
	// CarbonPaste raises friction between clamped faces; never on a thread.
	CarbonPaste
)

var prepNames = []string{"", "dry", "grease", "anti-seize", "light-oil",
	"threadlocker-low", "threadlocker-medium", "threadlocker-high", "pre-applied", "carbon-paste"}

var prepWords = []string{"", "clean and dry", "grease", "anti-seize", "light oil",
	"threadlocker, low strength", "threadlocker, medium strength", "threadlocker, high strength",
	"compound already on the thread", "carbon paste"}

// String returns the kind as written in a procedure.
func (p Prep) String() string { return enumName(prepNames, p) }

// Words returns the kind as shown to a mechanic.
func (p Prep) Words() string { return enumName(prepWords, p) }

// IsThreadlocker reports whether the compound cures and so needs a wait.
func (p Prep) IsThreadlocker() bool { return p >= ThreadlockerLow && p <= PreApplied }

// MarshalText writes the kind; the zero value is empty.
func (p Prep) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (p *Prep) UnmarshalText(b []byte) (err error) {
	if len(b) == 0 {
		*p = 0
		return nil
	}
	*p, err = enumParse[Prep]("prep", prepNames, string(b))
	return err
}
