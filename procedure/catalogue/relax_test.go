package catalogue_test

import (
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

// spoiledBy lists the "procedure/step" that a hand in a step spoils, through
// others as well, over the whole catalogue.
func spoiledBy(t testing.TB, from string) []string {
	t.Helper()
	c := load(t)
	all := map[string][]string{}
	for _, d := range c.Definitions {
		for _, s := range d.Steps {
			all[d.ID+"/"+s.ID] = targets(c.Definitions, d, s.Voids)
		}
	}
	require.Contains(t, all, from)
	seen, queue := map[string]bool{}, []string{from}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, next := range all[at] {
			if !seen[next] {
				seen[next] = true
				queue = append(queue, next)
			}
		}
	}
	var out []string
	for id := range seen {
		out = append(out, id)
	}
	sort.Strings(out)
	return out
}

func targets(definitions []*procedure.Definition, own *procedure.Definition, voids []string) []string {
	var out []string
	for _, v := range voids {
		id, step, other := strings.Cut(v, "/")
		if !other {
			id, step = own.ID, v
		}
		for _, d := range definitions {
			for _, s := range d.Steps {
				if d.ID == id && (step == "*" || step == s.ID) {
					out = append(out, id+"/"+s.ID)
				}
			}
		}
	}
	return out
}

// What a touched place makes void, over the borders of the jobs. Common
// practice, no source, every row of it.
var relaxMap = []struct {
	name    string
	touched []string
	void    []string
}{
	{"the stem is slackened", []string{"stem-on-steerer/fit-stem"},
		[]string{"stem-on-steerer/set-preload", "stem-on-steerer/align-stem", "stem-on-steerer/tighten-stem", "final-check/test-ride"}},
	{"the top cap is turned", []string{"stem-on-steerer/set-preload"},
		[]string{"stem-on-steerer/align-stem", "stem-on-steerer/tighten-stem"}},
	{"the bar is rolled", []string{"handlebar/set-bar"},
		[]string{"handlebar/tighten-faceplate", "handlebar/check-gaps", "handlebar/slip-test", "levers/check-reach", "final-check/test-ride"}},
	{"a lever is moved", []string{"levers/set-levers"},
		[]string{"levers/tighten-levers", "levers/wrap-tape", "disc-caliper-front/check-function", "rim-brake-rear/check-function", "final-check/test-ride"}},
	{"a cup is moved", []string{"bottom-bracket-threaded/tighten-drive-side", "bottom-bracket-threaded/tighten-non-drive-side"},
		[]string{"crank-two-pinch-bolts/set-preload", "crank-self-extracting/tighten-bolt", "crank-square-taper/tighten-left-arm",
			"front-derailleur/set-height", "final-check/test-ride"}},
	{"a crank arm was off", []string{"crank-two-pinch-bolts/fit-left-arm"},
		[]string{"crank-two-pinch-bolts/set-preload", "crank-two-pinch-bolts/drop-plate", "crank-two-pinch-bolts/tighten-pinch-bolts", "final-check/test-ride"}},
	{"the drive side arm was off", []string{"crank-two-pinch-bolts/push-drive-arm", "crank-self-extracting/push-spindle", "crank-square-taper/seat-right-arm"},
		[]string{"front-derailleur/set-height", "chain-joining/check-run"}},
	{"the rear wheel was out", []string{"thru-axle-rear/seat-wheel", "wheel-in-slots-rear/seat-wheel"},
		[]string{"disc-caliper-rear/check-function", "rim-brake-rear/check-function", "rear-derailleur/index-gears", "final-check/check-clearance"}},
	{"the hanger is changed or bent back", []string{"rear-derailleur/compare-hanger", "rear-derailleur/align-hanger"},
		[]string{"rear-derailleur/set-limits", "rear-derailleur/set-gap", "rear-derailleur/index-gears"}},
	{"the cassette is changed", []string{"cassette-splined-body/load-sprockets"},
		[]string{"cassette-splined-body/tighten-lockring", "rear-derailleur/set-limits", "rear-derailleur/index-gears", "chain-joining/check-length",
			"thru-axle-rear/tighten-axle", "wheel-in-slots-rear/secure-wheel"}},
	{"the chain is opened", []string{"chain-joining/check-length"},
		[]string{"chain-joining/join-link", "chain-joining/join-pin", "chain-joining/check-run", "rear-derailleur/index-gears"}},
	{"spokes are turned", []string{"wheel-tension-rear/true-wheel"},
		[]string{"wheel-tension-rear/measure-again", "rim-brake-rear/set-pads", "thru-axle-rear/check-wheel", "final-check/check-clearance"}},
	{"the hub is opened", []string{"wheel-tension-front/lock-first-side", "wheel-tension-front/set-play"},
		[]string{"rotor-front/check-runout", "thru-axle-front/tighten-axle"}},
	{"the rotor is changed", []string{"rotor-front/fit-rotor", "rotor-front/fit-splined-rotor"},
		[]string{"disc-caliper-front/check-function", "disc-caliper-front/bed-in", "thru-axle-front/tighten-axle", "wheel-in-slots-front/secure-wheel", "final-check/test-ride"}},
	{"the caliper is moved", []string{"disc-caliper-rear/center-caliper"},
		[]string{"disc-caliper-rear/tighten-caliper", "disc-caliper-rear/check-function", "final-check/test-ride"}},
	{"pads are changed", []string{"disc-caliper-rear/fit-pads"}, []string{"disc-caliper-rear/check-function", "disc-caliper-rear/bed-in", "chain-lube/check-brakes"}},
	{"the saddle is tilted", []string{"saddle/position-saddle"}, []string{"saddle/tighten-clamp", "saddle/tighten-single", "saddle/check-position"}},
	{"the post is moved", []string{"seatpost/check-insertion"}, []string{"seatpost/tighten-collar", "seatpost/hold-test", "saddle/check-position"}},
	{"lube is opened", []string{"chain-lube/drip"}, []string{"chain-lube/check-brakes", "final-check/check-brakes"}},
}

func TestRelaxMap(t *testing.T) {
	for _, row := range relaxMap {
		for _, touched := range row.touched {
			require.Subset(t, spoiledBy(t, touched), row.void, "%s: %s", row.name, touched)
		}
	}
}

// Whatever is tightened on the bike spoils the check and the ride that come
// last; a re-check that finds nothing moved does not.
func TestEveryTighteningSpoilsTheRide(t *testing.T) {
	for _, d := range load(t).Definitions {
		for _, s := range d.Steps {
			if s.Torque == nil {
				continue
			}
			spoiled := spoiledBy(t, d.ID+"/"+s.ID)
			if s.Due == procedure.BeforeFinish {
				require.Contains(t, spoiled, "final-check/test-ride", "%s/%s", d.ID, s.ID)
			} else if strings.HasPrefix(s.ID, "recheck-") {
				require.NotContains(t, spoiled, "final-check/test-ride", "%s/%s", d.ID, s.ID)
			}
		}
	}
}
