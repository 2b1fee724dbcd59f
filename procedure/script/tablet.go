package script

import (
	"fmt"
	"strconv"
	"time"
)

// A tablet is a device whose clock or network is not as usual.
type tablet struct {
	ahead      time.Duration
	unmeasured bool
	// offline says that nothing gets through; kept is what waits for that.
	offline bool
	kept    []kept
}

// kept is a request that waits on a tablet, with the hand that told it.
type kept struct {
	hand    Hand
	request Request
}

// here is the hand at the tablet, with the clock of the tablet.
func (p *Player) here() Hand {
	h := p.hand
	if t := p.tablets[h.Tablet]; t != nil {
		h.Ahead, h.Unmeasured = t.ahead, t.unmeasured
	}
	return h
}

// device is the tablet at hand.
func (p *Player) device() *tablet {
	t := p.tablets[p.hand.Tablet]
	if t == nil {
		t = &tablet{}
		p.tablets[p.hand.Tablet] = t
	}
	return t
}

// clock sets how many minutes the clock of the tablet is ahead from now on. A
// tablet measures that whenever it has a network, unless the script says
// unmeasured.
func (p *Player) clock(a []string) ([]string, error) {
	minutes, err := strconv.Atoi(a[0])
	if err != nil {
		return nil, err
	}
	if len(a) == 2 && a[1] != "unmeasured" {
		return nil, fmt.Errorf("write clock MINUTES unmeasured, not %q", a[1])
	}
	t := p.device()
	t.ahead, t.unmeasured = time.Duration(minutes)*time.Minute, len(a) == 2
	return nil, nil
}

// networked is a command that a tablet cannot carry out by itself.
func networked(do func(p *Player, a []string) ([]string, error)) func(p *Player, a []string) ([]string, error) {
	return func(p *Player, a []string) ([]string, error) {
		if t := p.tablets[p.hand.Tablet]; t != nil && t.offline {
			return nil, fmt.Errorf("tablet %s is offline, and this needs the bench", p.hand.Tablet)
		}
		return do(p, a)
	}
}

func (p *Player) offline([]string) ([]string, error) {
	p.device().offline = true
	return nil, nil
}

// online delivers what waited on the tablet, in order, now.
func (p *Player) online([]string) ([]string, error) {
	t := p.device()
	waiting := t.kept
	t.offline, t.kept = false, nil
	var out []string
	for _, k := range waiting {
		h := k.hand
		h.Told, h.Now = h.Now, p.hand.Now
		o, err := p.bench.Do(h, k.request)
		if err != nil {
			return out, err
		}
		out = append(out, worded(o)...)
	}
	return out, nil
}
