package torque

import (
	"encoding/json"
	"fmt"
)

// Kind is what a marking states.
type Kind string

// The kinds of markings.
const (
	KindRange            Kind = "range"      // from a minimum to a maximum
	KindMax              Kind = "max"        // a maximum only
	KindMin              Kind = "min"        // a minimum only
	KindNominal          Kind = "nominal"    // one bare figure
	KindNominalPlusMinus Kind = "nominal_pm" // a figure with its tolerance
)

// Bounds of what is believed of a part's marking, ours by choice: anything
// beyond is taken for a misprint and refused with [ReasonOutOfRange].
const (
	MinMarking = 10 * MicronewtonMeter
	MaxMarking = 20 * KilonewtonMeter
)

// Marking is what a torque marking on a part says. Figures keep their digits
// as written, but with ASCII digits, a decimal point and no grouping; a figure
// that the kind does not have is empty. For [KindNominalPlusMinus] Min and Max
// are worked out exactly from the tolerance. The zero value is no marking.
type Marking struct {
	Kind              Kind
	Nominal, Min, Max string
	Unit              Unit
	Alternates        []Alternate // the same torque again in other units
	AsWritten         string      // the text as it was given
	Warnings          []Warning
}

// Alternate is the same torque in another unit, as in 5 Nm (44 in-lb). It has
// the same figures as its Marking has.
type Alternate struct {
	Nominal string `json:"nominal,omitempty"`
	Min     string `json:"min,omitempty"`
	Max     string `json:"max,omitempty"`
	Unit    Unit   `json:"unit"`
}

// Warning is something a person should know about how a marking was read.
type Warning string

// The warnings.
const (
	WarnKilogramAsForce Warning = "kilogram_as_force" // kg·cm, a mass, read as kgf·cm
	WarnOldUnit         Warning = "old_unit"          // kilopond, read as kilogram-force
	WarnStrictSign      Warning = "strict_sign"       // < or > read as a limit that is itself allowed
	WarnAllCapitals     Warning = "all_capitals"      // NM read as N·m because every letter is a capital
)

// Text returns the warning in a sentence for a person.
func (w Warning) Text() string {
	switch w {
	case WarnKilogramAsForce:
		return "a mass unit is written where a force is meant: read as gram-force or kilogram-force"
	case WarnOldUnit:
		return "the kilopond is an old name: read as kilogram-force"
	case WarnStrictSign:
		return "the sign is read as a limit that is itself allowed"
	case WarnAllCapitals:
		return "all letters are capitals: read as newton and meter"
	}
	return string(w)
}

// FigureWindow returns the limits as written. A bare figure on a part is also
// its maximum, so [KindNominal] gives a maximum with the same nominal value
// and no minimum.
func (m Marking) FigureWindow() FigureWindow {
	return figureWindow(m.Nominal, m.Min, m.Max, m.Unit)
}

// FigureWindow returns the limits as written, as [Marking.FigureWindow] does.
func (a Alternate) FigureWindow() FigureWindow {
	return figureWindow(a.Nominal, a.Min, a.Max, a.Unit)
}

// figureWindow takes digits of a marking, which the parser has checked. Where
// those of a Marking put together by hand fail, there is no window at all: half
// of one would be a limit lost without a word.
func figureWindow(nominal, low, high string, unit Unit) FigureWindow {
	for _, digits := range [...]string{nominal, low, high} {
		if digits != "" && checkDecimal(digits) != nil {
			return FigureWindow{}
		}
	}
	if low == "" && high == "" {
		high = nominal
	}
	figure := func(digits string) Figure {
		if digits == "" {
			return Figure{}
		}
		return Figure{digits: digits, unit: unit}
	}
	return FigureWindow{Nominal: figure(nominal), Min: figure(low), Max: figure(high)}
}

// Window returns the limits with each figure as the nearest [Torque]. A bare
// figure on a part is also its maximum: see [Marking.FigureWindow]. A marking
// put together by hand with digits that cannot be read is refused with
// [ErrNoLimit]; the zero Marking states no limit.
func (m Marking) Window() (Window, error) {
	written := m.FigureWindow()
	if written.IsZero() && m.Nominal+m.Min+m.Max != "" {
		return Window{}, fmt.Errorf("window of marking %q: %w", m.AsWritten, ErrNoLimit)
	}
	window, err := written.Window()
	if err != nil {
		return Window{}, fmt.Errorf("window of marking %q: %w", m.AsWritten, err)
	}
	return window, nil
}

// String returns the marking in one fixed form with the figures as written,
// the unit with every number as NIST SP 811 (2008) 7.7 asks: "5 N·m",
// "5 N·m to 7 N·m", "max 5 N·m", "min 5 N·m", "8 N·m ± 1 N·m", "8 N·m +2/-1
// N·m". Read again, it gives the same kind, figures and unit.
func (m Marking) String() string {
	symbol := " " + m.Unit.Symbol()
	switch m.Kind {
	case KindRange:
		return m.Min + symbol + " to " + m.Max + symbol
	case KindMax:
		return "max " + m.Max + symbol
	case KindMin:
		return "min " + m.Min + symbol
	case KindNominalPlusMinus:
		plus, minus := difference(m.Max, m.Nominal), difference(m.Nominal, m.Min)
		if plus == minus {
			return m.Nominal + symbol + " ± " + plus + symbol
		}
		return m.Nominal + symbol + " +" + plus + "/-" + minus + symbol
	case KindNominal:
	}
	return m.Nominal + symbol
}

// difference is a - b with the decimals of the finer of the two.
func difference(a, b string) string {
	result := rational(a)
	return result.Sub(result, rational(b)).FloatString(max(places(a), places(b)))
}

// MarshalJSON writes the kind, the figures ("" where there is none), the UCUM
// code of the unit, the alternates and the warnings (never null), and the text
// as written.
func (m Marking) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Kind       Kind        `json:"kind"`
		Nominal    string      `json:"nominal"`
		Min        string      `json:"min"`
		Max        string      `json:"max"`
		Unit       Unit        `json:"unit"`
		Alternates []Alternate `json:"alternates"`
		AsWritten  string      `json:"as_written"`
		Warnings   []Warning   `json:"warnings"`
	}{
		m.Kind, m.Nominal, m.Min, m.Max, m.Unit,
		append([]Alternate{}, m.Alternates...), m.AsWritten, append([]Warning{}, m.Warnings...),
	})
}

// ParseMarking reads a torque marking as it is printed on parts and in tables:
// see the package comment for what is accepted. What could mean two things, or
// would lose something if it were read, is refused; the error is always a
// [*MarkingError]. Common forms are read without allocating: the figures are
// parts of the text.
func ParseMarking(text string) (Marking, error) {
	var p parser
	if err := p.scan(text); err != nil {
		return Marking{}, err
	}
	marking, err := p.marking()
	if err != nil {
		return Marking{}, err
	}
	marking.AsWritten = text
	return marking, nil
}
