package joint

// An Explanation marks a result that explains a joint and decides nothing. It
// has no other value: whatever is worked out from friction is too uncertain to
// set a window, a plan or a wrench, and every result of this package that rests
// on it carries one. The figure printed by the maker comes first.
type Explanation struct{}

// ExplanationText is what every [Explanation] says.
const ExplanationText = "explanation only: it sets no window, no plan and no wrench; the maker's printed figure comes first"

// String returns [ExplanationText].
func (Explanation) String() string { return ExplanationText }

// MarshalText writes [ExplanationText].
func (Explanation) MarshalText() ([]byte, error) { return []byte(ExplanationText), nil }
