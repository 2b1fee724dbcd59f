package procedure

import (
	"slices"

	"github.com/tightwright/tightwright/procedure/fit"
)

// cockpitFitRules tie the fit rules of bar and steerer to the attributes of
// the sheet.
func cockpitFitRules() map[string]fitRule {
	return map[string]fitRule{
		"bar-clamp": {
			needs: []string{"handlebar.clamp_diameter", "handlebar.material", "stem.bar_bore", "stem.material"},
			run:   barClampFit,
		},
		"steerer": {
			needs: []string{"fork.steerer_material", "fork.steerer_diameter", "fork.steerer_length", "fork.steerer_top",
				"frame.head_tube_length", "headset.height", "headset.spacers", "stem.steerer_bore", "stem.clamp_height", "steerer-plug.kind"},
			may:     []string{"headset.spacers_above", "headset.race_bore", "fork.crown_race_seat", "fork.spacer_limit"},
			numbers: []string{"drop"},
			run:     steererFit,
		},
	}
}

// barClampFit holds the diameters to a caliper that was read twice, since a
// plain one cannot tell 0.1 mm in a range of 0.2 mm.
func barClampFit(a *attributes) ([]fit.Result, map[string]string, error) {
	b := fit.Bar{Diameter: a.length("handlebar.clamp_diameter"), Bore: a.length("stem.bar_bore"),
		IsMetal: isMetalPart(a.text("handlebar.material")) && isMetalPart(a.text("stem.material"))}
	if a.err != nil {
		return nil, nil, a.err
	}
	return one(fit.BarClamp(b, a.with(fit.CarefulCaliper())))
}

// isMetalPart reports whether a material of the vocabulary is a metal, so that
// a sleeve may go between two of them.
func isMetalPart(material string) bool {
	return material != "" && !slices.Contains([]string{"carbon", "resin"}, material)
}

// steererFit checks the stack and what meets the stem. A steerer is longer
// than a caliper, so its length is held to a steel rule, and most stacks come
// out as try and measure: with the stem on, a depth rod decides.
func steererFit(a *attributes) ([]fit.Result, map[string]string, error) {
	s := fit.Steerer{
		Length: a.length("fork.steerer_length"), HeadTube: a.length("frame.head_tube_length"),
		Headset: a.length("headset.height"), Spacers: a.length("headset.spacers"),
		// The cap presses on whatever is on top, a spacer above the stem too.
		Stem:              a.length("stem.clamp_height") + a.length("headset.spacers_above"),
		IsCarbon:          a.text("fork.steerer_material") == "carbon",
		SpacerLimit:       a.length("fork.spacer_limit"),
		IsThreadedInClamp: a.text("fork.steerer_top") == "threaded",
	}
	across := s
	across.Diameter, across.StemBore = a.length("fork.steerer_diameter"), a.length("stem.steerer_bore")
	across.RaceSeat, across.RaceBore = a.length("fork.crown_race_seat"), a.length("headset.race_bore")
	anchor := a.text("steerer-plug.kind")
	if a.err != nil {
		return nil, nil, a.err
	}
	results, err := fit.SteererStack(s, a.with(fit.SteelRule()))
	if err != nil {
		return nil, nil, err
	}
	finer, err := fit.SteererStack(across, a.with(fit.CarefulCaliper()))
	if err != nil {
		return nil, nil, err
	}
	for _, r := range finer {
		if r.Check == "diameter" || r.Check == "lower race" {
			results = append(results, r)
		}
	}
	if anchor == "star-nut" {
		refuseStarNut(results)
	}
	drop := s.HeadTube + s.Headset + s.Spacers + s.Stem - s.Length
	if drop < 0 {
		return results, nil, nil // it stands out of the stack, and a check has no number below 0
	}
	return results, map[string]string{"drop": millimeters(drop)}, nil
}

// refuseStarNut turns the advice to anchor carbon with an expander into a
// misfit where a star nut is what lies there.
func refuseStarNut(results []fit.Result) {
	for i := range results {
		if r := &results[i]; r.Check == "anchor" {
			r.Verdict = fit.DoesNotFit
			r.Measured += ", star nut"
			r.Why = "A star nut cuts the inside of a carbon steerer. Take an expander plug."
		}
	}
}
