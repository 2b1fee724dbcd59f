package procedure

import (
	"fmt"

	"github.com/tightwright/tightwright/procedure/fit"
)

// brakesFitRules are the rules for the brake at each end. Which attributes a
// rule needs hangs on the kind of brake, so most are listed as those it may
// use, and it says itself which one is missing.
func brakesFitRules() map[string]fitRule {
	rules := map[string]fitRule{}
	for _, place := range placeWords() {
		b := brakeAt{place: place}
		rules["brake-type-"+place] = b.typeRule()
		rules["rotor-size-"+place] = b.rotorRule()
		rules["flat-mount-bolt-"+place] = b.boltRule()
		rules["lever-pull-"+place] = b.pullRule()
	}
	return rules
}

// brakeAt reads the attributes of the brake at one end.
type brakeAt struct{ place string }

// The words of the sheet that a rule asks about.
const (
	discHydraulic = "disc-hydraulic"
	discCable     = "disc-cable"
	linearPull    = "linear-pull"
	cantilever    = "cantilever"
	flatMount     = "flat"
	atFront       = "front"
)

// on names an attribute of a part of this end.
func (b brakeAt) on(role, attribute string) string { return role + "-" + b.place + "." + attribute }

// holder names an attribute of what carries the brake: fork or frame.
func (b brakeAt) holder(attribute string) string {
	if b.place == atFront {
		return "fork." + attribute
	}
	return "frame." + attribute
}

func (b brakeAt) typeRule() fitRule {
	return fitRule{
		needs: []string{b.on("caliper", "kind")},
		may: []string{
			b.holder("brake_mount"), b.on("caliper", "mount"), b.on("hub", "rotor_seat"), b.on("rotor", "fixing"),
			b.on("brake-lever", "works"), b.on("brake-lever", "fluid"), b.on("caliper", "fluid"),
			b.holder("rim_brake_mount"), b.holder("rim_brake_reach"), b.on("caliper", "reach_least"), b.on("caliper", "reach_most"),
			b.on("rim", "brake_track"), b.on("brake-lever", "pull"), b.on("caliper", "pull"),
		},
		run: func(a *attributes) ([]fit.Result, map[string]string, error) {
			brake := b.brake(a)
			if a.err != nil {
				return nil, nil, a.err
			}
			results, err := fit.BrakeKind(brake)
			if err == nil && brake.Kind == fit.RimBrake {
				results = append(results, b.reach(a))
			}
			return results, nil, err
		},
	}
}

// brake describes this end in the words of package fit.
func (b brakeAt) brake(a *attributes) fit.Brake {
	kind := a.text(b.on("caliper", "kind"))
	out := fit.Brake{Kind: fit.RimBrake}
	if kind != discHydraulic && kind != discCable {
		out.HasTrack = a.text(b.on("rim", "brake_track")) == "present"
		out.HasBoss = rimMounts(kind)[a.text(b.holder("rim_brake_mount"))]
		out.LeverPull, out.Needs = b.pulls(a)
		return out
	}
	out.Kind = fit.DiscBrake
	out.Mount = mountWord(a.text(b.holder("brake_mount")))
	out.Caliper = mountWord(a.text(b.on("caliper", "mount")))
	out.HubSeat = a.text(b.on("hub", "rotor_seat"))
	out.Rotor = seatWord(a.text(b.on("rotor", "fixing")))
	if a.text(b.on("brake-lever", "works")) == "hydraulic" {
		out.LeverFluid = fluidWord(a.text(b.on("brake-lever", "fluid")))
	}
	if kind == discHydraulic {
		out.CaliperFluid = fluidWord(a.text(b.on("caliper", "fluid")))
	}
	if out.LeverFluid == "" && out.CaliperFluid == "" {
		out.LeverPull, out.Needs = b.pulls(a)
	}
	return out
}

func (b brakeAt) pulls(a *attributes) (lever, brake string) {
	return pullWord(a.text(b.on("brake-lever", "pull"))), pullWord(a.text(b.on("caliper", "pull")))
}

// rimMounts are the places on frame or fork that a kind of rim brake bolts to.
func rimMounts(kind string) map[string]bool {
	switch kind {
	case "side-pull":
		return map[string]bool{"drilled-bridge": true, "drilled-crown": true}
	case "two-post":
		return map[string]bool{"two-posts": true}
	case linearPull, cantilever:
		return map[string]bool{"bosses": true}
	}
	return nil
}

