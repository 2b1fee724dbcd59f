package procedure

// Risk is the class of a joint or step by what its failure does. It belongs
// to the joint on this bike, not to the fastener (common practice, no
// source). The zero value is no class and is refused in a procedure.
type Risk uint8

// The classes, worst last so that they compare.
const (
	// RiskOther joints rattle or rub when they fail.
	RiskOther Risk = iota + 1
	// FunctionCritical joints stop the ride or ruin parts.
	FunctionCritical
	// SafetyCritical joints cost the rider steering, brakes, a wheel, a
	// crank, a pedal or the post.
	SafetyCritical
)

var riskNames = []string{"", "other", "function-critical", "safety-critical"}

// String returns the class in words.
func (r Risk) String() string { return enumName(riskNames, r) }

// MarshalText writes the class in words.
func (r Risk) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (r *Risk) UnmarshalText(b []byte) (err error) {
	*r, err = enumParse[Risk]("risk class", riskNames, string(b))
	return err
}
