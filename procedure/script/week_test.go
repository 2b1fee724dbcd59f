package script_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure/script"
	"github.com/tightwright/tightwright/testdata/week"
)

// A said is one command of the week, on which bike it was given, and what the
// bench answered.
type said struct {
	file, bike, command string
	answers             []string
}

// has reports whether one of the answers begins so.
func (s said) has(start string) bool {
	return slices.ContainsFunc(s.answers, func(a string) bool { return strings.HasPrefix(a, start) })
}

// playedWeek plays the week on the pure domain and returns all that was said.
func playedWeek(t *testing.T) []said {
	t.Helper()
	folder := os.DirFS(filepath.Join(data, "week"))
	p := newPlayer(t, folder)
	var all []said
	bike := ""
	for _, name := range week.Scripts() {
		text, err := fs.ReadFile(folder, name)
		require.NoError(t, err)
		lines, err := script.Parse(string(text))
		require.NoError(t, err)
		for _, l := range lines {
			answers, err := p.Play(l)
			require.NoError(t, err, name)
			if l.IsRemark() {
				continue
			}
			if l.Words[0] == "on" || l.Words[0] == "build" {
				bike = l.Words[1]
			}
			all = append(all, said{strings.TrimSuffix(name, ".txt"), bike, l.Text, answers})
		}
	}
	return all
}

// find is the place of a command from a place on.
func find(t *testing.T, all []said, from int, file, bike, command string) int {
	t.Helper()
	for i := from; i < len(all); i++ {
		if s := all[i]; s.file == file && s.bike == bike && strings.HasPrefix(s.command, command) {
			return i
		}
	}
	t.Fatalf("%s: nobody says %q on %s", file, command, bike)
	return 0
}

// What the auditor says begins with the rule and the class of the worst joint.
const (
	safety   = ", safety-critical"
	function = ", function-critical"
)

// An occurrence is one thing that happened in the week: what was told to the
// bench, what the bench made of it, and what an audit of the bike says later.
type occurrence struct {
	words               string
	file, bike, command string
	// bench is how the answer begins: what is refused or does not count was
	// stopped, "conforming" and "worked" mean that the bench saw nothing.
	bench string
	// findings are how lines of the auditor begin; none where nothing is found.
	findings []string
}

