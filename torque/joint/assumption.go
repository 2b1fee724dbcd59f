package joint

import "encoding/json"

// An Assumption is something a result rests on that nobody gave: a default of
// this package. Giving the input takes the assumption away.
type Assumption uint8

// What may be assumed. The text of each says the value and where it is from.
const (
	AssumedHexagonHead Assumption = iota
	AssumedMediumHole
	AssumedSameFriction
	AssumedTorqueWrenchScatter
	AssumedExactTool
	AssumedUtilization
	AssumedFit
	AssumedToleranceFormula
	AssumedBoltShear
	AssumedPartShear
	AssumedUpperStrength
	AssumedSlitEfficiency
	AssumedFaceplateEfficiency
	AssumedPressureShape
	AssumedPressurePeak
	AssumedContactState
	AssumedContactBand
	AssumedLooseShare
	AssumedTaperAngle
	AssumedTaperFlat
	AssumedTaperFriction
	AssumedLinearFlank
	AssumedLockring
	AssumedLockringSeat
	AssumedLockringFriction
	AssumedLockringSpread
	AssumedCrankSpread
	AssumedSplineCount
	AssumedSplineHeight
	AssumedSplineRadius
	AssumedSplineShare
	AssumedFaceRadius
	AssumedFaceFriction
	AssumedTwoFaces
	AssumedLikelyRange
	AssumedWidth
	AssumedCaliper
	AssumedPitchGauge
	AssumedEngagedLength
	assumptionCount
)

var assumptionTexts = [assumptionCount]struct{ id, text, source string }{
	AssumedHexagonHead:         {"hexagon-head", "the head is a hexagon with the smallest washer face", "ISO 4014"},
	AssumedMediumHole:          {"medium-hole", "the clearance hole is of the medium series", "ISO 273"},
	AssumedSameFriction:        {"same-friction", "the friction under the head is that in the thread", "common practice, no source"},
	AssumedTorqueWrenchScatter: {"torque-wrench-scatter", "one friction figure without a band: the preload scatters by ±25 %; unlubricated by ±35 %", "Machinery's Handbook, preload uncertainty of a torque wrench, as quoted"},
	AssumedExactTool:           {"exact-tool", "no deviation of the torque wrench is counted", "no deviation was given"},
	AssumedUtilization:         {"utilization", "the bolt is used to 90 % of its yield", "VDI 2230-1:2003, ν = 0.9"},
	AssumedFit:                 {"fit", "the thread fit is 6H/6g", "ISO 965-1, usual fit"},
	AssumedToleranceFormula:    {"tolerance-formula", "the thread tolerances follow the formulas; the standard lists none for this size", "ISO 965-1 formulas, from memory"},
	AssumedBoltShear:           {"bolt-shear", "the bolt shears at 0.6 of its tensile strength", "VDI 2230, ratio for steel, from memory"},
	AssumedPartShear:           {"part-shear", "the part shears at 0.6 of its tensile strength", "VDI 2230, lower ratio, from memory"},
	AssumedUpperStrength:       {"upper-strength", "a strong bolt of the class reaches 1.2 times its minimum tensile strength", "common practice, no source"},
	AssumedSlitEfficiency:      {"slit-efficiency", "85 % of the bolt force reaches the tube (70 % to 95 %)", "common practice, no source"},
	AssumedFaceplateEfficiency: {"faceplate-efficiency", "95 % of the bolt force reaches the tube (81 % to 100 %)", "common practice, no source"},
	AssumedPressureShape:       {"pressure-shape", "the pressure around the tube follows a cosine; between two lines and an even ring", "derivation: 8/π, 2 and π times the force across the tube"},
	AssumedPressurePeak:        {"pressure-peak", "at the slot and the clamp edges the pressure is two to four times the mean", "common practice, no source"},
	AssumedContactState:        {"contact-state", "the friction between clamp and tube is a usual figure for the state named", "from memory"},
	AssumedContactBand:         {"contact-band", "the friction between clamp and tube lies between 0.75 and 1.3 times the figure given", "common practice, no source"},
	AssumedLooseShare:          {"loose-share", "a loose bolt takes its share of the clamp out of work; at worst its opposite goes with it", "common practice, no source"},
	AssumedTaperAngle:          {"taper-angle", "each flat leans 2° to the axle", "common practice, no source"},
	AssumedTaperFlat:           {"taper-flat", "each flat bears over 14 mm by 11 mm", "typical value, measure before use"},
	AssumedTaperFriction:       {"taper-friction", "the friction on the flats is 0.15 (0.10 to 0.20)", "from memory"},
	AssumedLinearFlank:         {"linear-flank", "the torque loads each flat in a straight line from edge to edge", "derivation"},
	AssumedLockring:            {"lockring", "the lockring thread is M30.6x1", "from memory"},
	AssumedLockringSeat:        {"lockring-seat", "the lockring turns on a mean diameter of 34 mm", "typical value, measure before use"},
	AssumedLockringFriction:    {"lockring-friction", "the friction of the lockring is 0.15 (0.10 to 0.22)", "from memory"},
	AssumedLockringSpread:      {"lockring-spread", "the lockring torque lies within ±10 %", "common practice, no source"},
	AssumedCrankSpread:         {"crank-spread", "the crank torque lies between 0.75 and 1.3 times the figure given", "common practice, no source"},
	AssumedSplineCount:         {"spline-count", "the body has 9 splines", "typical value, measure before use"},
	AssumedSplineHeight:        {"spline-height", "each spline bears over 1.2 mm of height (0.9 mm to 1.6 mm)", "typical value, measure before use"},
	AssumedSplineRadius:        {"spline-radius", "the flanks bear at a mean radius of 16.8 mm", "typical value, measure before use"},
	AssumedSplineShare:         {"spline-share", "three quarters of the splines carry at once (half to all)", "typical value, measure before use"},
	AssumedFaceRadius:          {"face-radius", "the faces of the stack rub at a mean radius of 18.5 mm", "typical value, measure before use"},
	AssumedFaceFriction:        {"face-friction", "the friction between the faces of the stack is 0.15 (0.08 to 0.25)", "from memory"},
	AssumedTwoFaces:            {"two-faces", "both faces of the sprocket pass torque on; the optimistic end", "derivation"},
	AssumedLikelyRange:         {"likely-range", "the band holds about nine cases in ten: ranges taken as triangular, effects added in quadrature", "JCGM 100:2008, 4.3.9 and 5.1.2"},
	AssumedWidth:               {"width", "the engaged width is that of one loose sprocket, 1.6 mm", "typical value, measure before use"},
	AssumedCaliper:             {"caliper", "the diameter is measured within 0.1 mm either way", "common practice, no source"},
	AssumedPitchGauge:          {"pitch-gauge", "the pitch is measured within 0.01 mm either way", "common practice, no source"},
	AssumedEngagedLength:       {"engaged-length", "the two are screwed together 10 mm deep", "typical value, measure before use"},
}

