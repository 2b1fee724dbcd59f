package server

import (
	"fmt"
	"maps"
	"slices"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// registerFields are the fields of a register that the API calls otherwise
// than the domain does.
var registerFields = map[string]string{"proven": "proven_time", "lapses": "lapse_time"}

// skills reads a register, which may be absent, and beside it what shows each
// line. known lists the skills that there are.
func (f *fields) skills(path string, w *pb.SkillRegister, known []string) (*procedure.SkillRegister, []string) {
	if w == nil {
		return nil, nil
	}
	r := &procedure.SkillRegister{}
	var evidence []string
	before := len(f.errs)
	for i, h := range w.GetHeld() {
		at := fmt.Sprintf("%s.held[%d]", path, i)
		r.Held = append(r.Held, procedure.HeldSkill{Skill: h.GetSkill(),
			Proven: f.time(at+".proven_time", h.GetProvenTime(), true), Lapses: f.time(at+".lapse_time", h.GetLapseTime(), false)})
		f.line(at+".evidence", h.GetEvidence(), false, mostShownSigns)
		evidence = append(evidence, h.GetEvidence())
	}
	if len(f.errs) == before { // what is missing is said already
		f.take(path, repath("", registerFields, r.Check(known)))
	}
	return r, evidence
}

// skilledToProto shows a person with the register, where one is kept.
func skilledToProto(id string, version int64, p personDoc, n nameDoc) *pb.Person {
	w := personToProto(id, version, p, n)
	if p.Skills == nil {
		return w
	}
	w.Skills = &pb.SkillRegister{}
	for i, h := range p.Skills.Held {
		line := &pb.HeldSkill{Skill: h.Skill, ProvenTime: timeToProto(h.Proven), LapseTime: timeToProto(h.Lapses)}
		if i < len(n.Evidence) { // the text goes with an erased name
			line.Evidence = n.Evidence[i]
		}
		w.Skills.Held = append(w.Skills.Held, line)
	}
	return w
}

// skills lists the ids of the skills that the procedures take or build on.
func (x *procedureIndex) skills() []string {
	ids := map[string]bool{}
	for _, p := range x.byID {
		for _, s := range p.Skills {
			ids[s.ID] = true
		}
	}
	return slices.Sorted(maps.Keys(ids))
}
