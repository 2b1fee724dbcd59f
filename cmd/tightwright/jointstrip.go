package main

import (
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// stripFlags has the flags of the inputs of an engaged thread that are called
// otherwise.
var stripFlags = map[string]string{
	"engagement_mm": "engagement", "part_tensile_megapascals": "part-strength",
	"bolt_tensile_megapascals": "class", "limits": "fit", "diameter_mm": "thread",
}

// engaged reads the thread that a bolt is screwed into, nil where none is given.
func (r *reading) engaged(b joint.Bolt) *joint.Engaged {
	if !r.has("engagement") && !r.has("part-strength") && !r.has("fit") {
		return nil
	}
	r.require("engagement", "part-strength")
	if b.Class.IsZero() && !r.has("class") && !r.faults.has("class") {
		r.faults.add("class", torque.ReasonMissingValue, "without a strength class nothing is known of the thread of the bolt")
	}
	return &joint.Engaged{
		Thread: b.Thread, Class: b.Class, EngagedMM: r.positive("engagement"), PartTensileMPa: r.positive("part-strength"),
		Fit: word[joint.Fit](r, "fit", "6H/6g", "6H/4g6g", "2B/2A", "3B/3A"),
	}
}

// strip works out how the engaged thread gives way under the preload.
func (r *reading) strip(e *joint.Engaged, preload joint.Band) *joint.Stripping {
	if e == nil || preload.IsZero() {
		return nil
	}
	e.PreloadNewtons = preload
	out, err := e.Strip()
	r.faults.take(err, stripFlags)
	return &out
}

// stripRows writes how the engaged thread gives way, without what it assumes.
func (p *page) stripRows(s *joint.Stripping) {
	if s == nil {
		return
	}
	p.row("thread holds", plainForce(s.InnerStripNewtons)+" in the part, "+plainForce(s.OuterStripNewtons)+
		" on the bolt; the preload is "+banded(s.PreloadShare.Times(100), "%")+" of the weaker")
	enough := "; with " + rounded(s.NeededMM, 3) + " mm of thread in mesh or more a strong bolt breaks before it, at "
	if s.GivesWay == joint.BoltBreaks {
		enough = "; " + rounded(s.NeededMM, 3) + " mm of thread in mesh are enough for that; a strong bolt breaks at "
	}
	p.row("overtightened", s.GivesWay+" first"+enough+plainForce(s.BoltBreakNewtons))
}
