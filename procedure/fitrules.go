package procedure

import (
	"fmt"
	"maps"
	"slices"
	"sort"
	"strings"
	"sync"

	"github.com/tightwright/tightwright/procedure/fit"
	"github.com/tightwright/tightwright/torque/joint"
)

// A fitRule ties a rule of package fit to the attributes of the sheet.
type fitRule struct {
	// needs are attributes the rule cannot do without, may those it uses
	// where the sheet has them.
	needs, may []string
	// numbers are what the rule works out, by name.
	numbers []string
	run     func(a *attributes) ([]fit.Result, map[string]string, error)
}

// fitRules are the rules that a procedure can name, of all areas of the bike,
// made once and not changed.
var fitRules = sync.OnceValue(allFitRules)

func allFitRules() map[string]fitRule {
	rules := driveFitRules()
	for _, area := range []map[string]fitRule{cockpitFitRules(), seatFitRules(), brakesFitRules(), gearsFitRules(), wheelsFitRules()} {
		maps.Copy(rules, area)
	}
	return rules
}

// driveFitRules tie the rules for cassette, bottom bracket, crank and pedals
// to the attributes of the sheet.
func driveFitRules() map[string]fitRule {
	return map[string]fitRule{
		"spline-pattern": {
			needs: []string{"freehub-body.splines", "cassette.splines"},
			run: func(a *attributes) ([]fit.Result, map[string]string, error) {
				return one(fit.SplinePattern(a.text("freehub-body.splines"), a.text("cassette.splines")))
			},
		},
		"body-length": {
			needs:   []string{"freehub-body.length", "cassette.made_for_length"},
			may:     []string{"cassette.own_spacer"},
			numbers: []string{"spacer"},
			run:     bodyLength,
		},
		"lockring-thread": {
			needs: []string{"freehub-body.lockring_thread", "cassette-lockring.thread"},
			run: func(a *attributes) ([]fit.Result, map[string]string, error) {
				return one(lockringThread(a.thread("freehub-body.lockring_thread"), a.thread("cassette-lockring.thread")), nil)
			},
		},
		"shell-and-spindle": {
			needs: []string{"bottom-bracket-shell.width", "bottom-bracket-shell.thread_drive", "bottom-bracket-shell.thread_non_drive",
				"bottom-bracket.thread_drive", "bottom-bracket.thread_non_drive", "crankset.spindle_kind", "crankset.needs_width"},
			may:     []string{"bottom-bracket-shell.width_second", "bottom-bracket.spacer"},
			numbers: []string{"spacers"},
			run:     shellAndSpindle,
		},
		"taper-pairing": {
			needs: []string{"spindle.taper", "crank-arm-right.taper", "crank-arm-right.stand_off"},
			run: func(a *attributes) ([]fit.Result, map[string]string, error) {
				return one(fit.TaperPairing(fit.Taper{Spindle: a.text("spindle.taper"), Arm: a.text("crank-arm-right.taper"),
					StandOff: a.length("crank-arm-right.stand_off")}, a.with(fit.Caliper())))
			},
		},
		"pedal-thread": {
			needs: []string{"pedal-left.thread", "pedal-right.thread", "crank-arm-left.pedal_thread", "crank-arm-right.pedal_thread"},
			run:   pedalThreads,
		},
	}
}

// FitRules lists the fit rules a procedure can name, in order.
func FitRules() []string {
	var out []string
	for id := range fitRules() {
		out = append(out, id)
	}
	sort.Strings(out)
	return out
}

// FitRuleUses returns the attributes a fit rule cannot do without, those it
// also looks at, and the names of the numbers it works out; false for a rule
// that does not exist.
func FitRuleUses(rule string) (needs, may, numbers []string, ok bool) {
	r, ok := fitRules()[rule]
	return r.needs, r.may, r.numbers, ok
}

func one(r fit.Result, err error) ([]fit.Result, map[string]string, error) {
	return []fit.Result{r}, nil, err
}

func bodyLength(a *attributes) ([]fit.Result, map[string]string, error) {
	body, made := a.length("freehub-body.length"), a.length("cassette.made_for_length")
	own := a.length("cassette.own_spacer")
	r, err := fit.BodyLength(body, made, own, a.with(fit.Caliper()))
	if err != nil {
		return nil, nil, err
	}
	numbers := map[string]string{"spacer": millimeters(body - made + own)}
	return []fit.Result{r}, numbers, nil
}

func shellAndSpindle(a *attributes) ([]fit.Result, map[string]string, error) {
	s := fit.Shell{
		Width: a.length("bottom-bracket-shell.width"), Width2: a.length("bottom-bracket-shell.width_second"),
		Drive: a.thread("bottom-bracket-shell.thread_drive"), NonDrive: a.thread("bottom-bracket-shell.thread_non_drive"),
		CupDrive: a.thread("bottom-bracket.thread_drive"), CupNonDrive: a.thread("bottom-bracket.thread_non_drive"),
		Spindle: a.text("crankset.spindle_kind"), CrankWidth: a.length("crankset.needs_width"),
		Spacer: a.length("bottom-bracket.spacer"),
	}
	rs, err := fit.ShellAndSpindle(s, a.with(fit.Caliper()))
	if err != nil {
		return nil, nil, err
	}
	return rs, map[string]string{"spacers": millimeters(s.CrankWidth - s.Width)}, nil
}