// occurrences are the 24 events of the invented week, in the order of time,
// with several lines where an event has several sides. What the bench has to
// stop and the audit to find is common practice, no source.
func occurrences() []occurrence {
	discounts := func(rule string) string { return "does not count (" + rule + ")" }
	refuses := func(rule string) string { return "refused (" + rule + ")" }
	found := func(rule, class string) []string { return []string{"found (" + rule + class} }
	const seenNothing, out = ": conforming", ": nonconforming"
	return []occurrence{
		{"1 a wrench past its date", "monday", "b-03", `read crank tighten-right-arm "right crank bolt" 40`, discounts("tool-overdue"), found("tool-overdue", safety)},
		{"2 a steerer at its print, with a wrench that over-delivers and nobody knows", "monday", "b-01", "work stem with tw-02", "worked:", found("possibly-out-of-tolerance", safety)},
		{"3 a bar at its print, the same", "monday", "b-01", "work bar with tw-02", "worked:", found("possibly-out-of-tolerance", safety)},
		{"3 a builder signs as second person", "monday", "b-01", "sign bar check-gaps \"pulled all four, none", refuses("rank-too-low"), nil},
		{"3 and the work goes on without", "monday", "b-01", "look bar slip-test", discounts("hold-unsigned"), found("out-of-order", safety)},
		{"4 a trainee opens a job that she has not learnt", "tuesday", "b-02", "open cups", refuses("skill-missing"), nil},
		{"4 a cup crossed", "tuesday", "b-02", "measure cups start-drive-side turns-drive 1", out, found("nonconforming", function)},
		{"4 and a wrench on it", "tuesday", "b-02", `read cups tighten-drive-side "drive side cup" 25`, discounts("earlier-step-open"), found("out-of-order", function)},
		{"4 the second person is nobody", "tuesday", "b-02", "sign cups start-non-drive-side \"it looks", refuses("own-work"), found("signed-late", function)},
		{"5 a wrench for right-hand threads on a left-hand cup", "tuesday", "b-04", `read cups tighten-drive-side "drive side cup" 40 N.m tw-04`, discounts("tool-not-calibrated-in-this-direction"), found("tool-not-calibrated-in-this-direction", function)},
		{"6 a spacer left out and its thickness left blank", "tuesday", "b-02", "read cassette tighten-lockring", discounts("earlier-step-open"), found("out-of-order", function)},
		{"7 a plate skipped", "tuesday", "b-04", "read crank tighten-pinch-bolts A 6.5", discounts("earlier-step-open"), found("out-of-order", safety)},
		{"7 and six steps ticked in eight seconds", "tuesday", "b-04", "photo crank drop-plate", seenNothing, found("ticked-in-a-batch", safety)},
		{"8 grease where the record says paste", "wednesday", "b-09", "work post until hold-test", "worked:", found("nonconforming, safety-critical, reworked) in post/prepare-post", "")},
		{"8 and the post sinks", "wednesday", "b-09", "look post hold-test not-sunk no", out, found("nonconforming, safety-critical, reworked) in post/hold-test", "")},
		{"9 a collar pulled until it holds", "wednesday", "b-09", `read post tighten-collar "clamp bolt" 7`, out, found("nonconforming, safety-critical, reworked) in post/tighten-collar", "")},
		{"9 by somebody who had no business there", "wednesday", "b-09", `read post tighten-collar "clamp bolt" 5`, seenNothing, found("pulled-again", safety)},
		{"10 a tablet without a network", "wednesday", "b-06", "read bar tighten-faceplate 1 4.7", "kept on the tablet", nil},
		{"11 the old edition after noon", "wednesday", "b-06", "online", seenNothing, found("older-edition", safety)},
		{"12 the builder signs for himself", "wednesday", "b-06", "online", refuses("own-work"), nil},
		{"12 and in another's name, 35 seconds after", "wednesday", "b-06", "online", "recorded 63", found("signed-in-seconds", safety)},
		{"13 a reading with a wrench that had left", "wednesday", "b-06", `read crank tighten-bolt "crank bolt" 50`, discounts("tool-not-on-site"), found("tool-not-on-site", safety)},
		{"14 bedding in before the compound holds", "wednesday", "b-08", "measure caliper bed-in", discounts("wait-not-over"), found("wait-not-honored", safety)},
		{"14 the customer before the compound has cured", "friday", "b-08", "release", refuses("wait-not-over"), nil},
		{"15 a skill that had lapsed", "thursday", "b-09", "open rotor rotor-front", refuses("skill-lapsed"), nil},
		{"16 a left pedal in a right arm", "thursday", "b-07", "measure pedals start-right turns-right 1", out, found("nonconforming", safety)},
		{"17 a carbon bar by the figure for metal", "thursday", "b-11", "read levers tighten-levers left 7", out, found("nonconforming", safety)},
		{"18 an axle on the wrong card", "thursday", "b-08", "read axle tighten-axle axle 11", seenNothing, found("pulled-again", safety)},
		{"18 and the bike it belongs to", "thursday", "b-12", "finish axle", refuses("step-incomplete"), nil},
		{"19 the last pull with a wrench that is found out half an hour later", "friday", "b-12", "work stem with tw-02", "worked:", []string{"noted (possibly-out-of-tolerance" + safety}},
		{"20 lube with the brake open", "friday", "b-12", "look lube drip still-covered no", discounts("earlier-step-open"), found("out-of-order", safety)},
		{"20 a drop on the rotor", "friday", "b-12", "look lube check-brakes white-cloth no", out, found("nonconforming", safety)},
		{"21 a reading that the tool cannot show", "friday", "b-05", `read crank recheck-right-arm "right crank bolt" 33`, discounts("tool-out-of-range"), found("tool-out-of-range", safety)},
		{"22 a wrench that was set aside", "friday", "b-12", `read saddle tighten-single "clamp bolt" 8.5`, discounts("tool-quarantined"), found("tool-quarantined", safety)},
		{"23 a clean ride, and the bike leaves", "saturday", "b-03", "release", "recorded", nil},
		{"24 a derailleur that cannot take the cassette", "saturday", "b-11", "open gears", refuses("plan-blocked"), nil},
	}
}

func TestEveryEventOfTheWeek(t *testing.T) {
	all := playedWeek(t)
	for _, e := range occurrences() {
		t.Run(e.words, func(t *testing.T) {
			at := find(t, all, 0, e.file, e.bike, e.command)
			require.Contains(t, strings.Join(all[at].answers, "\n"), e.bench)
			for _, finding := range e.findings {
				require.True(t, isFound(all[at:], e.bike, finding), "no audit of %s says %q", e.bike, finding)
			}
		})
	}
}

// isFound reports whether an audit of a bike says so.
func isFound(all []said, bike, finding string) bool {
	return slices.ContainsFunc(all, func(s said) bool { return s.command == "audit" && s.bike == bike && s.has(finding) })
}

// All 24 events stand in the table.
func TestTheTableHasEveryEvent(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range occurrences() {
		number, _, _ := strings.Cut(e.words, " ")
		seen[number] = true
	}
	require.Len(t, seen, 24)
}

// Nobody in the week works faster than the work can be done, as far as whole
// jobs go, and nobody without the skill works alone.
func TestTheWeekGoesAtAHumanPace(t *testing.T) {
	for _, s := range playedWeek(t) {
		for _, a := range s.answers {
			require.NotContains(t, a, "faster-than-plausible")
			require.NotContains(t, a, "found (skill-")
			require.NotContains(t, a, "clock-ahead")
		}
	}
}
