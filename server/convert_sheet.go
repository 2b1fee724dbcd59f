package server

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure"
	pb "github.com/tightwright/tightwright/proto/tightwright/v1"
)

// sheetFields are the fields of a sheet that the API calls otherwise than the
// domain does.
var sheetFields = map[string]string{"is": "attributes", "paste_less": "paste_less_percent"}

// sheetFromProto reads the field sheet, checks it against the vocabulary and
// brings it to canonical text. build may be empty.
func (f *fields) sheetFromProto(build string, w *pb.Sheet, v *procedure.Vocabulary) *procedure.Sheet {
	const path = "sheet"
	if w == nil {
		f.add(path, "missing", "this field is required")
		return nil
	}
	before := len(f.errs)
	s := &procedure.Sheet{Build: build, Label: w.GetLabel(), Invented: w.GetInvented()}
	for i, p := range w.GetParts() {
		s.Parts = append(s.Parts, f.partFromProto(fmt.Sprintf("%s[%d]", joinPath(path, "parts"), i), p))
	}
	if len(f.errs) > before {
		return nil
	}
	if err := s.Normalize(v); err != nil {
		f.take(path, repath("", sheetFields, err))
		return nil
	}
	return s
}

func (f *fields) partFromProto(path string, w *pb.Part) procedure.Part {
	p := procedure.Part{Role: w.GetRole(), Material: w.GetMaterial()}
	if len(w.GetAttributes()) > 0 {
		p.Is = make(map[string]string, len(w.GetAttributes()))
		for name, value := range w.GetAttributes() {
			p.Is[name] = value
		}
	}
	for i, x := range w.GetPrinted() {
		at := fmt.Sprintf("%s[%d]", joinPath(path, "printed"), i)
		p.Printed = append(p.Printed, procedure.PrintedFigure{
			Joint: x.GetJoint(), Marking: x.GetMarking(), Seen: f.confidence(joinPath(at, "seen"), x.GetSeen()), Where: x.GetWhere(),
			PasteLess: int(x.GetPasteLessPercent())})
	}
	return p
}

func sheetToProto(s *procedure.Sheet) *pb.Sheet {
	return &pb.Sheet{Label: s.Label, Invented: s.Invented, Parts: each(s.Parts, partToProto)}
}

func partToProto(p procedure.Part) *pb.Part {
	return &pb.Part{Role: p.Role, Material: p.Material, Attributes: p.Is,
		Printed: each(p.Printed, func(x procedure.PrintedFigure) *pb.PrintedFigure {
			return &pb.PrintedFigure{Joint: x.Joint, Marking: x.Marking, Seen: confidenceToProto(x.Seen), Where: x.Where, PasteLessPercent: int32(x.PasteLess)}
		})}
}
