package script

import (
	"fmt"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

func (p *Player) open(a []string) ([]string, error) {
	o := Opening{Job: a[0], Procedure: a[1]}
	switch {
	case len(a) == 4 && a[2] == "with":
		o.Supervisor = a[3]
	case len(a) > 2:
		return nil, fmt.Errorf("write open JOB PROCEDURE with SUPERVISOR")
	}
	return p.do(Request{Open: &o})
}

func (p *Player) answer(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.AcceptFigure{Joint: a[0]}, Note: a[1]})
}

func (p *Player) read(a []string) ([]string, error) {
	unit, err := torque.ParseUnit(a[4])
	if err != nil {
		return nil, err
	}
	f, err := torque.ParseFigure(a[3], unit)
	if err != nil {
		return nil, err
	}
	turned := len(a) == 7 && a[6] == "turned"
	return p.do(Request{Command: procedure.TakeReading{Job: a[0], Step: a[1], Bolt: a[2], Figure: f, Tool: a[5], Turned: turned}})
}

func (p *Player) measure(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.TakeMeasure{Job: a[0], Step: a[1], Check: a[2], Value: a[3], Unit: a[4]}})
}

func (p *Player) look(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.TakeLook{Job: a[0], Step: a[1], Check: a[2], OK: a[3] == "yes"}})
}

func (p *Player) photo(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.TakePhoto{Job: a[0], Step: a[1], Check: a[2]}})
}

func (p *Player) prep(a []string) ([]string, error) {
	c := procedure.DoPrep{Job: a[0], Step: a[1]}
	for _, pair := range a[2:] {
		key, value, _ := strings.Cut(pair, "=")
		var err error
		switch key {
		case "thread":
			err = c.Thread.UnmarshalText([]byte(value))
		case "face":
			err = c.Face.UnmarshalText([]byte(value))
		case "batch":
			c.Batch = value
		case "metal":
			c.Metal = value
		case "celsius":
			var n int
			_, err = fmt.Sscan(value, &n)
			c.Celsius = &n
		default:
			err = fmt.Errorf("prep has no field %q", key)
		}
		if err != nil {
			return nil, err
		}
	}
	return p.do(Request{Command: c})
}

func (p *Player) rework(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.BeginRework{Job: a[0], Step: a[1], From: a[2]}, Note: a[3]})
}

func (p *Player) sign(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.SignHold{Job: a[0], Step: a[1]}, Note: a[2]})
}

func (p *Player) entry(name string) string {
	if name == "last" {
		return p.last
	}
	if id, ok := p.names[name]; ok {
		return id
	}
	return name
}

func (p *Player) accept(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.AcceptResult{Job: a[0], Entry: p.entry(a[1])}, Note: a[2]})
}

func (p *Player) withdraw(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.WithdrawEntry{Entry: p.entry(a[0]), Cause: a[1]}, Note: a[2]})
}

func (p *Player) correct(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.CorrectTool{Entry: p.entry(a[0]), Tool: a[1]}, Note: a[2]})
}

func (p *Player) swap(a []string) ([]string, error) {
	sheet, err := p.readSheet(a[2])
	if err != nil {
		return nil, err
	}
	part, ok := sheet.Part(a[1])
	if !ok {
		return nil, fmt.Errorf("%s has no %s", a[2], a[1])
	}
	return p.do(Request{Part: &Swap{Job: a[0], Part: *part}, Note: a[3]})
}

func (p *Player) finish(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.FinishJob{Job: a[0]}})
}

func (p *Player) abandon(a []string) ([]string, error) {
	return p.do(Request{Command: procedure.AbandonJob{Job: a[0]}, Note: a[1]})
}

func (p *Player) release([]string) ([]string, error) {
	return p.do(Request{Command: procedure.ReleaseBuild{}})
}