func pedalThreads(a *attributes) ([]fit.Result, map[string]string, error) {
	var out []fit.Result
	for _, side := range []struct {
		side fit.Side
		name string
	}{{fit.Left, "left"}, {fit.Right, "right"}} {
		r, err := fit.PedalThread(fit.Pedal{Side: side.side,
			Axle: a.thread("pedal-" + side.name + ".thread"), Arm: a.thread("crank-arm-" + side.name + ".pedal_thread"),
			CarbonArm: a.optional("crank-arm-"+side.name+".material") == "carbon"})
		if err != nil {
			return nil, nil, err
		}
		r.Check = side.name
		out = append(out, r)
	}
	return out, nil, nil
}

// lockringThread compares the body's thread with the ring's: size, pitch and
// hand are equal or the ring does not belong there.
func lockringThread(body, ring joint.Thread) fit.Result {
	r := fit.Result{Rule: "lockring-thread", Verdict: fit.Fits, Instrument: fit.ThreadGauge(),
		Measured: fmt.Sprintf("body %v, lockring %v", body, ring), Limit: "the same size, pitch and hand",
		Why:    fmt.Sprintf("Body and lockring have the same thread, %v.", body),
		Source: "threads go together when size, pitch and hand are equal", Confidence: fit.Computed}
	if body != ring {
		r.Verdict = fit.DoesNotFit
		r.Why = fmt.Sprintf("A lockring %v does not belong on a body with %v: it starts, then cuts the thread. Take the lockring for this body.", ring, body)
	}
	return r
}

func millimeters(l fit.Length) string {
	return strings.TrimSuffix(l.String(), " mm")
}

// fit runs the procedure's fit rules and turns what does not fit into
// findings.
func (p *planner) fit() {
	p.verdicts = map[string]string{}
	rules := fitRules()
	for _, id := range p.res.Definition.Fit {
		rule, ok := rules[id]
		if !ok {
			p.find(PlanFinding{Rule: FindingAttributeMissing, About: id, Blocks: true,
				Text: fmt.Sprintf("there is no fit rule %q: mend the procedure", id)})
			continue
		}
		if !p.hasAll(rule.needs) {
			continue
		}
		a := &attributes{sheet: p.sheet, readThread: p.readThread}
		results, numbers, err := rule.run(a)
		if a.err != nil {
			err = a.err
		}
		if err != nil {
			p.find(PlanFinding{Rule: FindingAttributeMissing, About: id, Blocks: true,
				Text: fmt.Sprintf("%s cannot be checked: %v", words(id), err)})
			continue
		}
		p.verdicts[id] = strings.ReplaceAll(fit.Worst(results...).String(), " ", "-")
		p.plan.Fit = slices.Grow(p.plan.Fit, len(results))
		for _, r := range results {
			p.planFit(id, r, numbers)
		}
	}
}

// hasAll reports attributes that a rule cannot do without.
func (p *planner) hasAll(keys []string) bool {
	all := true
	for _, key := range keys {
		if _, ok := p.sheet.Attribute(key); !ok {
			p.missing(key, "")
			all = false
		}
	}
	return all
}

func (p *planner) planFit(id string, r fit.Result, numbers map[string]string) {
	rule := id
	if r.Check != "" {
		rule = id + " (" + r.Check + ")"
	}
	p.plan.Fit = append(p.plan.Fit, PlannedFit{
		Rule: id, Check: r.Check, Verdict: r.Verdict.String(), Measured: r.Measured, Limit: r.Limit,
		Margin: r.Margin.String(), Instrument: instrument(r.Instrument), Needs: r.Needs, Why: r.Why,
		Source: fitSource(r), Numbers: numbers,
	})
	switch r.Verdict {
	case fit.DoesNotFit:
		p.find(PlanFinding{Rule: FindingMisfit, About: rule, Blocks: true, Text: r.Why})
	case fit.TryAndMeasure:
		p.find(PlanFinding{Rule: FindingTryAndMeasure, About: rule, Text: r.Why})
	case fit.Fits, fit.FitsWith, fit.NotChecked:
	}
}

// fitSource names the source and how far it can be leaned on, once.
func fitSource(r fit.Result) string {
	if r.Source == string(r.Confidence) {
		return r.Source
	}
	return r.Source + " (" + string(r.Confidence) + ")"
}

func instrument(i fit.Instrument) string {
	if i.Error == 0 {
		return i.Name
	}
	return i.Name + " ± " + i.Error.String()
}
