package main

import (
	"strconv"

	"github.com/tightwright/tightwright/torque/joint"
)

// threadAnswer is the answer of thread for one that was named.
type threadAnswer struct {
	Thread           joint.Thread `json:"thread"`
	Hand             joint.Hand   `json:"hand"`
	DiameterMM       float64      `json:"diameter_mm"`
	PitchMM          float64      `json:"pitch_mm"`
	PitchExact       string       `json:"pitch_exact_mm"`
	TurnsPerInch     int          `json:"turns_per_inch,omitempty"`
	PitchDiameterMM  float64      `json:"pitch_diameter_mm"`
	BoltMinorMM      float64      `json:"bolt_minor_diameter_mm"`
	NutMinorMM       float64      `json:"nut_minor_diameter_mm"`
	StressAreaMM2    float64      `json:"stress_area_mm2"`
	UnifiedStressMM2 float64      `json:"unified_stress_area_mm2,omitempty"`
	Uses             []threadUse  `json:"uses"`
}

type threadUse struct {
	Use    string `json:"use"`
	Source string `json:"source"`
}

func newThreadAnswer(t joint.Thread) threadAnswer {
	p := t.BasicProfile()
	out := threadAnswer{
		Thread: t, Hand: t.Hand(), DiameterMM: t.Diameter().Float64(),
		PitchMM: t.Pitch().Float64(), PitchExact: t.Pitch().String(), TurnsPerInch: t.TurnsPerInch(),
		PitchDiameterMM: p.PitchDiameterMM, BoltMinorMM: p.MinorDiameterMM, NutMinorMM: p.InnerMinorDiameterMM,
		StressAreaMM2: p.StressAreaMM2, Uses: []threadUse{},
	}
	if out.TurnsPerInch > 0 {
		out.UnifiedStressMM2 = t.UnifiedStressAreaMM2()
	}
	for _, k := range joint.KnownThreads() {
		if k.Thread == t {
			out.Uses = append(out.Uses, threadUse{k.Use, k.Source})
		}
	}
	return out
}

func (a threadAnswer) object() any { return a }

func (a threadAnswer) words() string {
	var p page
	p.row("thread", a.Thread.String())
	p.row("hand", a.Hand.String()+map[joint.Hand]string{
		joint.RightHand: ": it tightens clockwise", joint.LeftHand: ": it tightens counterclockwise"}[a.Hand])
	p.row("diameter", a.Thread.Diameter().String()+" mm (d, over the crests of the bolt)")
	p.row("pitch", a.pitch())
	p.row("pitch diameter", rounded(a.PitchDiameterMM, 6)+" mm (d2)")
	p.row("core", rounded(a.BoltMinorMM, 6)+" mm in the bolt (d3), "+rounded(a.NutMinorMM, 6)+" mm in the nut (D1)")
	p.row("stress area", rounded(a.StressAreaMM2, 4)+" mm² (ISO 898-1)")
	if a.UnifiedStressMM2 > 0 {
		p.row("", "unified threads: "+rounded(a.UnifiedStressMM2, 4)+" mm² (ASME B1.1); use the one that the strength table belongs to")
	}
	p.row("profile", "60°, ISO 68-1, without tolerances; a part measures a little less over its crests, a nut a little more in its bore")
	name := "in use for"
	for _, u := range a.Uses {
		p.row(name, u.Use+" ("+u.Source+")")
		name = ""
	}
	return p.String()
}

// pitch writes the pitch exactly, and as a decimal where that is another.
func (a threadAnswer) pitch() string {
	text := a.PitchExact + " mm"
	if decimal := rounded(a.PitchMM, 6); decimal != a.PitchExact {
		text = decimal + " mm, exactly " + text
	}
	if a.TurnsPerInch > 0 {
		text += ", " + strconv.Itoa(a.TurnsPerInch) + " turns in an inch"
	}
	return text
}

