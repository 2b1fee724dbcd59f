package script

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// wish is how a job is to be worked.
type wish struct{ until, tool, second string }

func parseWish(a []string) (wish, error) {
	var w wish
	for i := 0; i < len(a); i += 2 {
		if i+1 == len(a) {
			return w, fmt.Errorf("%s needs a word behind it", a[i])
		}
		switch a[i] {
		case "until":
			w.until = a[i+1]
		case "with":
			w.tool = a[i+1]
		case "second":
			w.second = a[i+1]
		default:
			return w, fmt.Errorf("write until, with or second, not %q", a[i])
		}
	}
	return w, nil
}

// workLimit bounds how many facts one work line may take: more means that the
// guide goes in circles.
const workLimit = 300

// work follows the guide with good results until a step, or to the end of the
// job. It stops where only another person or a clock can go on.
func (p *Player) work(a []string) ([]string, error) {
	w, err := parseWish(a[1:])
	if err != nil {
		return nil, err
	}
	done := 0
	for ; done < workLimit; done++ {
		v, err := p.bench.Job(p.hand, a[0])
		if err != nil {
			return nil, err
		}
		i := slices.IndexFunc(v.Steps, func(s StepView) bool { return s.ID == v.Current })
		if i < 0 || v.Current == w.until {
			return []string{fmt.Sprintf("worked: %d entries", done)}, nil
		}
		again, answer, err := p.next(a[0], v.Steps[i], w)
		if err != nil || !again {
			return append([]string{fmt.Sprintf("worked: %d entries", done)}, answer...), err
		}
	}
	return nil, fmt.Errorf("the guide of job %s goes in circles", a[0])
}

// next takes the next fact of a step. It reports false when it must stop,
// with the reason.
func (p *Player) next(job string, s StepView, w wish) (again bool, answer []string, err error) {
	switch {
	case s.Status == procedure.StepToSign && w.second != "":
		return p.signFor(job, s, w.second)
	case s.Status == procedure.StepToSign:
		who := strings.ReplaceAll(s.Hold.String(), "-", " ")
		return false, []string{fmt.Sprintf("stopped: %q waits for the %s", s.Title, who)}, nil
	case s.Status == procedure.StepWaiting:
		return false, []string{fmt.Sprintf("stopped: a clock runs before %q", s.Title)}, nil
	case s.Status == procedure.StepRework:
		return false, []string{fmt.Sprintf("stopped: %q does not conform, its rework path comes first", s.Title)}, nil
	case len(s.Missing) == 0:
		return false, []string{"stopped: nothing is missing in " + s.Title}, nil
	}
	c, err := good(job, s, w)
	if err != nil {
		return false, nil, err
	}
	out, err := p.do(Request{Command: c})
	if err != nil {
		return false, nil, err
	}
	if !strings.HasSuffix(out[0], ": "+procedure.Conforming.String()) {
		return false, out, nil
	}
	return true, nil, nil
}

func (p *Player) signFor(job string, s StepView, second string) (bool, []string, error) {
	builder := p.hand.Person
	p.hand.Now = p.hand.Now.Add(secondLooks)
	p.hand.Person = second
	out, err := p.do(Request{Command: procedure.SignHold{Job: job, Step: s.ID}, Note: "looked and tried: it holds"})
	p.hand.Person = builder
	if err != nil {
		return false, nil, err
	}
	return !strings.HasPrefix(out[0], "refused"), out, nil
}

// good is the command that gives a missing item a good result.
func good(job string, s StepView, w wish) (procedure.Command, error) {
	item := s.Missing[0]
	kind, name, _ := strings.Cut(item, ".")
	switch kind {
	case procedure.PrepItem:
		warm := 20
		return procedure.DoPrep{Job: job, Step: s.ID, Thread: s.ThreadPrep, Face: s.FacePrep,
			Batch: "invented-1", Metal: "steel", Celsius: &warm}, nil
	case "check":
		return goodCheck(job, s, name)
	}
	return goodPull(job, s, w)
}

func goodCheck(job string, s StepView, check string) (procedure.Command, error) {
	i := slices.IndexFunc(s.Checks, func(c procedure.PlannedCheck) bool { return c.ID == check })
	if i < 0 {
		return nil, fmt.Errorf("step %s has no check %s", s.ID, check)
	}
	c := s.Checks[i]
	switch c.Kind {
	case procedure.Look:
		return procedure.TakeLook{Job: job, Step: s.ID, Check: check, OK: true}, nil
	case procedure.Photo:
		return procedure.TakePhoto{Job: job, Step: s.ID, Check: check}, nil
	case procedure.Measure:
	}
	return procedure.TakeMeasure{Job: job, Step: s.ID, Check: check, Value: middle(c.Min, c.Max, c.Error), Unit: c.Unit}, nil
}

// middle is a value well inside the limits, by more than the error of what it
// is measured with.
func middle(low, high, instrument string) string {
	lo, okLow := new(big.Rat).SetString(low)
	hi, okHigh := new(big.Rat).SetString(high)
	switch {
	case okLow && okHigh:
		mid := new(big.Rat).Add(lo, hi)
		return trim(mid.Quo(mid, big.NewRat(2, 1)))
	case okLow:
		lo.Add(lo, big.NewRat(2, 1))
		if e, ok := new(big.Rat).SetString(instrument); ok {
			lo.Add(lo, e.Mul(e, big.NewRat(2, 1)))
		}
		return trim(lo)
	case okHigh:
		return trim(hi.Quo(hi, big.NewRat(2, 1)))
	}
	return "1"
}

func trim(r *big.Rat) string {
	s := r.FloatString(3)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

func goodPull(job string, s StepView, w wish) (procedure.Command, error) {
	for _, set := range s.Settings {
		if w.tool != "" && set.Tool != w.tool {
			continue
		}
		if f, ok := mark(set, s.Pass); ok {
			return procedure.TakeReading{Job: job, Step: s.ID, Bolt: s.Bolt, Figure: f, Tool: set.Tool}, nil
		}
	}
	return nil, fmt.Errorf("no tool can do step %s", s.ID)
}

func mark(set Setting, pass int) (torque.Figure, bool) {
	if pass < 1 || pass > len(set.Passes) {
		return torque.Figure{}, false
	}
	return set.Passes[pass-1], true
}
