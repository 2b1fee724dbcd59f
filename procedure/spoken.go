package procedure

import "strings"

// ItemWords names an item of a step as a person says it: "bolt A", "the prep",
// and for a check its question, as in `the check "Does it spin freely?"`. A check
// that the step does not know is named by its id.
func (p *PlannedStep) ItemWords(item string) string {
	kind, name, _ := strings.Cut(item, ".")
	switch kind {
	case "bolt":
		return "bolt " + name
	case "check":
		for i := range p.Checks {
			if p.Checks[i].ID == name {
				return `the check "` + p.Checks[i].Ask + `"`
			}
		}
		return `the check "` + strings.ReplaceAll(name, "-", " ") + `"`
	}
	return "the prep"
}

// unitForms are the units of measures as they are spoken of one and of several.
var unitForms = map[string][2]string{
	"turns": {"turn", "turns"}, "teeth": {"tooth", "teeth"}, "deg": {"degree", "degrees"},
	"degC": {"°C", "°C"}, "percent": {"%", "%"}, "count": {"", ""},
}

// UnitWords writes the unit of a measure for a person, as it goes with several:
// "turns", "°C"; a count has none.
func UnitWords(unit string) string {
	if forms, ok := unitForms[unit]; ok {
		return forms[1]
	}
	return unit
}

// MeasureWords writes a measured value with its unit for a person: "1 turn",
// "1.5 turns", "20 °C", "3" of a count.
func MeasureWords(value, unit string) string {
	forms, ok := unitForms[unit]
	switch {
	case !ok:
		return value + " " + unit
	case value == "1":
		return strings.TrimSpace(value + " " + forms[0])
	}
	return strings.TrimSpace(value + " " + forms[1])
}

// LimitWords says the limits of a measure as a sentence: "At least 1 turn.",
// "2 mm to 3 mm.", and nothing where there is none.
func LimitWords(low, high, unit string) string {
	switch {
	case low == "" && high == "":
		return ""
	case low == "":
		return "At most " + MeasureWords(high, unit) + "."
	case high == "":
		return "At least " + MeasureWords(low, unit) + "."
	}
	return MeasureWords(low, unit) + " to " + MeasureWords(high, unit) + "."
}
