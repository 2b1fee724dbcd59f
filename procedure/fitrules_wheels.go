package procedure

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure/fit"
)

// wheelsFitRules are the rules for the wheel at each end: its axle, its tyre
// and the spoke tension that its rim bears.
func wheelsFitRules() map[string]fitRule {
	rules := map[string]fitRule{}
	for _, place := range placeWords() {
		w := wheelAt{place: place}
		rules["axle-"+place] = w.axleRule()
		rules["tire-"+place] = w.tireRule()
		rules["spoke-limit-"+place] = w.spokeRule()
	}
	return rules
}

// wheelAt reads the attributes of the wheel at one end.
type wheelAt struct{ place string }

// on names an attribute of a part of this wheel.
func (w wheelAt) on(role, attribute string) string { return role + "-" + w.place + "." + attribute }

// holder is the part that the wheel sits in.
func (w wheelAt) holder() string {
	if w.place == placeWords()[0] {
		return "fork"
	}
	return "frame"
}

// in names an attribute of that part.
func (w wheelAt) in(attribute string) string { return w.holder() + "." + attribute }

// axleRule holds the hub to the width between the ends, and a thru axle to the
// thread of its insert. The thread is no matter of choice there: three pitches
// start in one another, so without both figures the rule cannot be run.
func (w wheelAt) axleRule() fitRule {
	return fitRule{
		needs: []string{w.on("hub", "axle_fixing"), w.on("hub", "width"), w.in("axle_width")},
		may: []string{
			w.in("axle_slot"), w.on("axle", "thread"), w.in("axle_thread"),
			w.on("axle", "length"), w.on("axle", "engaged"), w.in("axle_through"),
		},
		run: func(a *attributes) ([]fit.Result, map[string]string, error) {
			axle := fit.Axle{Hub: a.length(w.on("hub", "width")), Inner: a.length(w.in("axle_width")), Slot: a.length(w.in("axle_slot"))}
			if a.text(w.on("hub", "axle_fixing")) == "thru-axle" {
				w.thruAxle(a, &axle)
			}
			if a.err != nil {
				return nil, nil, a.err
			}
			results, err := fit.AxleFit(axle, a.with(fit.Caliper()))
			return results, nil, err
		},
	}
}

// thruAxle adds what there is to check on an axle that screws in. Its length
// is checked where all that it has to reach through is known.
func (w wheelAt) thruAxle(a *attributes, axle *fit.Axle) {
	axle.Thread, axle.Insert = a.thread(w.on("axle", "thread")), a.thread(w.in("axle_thread"))
	axle.Engaged, axle.Through = a.length(w.on("axle", "engaged")), a.length(w.in("axle_through"))
	if axle.Engaged > 0 && axle.Through > 0 {
		axle.Length = a.length(w.on("axle", "length"))
	}
}

// spokeLimits are figures between which a rim's limit is believed to be one in
// newtons. Rims that print one mostly print 1200 to 1300; a tenth of that is
// kilogram-force. Source: common practice, no source.
var spokeLimits = struct{ least, most int }{500, 3000}

// spokeRule asks for the rim's own limit: without one nobody tightens a wheel.
func (w wheelAt) spokeRule() fitRule {
	key := w.on("rim", "spoke_limit_newton")
	return fitRule{
		needs:   []string{key},
		numbers: []string{"limit"},
		run: func(a *attributes) ([]fit.Result, map[string]string, error) {
			limit := a.count(key)
			if a.err != nil {
				return nil, nil, a.err
			}
			return []fit.Result{spokeLimit(w.place, limit)}, map[string]string{"limit": fmt.Sprint(limit)}, nil
		},
	}
}

func spokeLimit(place string, limit int) fit.Result {
	r := fit.Result{
		Rule: "spoke-limit", Verdict: fit.Fits, Instrument: fit.Marked(),
		Measured: fmt.Sprintf("%d N on the %s rim", limit, place),
		Limit:    fmt.Sprintf("between %d N and %d N, or it is another unit", spokeLimits.least, spokeLimits.most),
		Why:      fmt.Sprintf("The rim allows %d N at most. No spoke goes above that.", limit),
		Source:   CommonPractice, Confidence: fit.CommonPractice,
	}
	if limit < spokeLimits.least || limit > spokeLimits.most {
		r.Verdict = fit.DoesNotFit
		r.Why = fmt.Sprintf("%d is no limit in newtons. Read it again with its unit: kilogram-force times 9.80665 is newtons.", limit)
	}
	return r
}