// lookAlikeAnswer is the answer of thread for one that was measured.
type lookAlikeAnswer struct{ joint.LookAlikeAnswer }

// threadLikeness is a thread of the list beside the part.
type threadLikeness struct {
	Thread            joint.Thread `json:"thread"`
	Match             string       `json:"match"`
	Use               string       `json:"use"`
	Source            string       `json:"source"`
	PitchDifferenceMM float64      `json:"pitch_difference_mm"`
	AccumulatedMM     float64      `json:"accumulated_mm"`
	FlankShare        float64      `json:"flank_share"`
	Why               string       `json:"why"`
}

func likenesses(list []joint.Likeness) []threadLikeness {
	out := []threadLikeness{}
	for _, l := range list {
		out = append(out, threadLikeness{
			Thread: l.Known.Thread, Match: l.Match.String(), Use: l.Known.Use, Source: l.Known.Source,
			PitchDifferenceMM: l.Mating.PitchDifferenceMM, AccumulatedMM: l.Mating.AccumulatedMM,
			FlankShare: l.Mating.FlankShare, Why: l.Why,
		})
	}
	return out
}

func (a lookAlikeAnswer) kind() string {
	return map[bool]string{false: "outer", true: "inner"}[a.Measured.IsInner]
}

func (a lookAlikeAnswer) object() any {
	m := a.Measured
	return struct {
		DiameterMM      float64           `json:"diameter_mm"`
		DiameterErrorMM float64           `json:"diameter_error_mm"`
		PitchMM         float64           `json:"pitch_mm"`
		PitchErrorMM    float64           `json:"pitch_error_mm"`
		EngagedMM       float64           `json:"engaged_mm"`
		Hand            joint.Hand        `json:"hand"`
		Kind            string            `json:"kind"`
		MayBe           []threadLikeness  `json:"may_be"`
		Wrecks          []threadLikeness  `json:"wrecks"`
		Assumptions     joint.Assumptions `json:"assumptions"`
	}{m.DiameterMM, m.DiameterErrorMM, m.PitchMM, m.PitchErrorMM, a.EngagedMM, m.Hand, a.kind(),
		likenesses(a.MayBe), likenesses(a.Wrecks), a.Assumptions}
}

func (a lookAlikeAnswer) words() string {
	var p page
	m := a.Measured
	p.row("measured", m.Hand.String()+" "+a.kind()+" thread, "+withError(m.DiameterMM, m.DiameterErrorMM)+
		map[bool]string{false: " over the crests", true: " in the bore"}[m.IsInner]+", pitch "+withError(m.PitchMM, m.PitchErrorMM))
	name := "may be"
	for _, l := range a.MayBe {
		p.row(name, l.Known.Thread.String()+": "+l.Known.Use+" ("+l.Known.Source+")")
		name = ""
	}
	if !a.isOneThread() {
		p.row("", "these are not the same thread and must not be screwed together: measure the pitch more closely, or count the turns in an inch")
	}
	if len(a.MayBe) == 0 {
		p.row(name, "no thread in use on bicycles that is listed here: measure again, and name it by its pitch before anything is screwed together")
	}
	name = "never with"
	for _, l := range a.Wrecks {
		p.row(name, l.Why+" ("+l.Known.Use+")")
		name = ""
	}
	p.row("engaged", rounded(a.EngagedMM, 4)+" mm")
	p.assumed(a.Assumptions)
	return p.String()
}

// isOneThread reports whether all threads that it may be go together.
func (a lookAlikeAnswer) isOneThread() bool {
	for _, l := range a.MayBe {
		if joint.Mate(l.Known.Thread, a.MayBe[0].Known.Thread, a.EngagedMM).Match != joint.Matches {
			return false
		}
	}
	return true
}

func withError(mm, off float64) string {
	text := rounded(mm, 6) + " mm"
	if off > 0 {
		text += " ± " + rounded(off, 3) + " mm"
	}
	return text
}
