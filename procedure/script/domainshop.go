package script

import (
	"errors"
	"fmt"
	"slices"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// Change implements Bench.
func (d *Domain) Change(at Hand, c Change) error {
	switch c := c.(type) {
	case Enrol:
		d.people[c.Name] = procedure.Actor{Person: c.Name, Rank: c.Rank}
		d.ranks = append(d.ranks, audit.RankSince{Person: c.Name, Rank: c.Rank, Since: at.Now})
		return nil
	case ProveSkill:
		return d.prove(at, c)
	case AddTool:
		if err := c.Tool.Check(); err != nil {
			return err
		}
		d.tools = append(d.tools, c.Tool)
		return nil
	case CalibrateTool, QuarantineTool, ReturnTool:
		return d.changeTool(at, c)
	case AddBuild:
		s := *c.Sheet
		s.Build = c.Build
		d.sheets[c.Build] = &s
		d.builds[c.Build] = procedure.NewBuild(c.Build, d.plan)
		return nil
	case UpdateSheet:
		s := *c.Sheet
		s.Build = at.Build
		d.sheets[at.Build] = &s
		return nil
	case UseCatalogue:
		return d.useCatalogue(at, c)
	}
	return fmt.Errorf("change %T is not handled", c)
}

// prove adds a line to a register.
func (d *Domain) prove(at Hand, c ProveSkill) error {
	a, ok := d.people[c.Person]
	if !ok {
		return fmt.Errorf("person %s: %w", c.Person, procedure.ErrNotFound)
	}
	r := &procedure.SkillRegister{}
	if a.Skills != nil {
		r.Held = slices.Clone(a.Skills.Held)
	}
	r.Held = append(r.Held, c.Skill)
	if err := r.Check(d.knownSkills()); err != nil {
		return err
	}
	a.Skills = r
	d.people[c.Person] = a
	d.skills = append(d.skills, audit.SkillsSince{Person: c.Person, Skills: r, Since: at.Now})
	return nil
}

func (d *Domain) knownSkills() []string {
	var known []string
	for _, p := range d.procedures {
		for _, s := range p.Skills {
			known = append(known, s.ID)
		}
	}
	slices.Sort(known)
	return slices.Compact(known)
}

// errMayNot says that a person's rank does not allow a change of a tool.
var errMayNot = errors.New("the rank of the person does not allow it")

// changeTool changes what is known of a tool, by the ranks that the server asks
// for.
func (d *Domain) changeTool(at Hand, c Change) error {
	rank := d.people[at.Person].Rank
	switch c := c.(type) {
	case CalibrateTool:
		if !rank.MaySecond() {
			return errMayNot
		}
		return d.edit(c.Tool, func(t *procedure.Tool) error {
			t.Calibrations = append(slices.Clip(t.Calibrations), c.Calibration)
			return t.Check()
		})
	case QuarantineTool:
		return d.edit(c.Tool, func(t *procedure.Tool) error {
			if openQuarantine(t) >= 0 {
				return fmt.Errorf("tool %s is set aside already", c.Tool)
			}
			t.Quarantines = append(slices.Clip(t.Quarantines), procedure.Quarantine{From: at.Now, Reason: c.Reason})
			return nil
		})
	case ReturnTool:
		if !rank.MayRelease() {
			return errMayNot
		}
		return d.edit(c.Tool, func(t *procedure.Tool) error {
			i := openQuarantine(t)
			if i < 0 {
				return fmt.Errorf("tool %s is not set aside", c.Tool)
			}
			t.Quarantines = slices.Clone(t.Quarantines)
			t.Quarantines[i].To = at.Now
			return nil
		})
	}
	return fmt.Errorf("change %T is not one of a tool", c)
}

func openQuarantine(t *procedure.Tool) int {
	return slices.IndexFunc(t.Quarantines, func(q procedure.Quarantine) bool { return q.To.IsZero() })
}

// edit changes a tool of the rack.
func (d *Domain) edit(id string, do func(t *procedure.Tool) error) error {
	i := slices.IndexFunc(d.tools, func(t procedure.Tool) bool { return t.ID == id })
	if i < 0 {
		return fmt.Errorf("tool %s: %w", id, procedure.ErrNotFound)
	}
	t := d.tools[i]
	if err := do(&t); err != nil {
		return err
	}
	d.tools[i] = t
	return nil
}

// useCatalogue plans by a catalogue from now on.
func (d *Domain) useCatalogue(at Hand, c UseCatalogue) error {
	var all []*procedure.Resolved
	for _, id := range c.Catalogue.IDs() {
		r, err := c.Catalogue.Resolve(id)
		if err != nil {
			return err
		}
		all = append(all, r)
	}
	d.use(all, at.Now)
	return nil
}
