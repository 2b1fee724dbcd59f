package procedure

import "fmt"

// A MaterialPair explains what two materials do to each other where they touch,
// and what goes between them. Everything in it is common practice from memory:
// the contacts of the catalogue and the maker's word come first.
type MaterialPair struct {
	// Inner and Outer are the materials. Which is which matters only to a tube in a
	// tube: a carbon post is never greased.
	Inner, Outer string
	// Suffers is the material that is eaten in the wet, "" where neither is.
	Suffers string
	// Galvanic says so in words, Galling whether they tear as they slide.
	Galvanic string
	Galls    bool
	Galling  string
	// Preps say what goes between, by the kind of joint.
	Preps  []PairPrep
	Source Source
}

// A PairPrep is what goes between two materials in one kind of joint.
type PairPrep struct {
	Joint  PairJoint
	Use    Prep
	Reason Reason
	Never  []Prep
	Why    string
}

// A PairJoint is a kind of joint.
type PairJoint string

// The kinds of joint.
const (
	ThreadJoint PairJoint = "thread"
	GripJoint   PairJoint = "clamp that holds by friction"
	TubeJoint   PairJoint = "tube in tube that stays for years"
)

// nobility is the order in sea water from active to noble. The wide gaps between
// the numbers are where it hurts. Magnesium and zinc, more active still, are not
// among the materials of a sheet. Source: from memory.
var nobility = map[string]int{
	"alloy": 1, "anodised-alloy": 1, "steel": 2, "brass": 3, "stainless": 5, "titanium": 6, "carbon": 6,
}

// PairMaterials lists the materials that ExplainPair knows, in galvanic order,
// the most active first; resin, which does not conduct, comes last.
func PairMaterials() []string {
	return []string{"alloy", "anodised-alloy", "steel", "brass", "stainless", "titanium", "carbon", "resin"}
}

// ExplainPair explains a pair of materials. A material that is not of
// PairMaterials is a FieldError with the path inner or outer.
func ExplainPair(inner, outer string) (MaterialPair, error) {
	var p problems
	checkWord(&p, "inner", "unknown-material", "material", inner, PairMaterials())
	checkWord(&p, "outer", "unknown-material", "material", outer, PairMaterials())
	if err := p.err(); err != nil {
		return MaterialPair{}, err
	}
	pair := MaterialPair{Inner: inner, Outer: outer, Source: Source{Text: CommonPractice, Confidence: FromMemory}}
	pair.galvanic()
	pair.galling()
	pair.Preps = []PairPrep{pair.thread(), pair.grip(), pair.tube()}
	return pair, nil
}

func (m MaterialPair) has(material string) bool { return m.Inner == material || m.Outer == material }

func (m MaterialPair) hasAlloy() bool { return isAlloy(m.Inner) || isAlloy(m.Outer) }

func isAlloy(material string) bool { return material == "alloy" || material == "anodised-alloy" }

// galvanic says which of the two suffers and how badly.
func (m *MaterialPair) galvanic() {
	a, b := nobility[m.Inner], nobility[m.Outer]
	gap := max(a-b, b-a)
	switch {
	case m.has("resin"):
		m.Galvanic = "Resin does not conduct: no battery, no galvanic corrosion."
		return
	case gap == 0 && m.has("carbon") && m.has("titanium"):
		m.Galvanic = "Titanium and carbon stand side by side in the row: neither suffers."
		return
	case gap == 0:
		m.Galvanic = "The same kind of material: no battery between them."
		return
	case gap == 1 && a >= nobility["stainless"] && b >= nobility["stainless"]:
		m.Galvanic = "Both are noble and near each other: little happens."
		return
	}
	m.Suffers = m.Inner
	if b < a {
		m.Suffers = m.Outer
	}
	how := "slowly, where salt water stands between them"
	if gap >= 4 {
		how = "fast, where sweat or salt water gets between them"
	}
	m.Galvanic = fmt.Sprintf("The %s is eaten, %s.", words(m.Suffers), how)
	if m.has("carbon") && m.hasAlloy() {
		m.Galvanic += " Its powder wedges the two together for good."
	}
	if m.has("anodised-alloy") {
		m.Galvanic += " The anodised layer keeps them apart while it is whole."
	}
}