// String returns the short name of a: "hexagon-head".
func (a Assumption) String() string {
	if a < assumptionCount {
		return assumptionTexts[a].id
	}
	return "assumption"
}

// Text returns what is assumed, in plain words with its value.
func (a Assumption) Text() string {
	if a < assumptionCount {
		return assumptionTexts[a].text
	}
	return ""
}

// Source returns where the assumption comes from.
func (a Assumption) Source() string {
	if a < assumptionCount {
		return assumptionTexts[a].source
	}
	return ""
}

// Assumptions is a set of [Assumption]; the zero value is empty.
type Assumptions uint64

// with returns the set with a in it where yes is true.
func (s Assumptions) with(a Assumption, yes bool) Assumptions {
	if yes {
		return s | 1<<a
	}
	return s
}

// Has reports whether a is in the set.
func (s Assumptions) Has(a Assumption) bool { return a < assumptionCount && s&(1<<a) != 0 }

// List returns the assumptions of the set in a fixed order.
func (s Assumptions) List() []Assumption {
	list := []Assumption{}
	for a := range assumptionCount {
		if s.Has(a) {
			list = append(list, a)
		}
	}
	return list
}

// MarshalJSON writes a list of objects with "id", "text" and "source".
func (s Assumptions) MarshalJSON() ([]byte, error) {
	type entry struct {
		ID     string `json:"id"`
		Text   string `json:"text"`
		Source string `json:"source"`
	}
	list := []entry{}
	for _, a := range s.List() {
		list = append(list, entry{a.String(), a.Text(), a.Source()})
	}
	return json.Marshal(list)
}
