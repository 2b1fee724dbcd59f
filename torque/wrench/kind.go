package wrench

// Kind says how a torque tool shows what it does. The zero value is not stated.
type Kind uint8

// The kinds, after the two types of ISO 6789-1:2017: Type I indicates, Type II
// is set and signals (catalogue text of EN ISO 6789-2:2017).
const (
	// Setting tools are set on a scale and signal when the torque is reached.
	Setting Kind = iota + 1
	// Indicating tools show the torque while they are pulled.
	Indicating
	// Fixed tools signal at one torque that cannot be set at the bench.
	Fixed
)

var kindWords = []string{"", "setting", "indicating", "fixed"}

// String returns "setting", "indicating", "fixed", or nothing.
func (k Kind) String() string { return word(kindWords, k) }

// MarshalText writes what [Kind.String] returns.
func (k Kind) MarshalText() ([]byte, error) { return wordText("kind of tool", kindWords, k) }

// UnmarshalText reads what [Kind.MarshalText] writes.
func (k *Kind) UnmarshalText(text []byte) (err error) {
	*k, err = parseWord[Kind]("kind of tool", kindWords, string(text))
	return err
}

// Allowance says whether the tool's permitted deviation comes off the window.
// The zero value is AllowTool.
type Allowance uint8

const (
	// AllowTool keeps the torque inside the window however far the tool is off
	// within its permitted deviation.
	AllowTool Allowance = iota
	// AllowNone takes the tool at its word.
	AllowNone
)

var allowanceWords = []string{"tool", "none"}

// String returns "tool" or "none".
func (a Allowance) String() string { return word(allowanceWords, a) }

// MarshalText writes what [Allowance.String] returns.
func (a Allowance) MarshalText() ([]byte, error) { return wordText("allowance", allowanceWords, a) }

// UnmarshalText reads what [Allowance.MarshalText] writes.
func (a *Allowance) UnmarshalText(text []byte) (err error) {
	*a, err = parseWord[Allowance]("allowance", allowanceWords, string(text))
	return err
}

// Side says at which end of a window something goes wrong. The zero value is
// neither.
type Side uint8

const (
	// TooLow is under the minimum.
	TooLow Side = iota + 1
	// TooHigh is over the maximum.
	TooHigh
)

var sideWords = []string{"", "too-low", "too-high"}

// String returns "too-low", "too-high", or nothing.
func (s Side) String() string { return word(sideWords, s) }

// MarshalText writes what [Side.String] returns.
func (s Side) MarshalText() ([]byte, error) { return wordText("side", sideWords, s) }

// UnmarshalText reads what [Side.MarshalText] writes.
func (s *Side) UnmarshalText(text []byte) (err error) {
	*s, err = parseWord[Side]("side", sideWords, string(text))
	return err
}
