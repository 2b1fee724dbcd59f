package audit

import (
	"errors"
	"fmt"
	"time"

	"github.com/tightwright/tightwright/procedure"
)

// A View is what the auditor knows and the bench did not, or not yet. The zero
// View knows no tool and no rank.
type View struct {
	// At is the time of the audit. Calibrations made later are not known yet.
	// The zero value knows everything the view holds.
	At time.Time
	// Tools are the torque tools with what is known of them now.
	Tools []procedure.Tool
	// Ranks says who was what and from when on, where that is known. For a
	// time before a person's first line, the rank that the record says counts.
	Ranks []RankSince
	// Skills says what was in whose register and from when on, in the order of
	// time, where the shop keeps one. For a time before a person's first line
	// there was none, and nothing is asked.
	Skills []SkillsSince
	// Editions says which revision of a procedure was in force from when on.
	// Where it does not say, nothing is asked.
	Editions []EditionSince
}

// SkillsSince is the register of a person as it stood from a time on, until the
// next one.
type SkillsSince struct {
	Person string `json:"person"`
	// Skills is nil from the time on at which the register was given up.
	Skills *procedure.SkillRegister `json:"skills"`
	Since  time.Time                `json:"since"`
}

// RankSince is the rank of a person from a time on, until the next one.
type RankSince struct {
	Person string         `json:"person"`
	Rank   procedure.Rank `json:"rank"`
	Since  time.Time      `json:"since"`
}

// check reports every tool and rank that cannot be used, by field.
func (v *View) check() error {
	var errs []error
	seen := map[string]bool{}
	for i := range v.Tools {
		for _, fe := range procedure.FieldErrors(v.Tools[i].Check()) {
			c := *fe
			c.Path = fmt.Sprintf("tools[%d].%s", i, fe.Path)
			errs = append(errs, &c)
		}
		if seen[v.Tools[i].ID] {
			errs = append(errs, &procedure.FieldError{Path: fmt.Sprintf("tools[%d].id", i), Rule: "duplicate-id",
				Text: fmt.Sprintf("the tool %q is listed twice: keep one", v.Tools[i].ID)})
		}
		seen[v.Tools[i].ID] = true
	}
	for i, r := range v.Ranks {
		if r.Person == "" {
			errs = append(errs, &procedure.FieldError{Path: fmt.Sprintf("ranks[%d].person", i), Rule: "missing",
				Text: "say whose rank it is"})
		}
	}
	for i, s := range v.Skills {
		if s.Person == "" {
			errs = append(errs, &procedure.FieldError{Path: fmt.Sprintf("skills[%d].person", i), Rule: "missing",
				Text: "say whose register it is"})
		}
	}
	for i, e := range v.Editions {
		if e.Procedure == "" || e.Revision == "" {
			errs = append(errs, &procedure.FieldError{Path: fmt.Sprintf("editions[%d]", i), Rule: "missing",
				Text: "say which procedure and which revision"})
		}
	}
	return errors.Join(errs...)
}

// tools returns the tools by id as they were known at the time of the audit.
func (v *View) tools() map[string]*procedure.Tool {
	out := make(map[string]*procedure.Tool, len(v.Tools))
	for i := range v.Tools {
		t := v.Tools[i]
		if !v.At.IsZero() {
			t.Calibrations = known(t.Calibrations, v.At)
		}
		out[t.ID] = &t
	}
	return out
}

// known leaves out calibrations that had not been made yet.
func known(all []procedure.Calibration, at time.Time) []procedure.Calibration {
	var out []procedure.Calibration
	for _, c := range all {
		if !c.At.After(at) {
			out = append(out, c)
		}
	}
	return out
}

// rankAt returns the rank a person had at a time; false when the view does not
// say.
func (v *View) rankAt(person string, at time.Time) (procedure.Rank, bool) {
	var found RankSince
	ok := false
	for _, r := range v.Ranks {
		if r.Person == person && !r.Since.After(at) && (!ok || r.Since.After(found.Since)) {
			found, ok = r, true
		}
	}
	return found.Rank, ok
}
