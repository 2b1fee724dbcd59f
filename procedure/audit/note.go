package audit

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure"
)

// windows notes the windows from memory that a foreman answered for.
func (x *examiner) windows() {
	for _, s := range x.job.Steps {
		t := s.Planned.Torque
		if t == nil || t.AcceptedBy == "" {
			continue
		}
		f := Finding{Rule: RuleFromMemory, Sure: Certain, Status: Open, Note: true,
			Text: fmt.Sprintf("nobody printed a window for %s; %v is from memory and %s answers for it", t.Title, t.Window, t.AcceptedBy),
			Mend: "enter the maker's figure when the part or its manual is at hand"}
		for _, e := range x.figures {
			if p, ok := e.Payload.(procedure.FigureAccepted); ok && p.Joint == t.Joint {
				f.Entries = append(f.Entries, ref(e.Envelope))
			}
		}
		x.add(f, s)
	}
}
