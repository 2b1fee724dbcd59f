package teaching

import (
	"fmt"
)

// A PlantedFault is laid before the trainee unannounced.
type PlantedFault struct {
	Procedure string `json:"procedure"`
	Step      string `json:"step"`
	// Plant is the mistake to make on purpose, Good what a good result would
	// be, which the trainee has to miss, and Then what to do about it.
	Plant string `json:"plant"`
	Good  string `json:"good"`
	Then  string `json:"then,omitempty"`
	Why   string `json:"why,omitempty"`
}

// plant picks a fault from the mistakes that the steps warn of: one of a step
// that findings point to, else one of the worst class.
func (m *maker) plant(module string, steps []place) *PlantedFault {
	best, most := []place(nil), -1
	for _, p := range steps {
		if p.step.Mistake == "" {
			continue
		}
		weight := 10*min(m.faults.steps[p.ref()], 1000) + int(p.risk())
		switch {
		case weight > most:
			best, most = []place{p}, weight
		case weight == most:
			best = append(best, p)
		}
	}
	if len(best) == 0 {
		return nil
	}
	p := pick(newDice(m.options.Seed, "plant/"+module), best...)
	f := &PlantedFault{Procedure: p.of.ID, Step: p.step.ID,
		Plant: fmt.Sprintf("%q: %s", p.step.Title, p.step.Mistake),
		Good:  p.step.Accept}
	if len(p.step.Rework) > 0 {
		f.Then = p.step.Rework[0].Do
	}
	if n := m.faults.steps[p.ref()]; n > 0 {
		f.Why = fmt.Sprintf("%s of this shop in this step", counted(n, "finding"))
	}
	return f
}

// counted writes a number of things with their plural.
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