// galling says whether the two tear as they slide under pressure: titanium on any
// metal, alloy on alloy, stainless on stainless.
func (m *MaterialPair) galling() {
	isMetal := isMetalPart(m.Inner) && isMetalPart(m.Outer)
	m.Galls = isMetal && (m.has("titanium") || isAlloy(m.Inner) && isAlloy(m.Outer) || m.Inner == "stainless" && m.Outer == "stainless")
	m.Galling = "They do not tear at each other as they slide."
	switch {
	case m.Galls:
		m.Galling = "They weld and tear as they slide under pressure: torque rises and no clamp comes. Turn slowly, no power driver, and back out at the first squeak."
	case !isMetal:
		m.Galling = "No pair of metals: nothing welds."
	}
}

func lockers() []Prep { return []Prep{ThreadlockerLow, ThreadlockerMedium, ThreadlockerHigh} }

func (m MaterialPair) thread() PairPrep {
	p := PairPrep{Joint: ThreadJoint, Never: []Prep{CarbonPaste}}
	switch {
	case m.has("carbon"):
		p.Use, p.Reason, p.Never = Grease, Galvanic, append(lockers(), CarbonPaste)
		p.Why = "No thread is cut in carbon: it sits in a metal insert that is bonded in. A film keeps the bolt from turning the insert out, and compound attacks the bond."
	case m.has("resin"):
		p.Use, p.Reason, p.Never = Dry, Friction, append(lockers(), CarbonPaste)
		p.Why = "Threadlocker makes some plastics crack, and nothing rusts here."
	case m.Galls:
		p.Use, p.Reason, p.Never = AntiSeize, Galling, []Prep{Dry, CarbonPaste}
		p.Why = "Only the solids of the paste keep the two apart under the pressure of a thread."
		if m.has("titanium") {
			p.Never = append(p.Never, Grease)
			p.Why += " Grease alone is squeezed out."
		}
	case m.Suffers != "":
		p.Use, p.Reason = Grease, Galvanic
		p.Why = "Grease keeps the water out that makes a battery of the two."
	default:
		p.Use, p.Reason = Grease, Corrosion
		p.Why = "A film against rust, and it comes undone again."
	}
	return p
}

func (m MaterialPair) grip() PairPrep {
	p := PairPrep{Joint: GripJoint, Use: Dry, Reason: Friction, Never: []Prep{Grease, AntiSeize, LightOil},
		Why: "Clean and dry is what grips. Grease cannot be made good by torque."}
	if m.has("carbon") {
		p.Use = CarbonPaste
		p.Why = "The grains grip at a pressure that does not crush the carbon. A steerer is the exception: dry, unless its maker allows paste."
	}
	return p
}

func (m MaterialPair) tube() PairPrep {
	switch {
	case m.Outer == "carbon" && m.Suffers != "":
		return PairPrep{TubeJoint, CarbonPaste, Galvanic, []Prep{LightOil}, "The paste keeps metal and carbon apart and holds at a torque the carbon stands; grease only where the maker of the frame asks for it on a metal post."}
	case m.has("carbon"):
		return PairPrep{TubeJoint, CarbonPaste, Friction, []Prep{Grease, AntiSeize, LightOil}, "The grains hold at a torque that the carbon stands."}
	case m.has("resin"):
		return PairPrep{TubeJoint, Dry, Friction, nil, "Nothing grows between them."}
	case m.has("titanium"):
		return PairPrep{TubeJoint, AntiSeize, Galling, []Prep{Dry, CarbonPaste}, "Titanium takes hold of what slides in it."}
	}
	return PairPrep{TubeJoint, Grease, Corrosion, []Prep{Dry, CarbonPaste}, "Oxide or rust grows between them and locks them for good: film, and move it once a year."}
}
