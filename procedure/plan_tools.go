package procedure

import (
	"fmt"
	"math/big"

	"github.com/tightwright/tightwright/torque"
)

// choices works out a setting for every tool on the rack, or says why not.
func (p *planner) choices(step string, out *PlannedStep, pt *PlannedTorque) {
	able := false
	for i := range p.tools {
		c := p.choice(&p.tools[i], out, pt)
		able = able || c.Can()
		pt.Choices = append(pt.Choices, c)
	}
	if !able {
		p.find(PlanFinding{Rule: FindingNoTool, Step: step, About: pt.Joint,
			Text: fmt.Sprintf("no tool on the rack can vouch for %v on %s: see the reasons beside each tool", pt.Aim, pt.Title)})
	}
}

func (p *planner) choice(t *Tool, out *PlannedStep, pt *PlannedTorque) ToolChoice {
	c := ToolChoice{Tool: t.ID, Kind: t.Kind}
	setting, accept, fault := t.setting(pt.Window, pt.Aim, p.allowed(t))
	if fault != nil {
		c.Faults = append(c.Faults, *fault)
	}
	value := pt.Aim
	if setting != nil {
		c.Setting, c.Accept = setting, &accept
		if v, err := setting.Torque(); err == nil {
			value = v
		}
		c.Passes = t.passes(*setting, pt.Passes)
	}
	c.Faults = append(c.Faults, t.Faults(value, out.Hand, p.at)...)
	if !c.Can() {
		// A setting beside a tool that cannot do the step would be used.
		c.Setting, c.Accept, c.Passes = nil, nil, nil
	}
	return c
}

// allowed is the deviation that comes off the window under the procedure's
// policy.
func (p *planner) allowed(t *Tool) *big.Rat {
	if p.res.Definition.Allowance == AllowNone {
		return new(big.Rat)
	}
	return t.PermittedDeviation(p.at)
}

// setting chooses the mark on the tool's scale nearest the aim whose
// delivered torque stays inside the window. Deviation is relative to the
// reference value (ISO 6789-1:2017), so a tool set to S delivers between
// S/(1+d) and S/(1-d), and S lies from min·(1+d) to max·(1-d).
func (t *Tool) setting(w torque.Window, aim torque.Torque, d *big.Rat) (*torque.Figure, torque.Window, *ToolFault) {
	low, high := acceptance(w, d)
	if low.Cmp(high) > 0 {
		return nil, torque.Window{}, &ToolFault{Rule: RuleToolOffScale,
			Text: fmt.Sprintf("%s may be %s %% off, which is more than the window allows: take a finer tool", t.ID, percent(d))}
	}
	factor := new(big.Rat).Mul(t.Unit.Factor(), nanoPerNewtonMeter)
	mark := t.mark(low, high, aim, factor)
	if mark == nil {
		return nil, torque.Window{}, &ToolFault{Rule: RuleToolOffScale,
			Text: fmt.Sprintf("no mark on the scale of %s keeps what it delivers between %v and %v", t.ID, torqueUp(low), torqueDown(high))}
	}
	accept, err := torque.NewWindow(torqueUp(low), torqueDown(high))
	if err != nil {
		return nil, torque.Window{}, &ToolFault{Rule: RuleToolOffScale, Text: err.Error()}
	}
	return mark, accept, nil
}

// acceptance returns the limits of the setting in nanonewton metres, exact.
func acceptance(w torque.Window, d *big.Rat) (low, high *big.Rat) {
	lo, _ := w.Min()
	hi, _ := w.Max()
	one := big.NewRat(1, 1)
	low = ratMul(new(big.Rat).SetInt64(int64(lo)), ratAdd(one, d))
	high = ratMul(new(big.Rat).SetInt64(int64(hi)), ratSub(one, d))
	return low, high
}

var nanoPerNewtonMeter = new(big.Rat).SetInt64(int64(torque.NewtonMeter))

// mark returns the graduation nearest to aim between low and high, or nil.
// A fixed tool has one; an indicating tool is read, not set, and aims at the
// nearest graduation all the same.
func (t *Tool) mark(low, high *big.Rat, aim torque.Torque, factor *big.Rat) *torque.Figure {
	digits := t.Min
	if t.Kind != Fixed {
		step, err := parseDecimal(t.Graduation)
		if err != nil || step.Sign() <= 0 {
			step = big.NewRat(1, 100)
		}
		first := ceilTo(ratQuo(low, factor), step)
		last := floorTo(ratQuo(high, factor), step)
		if first.Cmp(last) > 0 {
			return nil
		}
		want := nearestTo(ratQuo(new(big.Rat).SetInt64(int64(aim)), factor), step)
		switch {
		case want.Cmp(first) < 0:
			want = first
		case want.Cmp(last) > 0:
			want = last
		}
		digits = formatRat(want, 9)
	}
	fig, err := torque.ParseFigure(digits, t.Unit)
	if err != nil {
		return nil
	}
	in := ratMul(fig.Rat(), factor)
	if in.Cmp(low) < 0 || in.Cmp(high) > 0 {
		return nil
	}
	return &fig
}

// passes returns the marks of each pass, rounded down to the scale so that an
// early pass never goes past the full value.
func (t *Tool) passes(full torque.Figure, percents []int) []torque.Figure {
	if t.Kind == Fixed {
		if len(percents) == 1 {
			return []torque.Figure{full}
		}
		return nil
	}
	step, err := parseDecimal(t.Graduation)
	if err != nil || step.Sign() <= 0 {
		step = big.NewRat(1, 100)
	}
	var out []torque.Figure
	for _, pc := range percents {
		v := floorTo(ratMul(full.Rat(), big.NewRat(int64(pc), 100)), step)
		if pc == 100 {
			v = full.Rat()
		}
		fig, err := torque.ParseFigure(formatRat(v, 9), t.Unit)
		if err != nil {
			return nil
		}
		out = append(out, fig)
	}
	return out
}

func percent(d *big.Rat) string { return formatRat(ratMul(d, big.NewRat(100, 1)), 2) }

func floorInt(r *big.Rat) *big.Int {
	q := new(big.Int)
	m := new(big.Int)
	q.DivMod(r.Num(), r.Denom(), m)
	return q
}

func floorTo(v, step *big.Rat) *big.Rat {
	return ratMul(new(big.Rat).SetInt(floorInt(ratQuo(v, step))), step)
}

func ceilTo(v, step *big.Rat) *big.Rat {
	neg := floorTo(new(big.Rat).Neg(v), step)
	return neg.Neg(neg)
}

func nearestTo(v, step *big.Rat) *big.Rat {
	half := ratMul(step, big.NewRat(1, 2))
	return floorTo(ratAdd(v, half), step)
}

// torqueDown and torqueUp turn exact nanonewton metres into a Torque without
// going outside.
func torqueDown(r *big.Rat) torque.Torque { return torque.Torque(floorInt(r).Int64()) }

func torqueUp(r *big.Rat) torque.Torque {
	neg := floorInt(new(big.Rat).Neg(r))
	return torque.Torque(neg.Neg(neg).Int64())
}
