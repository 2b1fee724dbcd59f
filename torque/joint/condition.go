package joint

import (
	"fmt"
	"strconv"
)

// A Prep is what is on a thread when it is tightened.
type Prep uint8

const (
	// PrepUnknown is the zero value; nothing is worked out for it.
	PrepUnknown Prep = iota
	// Dry is as delivered or wiped clean, nothing added.
	Dry
	// Grease is a film of assembly grease.
	Grease
	// AntiSeize is a paste with solid lubricant.
	AntiSeize
	// Threadlocker is liquid threadlocker, still wet while tightening.
	Threadlocker
	prepCount
)

var prepNames = [prepCount]string{"unknown", "dry", "grease", "anti-seize", "threadlocker"}

// String returns the prep in a word: "anti-seize".
func (p Prep) String() string {
	if p < prepCount {
		return prepNames[p]
	}
	return "prep " + strconv.Itoa(int(p))
}

// MarshalText writes p as [Prep.String] does.
func (p Prep) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// UnmarshalText reads what [Prep.MarshalText] writes; anything else gives a
// [FieldError].
func (p *Prep) UnmarshalText(text []byte) (err error) {
	*p, err = oneOf[Prep](prepNames[:], "prep", string(text))
	return err
}

// A Surface is the material and finish of a thread.
type Surface uint8

const (
	// SurfaceUnknown is the zero value; nothing is worked out for it.
	SurfaceUnknown Surface = iota
	// PlainSteel is bare, black or phosphated.
	PlainSteel
	// ZincPlated is galvanic zinc or zinc flake.
	ZincPlated
	// StainlessSteel is austenitic.
	StainlessSteel
	// AluminumAlloy stands for aluminum and magnesium alloys.
	AluminumAlloy
	// TitaniumAlloy has no published friction classes here.
	TitaniumAlloy
	surfaceCount
)

var surfaceNames = [surfaceCount]string{
	"unknown", "plain steel", "zinc-plated steel", "stainless steel", "aluminum alloy", "titanium alloy",
}

// String returns the surface in words: "zinc-plated steel".
func (s Surface) String() string {
	if s < surfaceCount {
		return surfaceNames[s]
	}
	return "surface " + strconv.Itoa(int(s))
}

// MarshalText writes s as [Surface.String] does.
func (s Surface) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what [Surface.MarshalText] writes; anything else gives a
// [FieldError].
func (s *Surface) UnmarshalText(text []byte) (err error) {
	*s, err = oneOf[Surface](surfaceNames[:], "surface", string(text))
	return err
}

// oneOf reads one of a list of names.
func oneOf[T ~uint8](names []string, path, text string) (T, error) {
	for i, name := range names {
		if name == text {
			return T(i), nil
		}
	}
	return 0, &FieldError{path, "known", fmt.Sprintf("%q is not known; known are %q", clip(text), names)}
}

// How well a figure is known.
const (
	Published      = "published"
	CommonPractice = "common practice, no source"
	GivenByCaller  = "given"
)

// A Condition is the friction of a surface with a prep: either a coefficient µ
// or a nut factor K, never both, with how it is known.
type Condition struct {
	Prep       Prep      `json:"prep"`
	Friction   Friction  `json:"friction,omitzero"`
	NutFactor  NutFactor `json:"nut_factor,omitzero"`
	Confidence string    `json:"confidence"`
	Source     string    `json:"source"`
}

// ConditionsOf returns what is known of the friction of a surface with a prep:
// the published band of µ, the workshop's K, or both, µ first. Where neither is
// known, and where the pair galls so that no figure holds, it gives
// [ErrUnknownFriction] with the reason.
func ConditionsOf(surface Surface, prep Prep) ([]Condition, error) {
	if why := refusal(surface, prep); why != "" {
		return nil, fmt.Errorf("%w: %s, %s: %s", ErrUnknownFriction, surface, prep, why)
	}
	var list []Condition
	for _, row := range &conditions {
		if row.surface == surface && row.prep == prep {
			list = append(list, row.condition())
		}
	}
	if len(list) == 0 {
		return nil, fmt.Errorf("%w: %s, %s: no figure is published or in use", ErrUnknownFriction, surface, prep)
	}
	return list, nil
}

// refusal says why a pair has no figure that could be used.
func refusal(surface Surface, prep Prep) string {
	if prep != Dry {
		return ""
	}
	switch surface {
	case StainlessSteel, AluminumAlloy:
		return "at least 0.30 with no upper end, and it galls (VDI 2230 table A5, class E)"
	case TitaniumAlloy:
		return "titanium seizes dry, and no figure is published"
	default:
		return ""
	}
}