// reach holds the distance from bolt or boss to the brake track against what
// the slots of the brake allow: a pad that cannot come to the track hits the
// tyre or dives under the rim.
func (b brakeAt) reach(a *attributes) fit.Result {
	needed := a.length(b.holder("rim_brake_reach"))
	least, most := a.length(b.on("caliper", "reach_least")), a.length(b.on("caliper", "reach_most"))
	r := fit.Result{
		Rule: "brake-kind", Check: "reach", Instrument: a.with(fit.SteelRule()), Verdict: fit.TryAndMeasure,
		Measured: fmt.Sprintf("%v from bolt or boss to the brake track", needed),
		Limit:    fmt.Sprintf("%v to %v", least, most), Source: CommonPractice, Confidence: fit.CommonPractice,
		Why: "The reach is not known. Measure it, or fit the brake and see where the pad meets the rim.",
	}
	if needed == 0 || least == 0 || most == 0 {
		r.Measured, r.Limit = "not measured", "the reach of the brake"
		return r
	}
	margin := min(needed-least, most-needed)
	r.Margin, r.Uncertainty = fit.Margin{Kind: fit.LengthMargin, Length: margin}, r.Instrument.Error
	switch {
	case margin >= r.Uncertainty:
		r.Verdict, r.Why = fit.Fits, "The slots of the brake take the pad to the brake track."
	case margin <= -r.Uncertainty:
		r.Verdict, r.Why = fit.DoesNotFit, "The pad does not come to the brake track. Another brake is needed, slots are never filed."
	default:
		r.Why = "So near the end of the slot that the rule cannot decide: fit the brake and see where the pad meets the rim."
	}
	return r
}

func (b brakeAt) rotorRule() fitRule {
	return fitRule{
		needs:   []string{b.on("rotor", "size"), b.holder("rotor_native")},
		may:     []string{b.holder("rotor_limit"), b.holder("brake_mount")},
		numbers: []string{"shift"},
		run: func(a *attributes) ([]fit.Result, map[string]string, error) {
			native, size := a.length(b.holder("rotor_native")), a.length(b.on("rotor", "size"))
			r, err := fit.RotorSize(fit.Rotor{
				Native: native, Size: size, Max: a.length(b.holder("rotor_limit")),
				FlatFront: b.place == atFront && a.optional(b.holder("brake_mount")) == flatMount,
			})
			if err != nil {
				return nil, nil, err
			}
			return []fit.Result{r}, map[string]string{"shift": millimeters((size - native) / 2)}, nil
		},
	}
}

// boltRule speaks of a flat mount only; another has nothing to measure here.
func (b brakeAt) boltRule() fitRule {
	return fitRule{
		needs: []string{b.on("caliper", "kind")},
		may:   []string{b.on("caliper", "mount"), b.on("caliper", "bolt_length"), b.holder("brake_mount_thickness")},
		run: func(a *attributes) ([]fit.Result, map[string]string, error) {
			if a.optional(b.on("caliper", "mount")) != flatMount {
				return nil, nil, nil
			}
			through := a.needed(b.holder("brake_mount_thickness"))
			bolt := a.needed(b.on("caliper", "bolt_length"))
			if a.err != nil {
				return nil, nil, a.err
			}
			return one(fit.FlatMountBolt(through, bolt, a.with(fit.Caliper())))
		},
	}
}

// pullRule speaks of cables only; a hose has no pull.
func (b brakeAt) pullRule() fitRule {
	return fitRule{
		needs: []string{b.on("caliper", "kind")},
		may:   []string{b.on("brake-lever", "pull"), b.on("caliper", "pull")},
		run: func(a *attributes) ([]fit.Result, map[string]string, error) {
			if a.text(b.on("caliper", "kind")) == discHydraulic {
				return nil, nil, nil
			}
			lever, brake := b.pulls(a)
			if a.err != nil {
				return nil, nil, a.err
			}
			return one(fit.LeverPull(lever, brake))
		},
	}
}

// needed reads a length that the rule cannot do without.
func (a *attributes) needed(key string) fit.Length {
	a.text(key)
	return a.length(key)
}

// The words of package fit for those of the sheet; an unknown word stays, and
// fit refuses it by name.
func mountWord(word string) string {
	return wordFor(word, map[string]string{"side-tab": fit.SideMount, "post": fit.PostMount})
}

func seatWord(word string) string {
	return wordFor(word, map[string]string{"six-bolt": fit.SixBolt, "splined": fit.SplineSeat})
}

func fluidWord(word string) string {
	return wordFor(word, map[string]string{"mineral-oil": fit.MineralOil})
}

func pullWord(word string) string {
	return wordFor(word, map[string]string{"short-pull": fit.ShortPull, "long-pull": fit.LongPull, "drop-bar-pull": fit.DropBarPull})
}

func wordFor(word string, table map[string]string) string {
	if other, ok := table[word]; ok {
		return other
	}
	return word
}
