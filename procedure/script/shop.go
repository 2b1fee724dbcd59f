package script

import (
	"fmt"
	"io/fs"
	"strings"
	"time"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/torque/joint"
)

// change tells the bench of a change, which takes as long as an entry does.
func (p *Player) change(c Change) ([]string, error) {
	err := p.bench.Change(p.here(), c)
	p.hand.Now = p.hand.Now.Add(p.pace)
	return nil, err
}

func (p *Player) enrol(a []string) ([]string, error) {
	var rank procedure.Rank
	if err := rank.UnmarshalText([]byte(a[1])); err != nil {
		return nil, err
	}
	if p.hand.Person == "" {
		p.hand.Person = a[0]
	}
	return nil, p.bench.Change(p.here(), Enrol{Name: a[0], Rank: rank})
}

func (p *Player) skill(a []string) ([]string, error) {
	h := procedure.HeldSkill{Skill: a[1]}
	var err error
	if h.Proven, err = time.Parse(time.DateOnly, a[2]); err != nil {
		return nil, err
	}
	if len(a) == 4 {
		if h.Lapses, err = time.Parse(time.DateOnly, a[3]); err != nil {
			return nil, err
		}
	}
	return p.change(ProveSkill{Person: a[0], Skill: h})
}

func (p *Player) tools(a []string) ([]string, error) {
	data, err := fs.ReadFile(p.files, a[0])
	if err != nil {
		return nil, err
	}
	tools, err := procedure.ReadTools(a[0], data)
	if err != nil {
		return nil, err
	}
	for _, t := range tools {
		if n := len(t.Calibrations); n > 0 {
			p.calibrated[t.ID] = t.Calibrations[n-1]
		}
		if err := p.bench.Change(p.here(), AddTool{Tool: t}); err != nil {
			return nil, err
		}
	}
	return nil, nil
}

// calibrate adds a calibration of the time at hand. Directions and permitted
// deviation are those of the one before, where the script says nothing else.
func (p *Player) calibrate(a []string) ([]string, error) {
	before := p.calibrated[a[0]]
	c := procedure.Calibration{At: p.hand.Now, Hands: before.Hands, DeviationPercent: before.DeviationPercent}
	for i := 1; i < len(a); i += 2 {
		if i+1 == len(a) {
			return nil, fmt.Errorf("%s needs a word behind it", a[i])
		}
		var err error
		switch a[i] {
		case "found":
			c.AsFound = a[i+1]
		case "left":
			c.AsLeft = a[i+1]
		case "due":
			c.Due, err = time.Parse(time.DateOnly, a[i+1])
		case "hands":
			c.Hands, err = hands(a[i+1])
		default:
			err = fmt.Errorf("write found, left, due or hands, not %q", a[i])
		}
		if err != nil {
			return nil, err
		}
	}
	p.calibrated[a[0]] = c
	return p.change(CalibrateTool{Tool: a[0], Calibration: c})
}

// hands reads directions, such as right-hand,left-hand.
func hands(text string) ([]joint.Hand, error) {
	var out []joint.Hand
	for _, word := range strings.Split(text, ",") {
		var h joint.Hand
		if err := h.UnmarshalText([]byte(word)); err != nil {
			return nil, err
		}
		out = append(out, h)
	}
	return out, nil
}

func (p *Player) quarantine(a []string) ([]string, error) {
	return p.change(QuarantineTool{Tool: a[0], Reason: a[1]})
}

// dropped sets a tool aside that fell: nobody knows what it delivers until it
// is calibrated (common practice, no source).
func (p *Player) dropped(a []string) ([]string, error) {
	return p.change(QuarantineTool{Tool: a[0], Reason: "dropped: calibrate it before it is used again"})
}

func (p *Player) putBack(a []string) ([]string, error) {
	return p.change(ReturnTool{Tool: a[0]})
}

// catalogue lays a folder of the script over the built-in procedures, or takes
// it off again.
func (p *Player) catalogue(a []string) ([]string, error) {
	var over []catalogue.Layer
	if a[0] != catalogue.BuiltIn {
		if _, err := fs.Stat(p.files, a[0]); err != nil {
			return nil, err
		}
		folder, err := fs.Sub(p.files, a[0])
		if err != nil {
			return nil, err
		}
		over = append(over, catalogue.Layer{Name: a[0], Files: folder})
	}
	c, err := catalogue.Load(over...)
	if err != nil {
		return nil, err
	}
	p.vocab = c.Vocabulary
	return p.change(UseCatalogue{Catalogue: c})
}

func (p *Player) readSheet(name string) (*procedure.Sheet, error) {
	data, err := fs.ReadFile(p.files, name)
	if err != nil {
		return nil, err
	}
	return procedure.ReadSheet(name, data, p.vocab)
}

func (p *Player) build(a []string) ([]string, error) {
	sheet, err := p.readSheet(a[1])
	if err != nil {
		return nil, err
	}
	p.hand.Build = a[0]
	return nil, p.bench.Change(p.here(), AddBuild{Build: a[0], Sheet: sheet})
}

func (p *Player) sheet(a []string) ([]string, error) {
	sheet, err := p.readSheet(a[0])
	if err != nil {
		return nil, err
	}
	return p.change(UpdateSheet{Sheet: sheet})
}
