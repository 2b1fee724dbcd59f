package catalogue_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

var update = flag.Bool("update", false, "write the golden files anew")

// loadOnce keeps the tests short; nothing changes what it returns.
var loadOnce = sync.OnceValues(func() (*catalogue.Catalogue, error) { return catalogue.Load() })

func load(t testing.TB) *catalogue.Catalogue {
	t.Helper()
	c, err := loadOnce()
	require.NoError(t, err)
	return c
}

func smallJob(t testing.TB) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "small-job.yaml"))
	require.NoError(t, err)
	return string(data)
}

// readAndCheck does with one procedure what the loader does with each.
func readAndCheck(c *catalogue.Catalogue, text string) error {
	const file = "small-job.yaml"
	d, err := procedure.ReadDefinition(file, []byte(text))
	if err != nil {
		return err
	}
	if err := d.TakeSkills(c.Skills); err != nil {
		return procedure.Locate(err, file, []byte(text))
	}
	return procedure.Locate(procedure.CheckDefinition(d, c.Joints, c.Vocabulary, c.Definitions), file, []byte(text))
}

// A slip is one thing an author gets wrong in the sound procedure.
type slip struct {
	name     string
	old, new string
	// bySchema says that an editor with the schema finds it too; the rest
	// needs the joint table, the vocabulary or the other steps.
	bySchema bool
}

var slips = []slip{
	{"unknown key", "    torque:\n", "    torqe:\n", true},
	{"unknown key of a check", "kind: look,", "kind: look, colour: red,", true},
	{"key twice", "    hold: {", "    why: Twice.\n    hold: {", false},
	{"list where text belongs", "do: Coat the thread.", "do: [Coat, the, thread]", true},
	{"text where a list belongs", "passes: [50, 75, 100]", "passes: all", true},
	{"text where a number belongs", "edition: 1", "edition: first", true},
	{"fraction where a whole number belongs", "minutes: 10", "minutes: 10.5", true},
	{"truth value where text belongs", "title: Look again", "title: true", true},
	{"nothing after a key", "why: It settles once.", "why:", true},
	{"text with a comma", "do: Wipe it off. }", "do: Wipe it off, twice. }", true},
	{"anchor", "title: A small job", "title: &t A small job", false},
	{"tag", "title: A small job", "title: !!str A small job", false},
	{"second document", "edition: 1", "edition: 1\n---\nid: other", false},
	{"tab as indent", "  - id: recheck", "\t- id: recheck", false},
	{"unknown prep", "use: grease", "use: greese", true},
	{"unknown kind of check", "kind: photo", "kind: picture", true},
	{"unknown signer", "by: second-person", "by: second person", true},
	{"unknown class", "risk: safety-critical", "risk: critical", true},
	{"unknown confidence", "confidence: from-memory }\nminutes", "confidence: certain }\nminutes", true},
	{"unknown due", "due: release", "due: after-ride", true},
	{"malformed thread", "thread: M6x1", "thread: M6 by 1", false},
	{"malformed duration", "for: 24h", "for: 1 day", true},
	{"malformed id", "id: small-job", "id: Small Job", true},
	{"edition 0", "edition: 1", "edition: 0", true},
	{"least minutes above minutes", "least_minutes: 5", "least_minutes: 50", false},
	{"no risk", "risk: safety-critical\n", "", true},
	{"risk below the worst joint", "risk: safety-critical", "risk: function-critical", false},
	{"no source", "source: { text: \"common practice, no source\", confidence: from-memory }\nminutes", "minutes", true},
	{"no why", "    why: They share a slot.\n", "", true},
	{"no accept", "    accept: None turns.\n", "", true},
	{"no rework", "    rework:\n      - { if: something moved, do: Begin again., from: prepare }\n", "", true},
	{"text too long for the tablet", "do: Look after the ride.", "do: " + strings.Repeat("Look again. ", 18), true},
	{"line break in a text", "do: Look after the ride.", "do: |\n      Look after\n      the ride.", false},
	{"torque in a text", "do: Pull in rounds.", "do: Pull to 13 N·m.", false},
	{"step id twice", "- id: recheck", "- id: tighten", false},
	{"reserved step id", "- id: recheck", "- id: finish", false},
	{"unknown role", "roles: [freehub-body, cassette,", "roles: [freehub-body, casette,", false},
	{"unknown part of a step", "parts: [crank-arm-left]", "parts: [crank-arm]", false},
	{"unknown fit rule", "fit: [body-length]", "fit: [body-lenght]", false},
	{"unknown earlier procedure", "after: [bottom-bracket-threaded]", "after: [bottom-bracket-thread]", false},
	{"unknown skill", "skills: [{ id: cranks }]", "skills: [{ id: crank }]", false},
	{"unknown joint", "joint: crank-pinch-bolt-m6", "joint: crank-pinch-bolt-m5", false},
	{"unknown attribute in a condition", "crank-arm-left.pinch_bolts: [plain]", "crank-arm-left.pinch_bolt: [plain]", false},
	{"unknown value in a condition", "pinch_bolts: [plain]", "pinch_bolts: [plane]", false},
	{"unknown material in a condition", "material: [titanium] }", "material: [titanum] }", false},
	{"unknown verdict in a condition", "[fits, fits-with]", "[fits, fits-width]", false},
	{"condition on a part the job does not have", "crank-arm-left.material:", "bottom-bracket.material:", false},
	{"condition without values", "pinch_bolts: [plain]", "pinch_bolts: []", true},
	{"condition on a fit rule that is not run", "fit.body-length: [fits", "fit.spline-pattern: [fits", false},
	{"prep that is never reached", "when: { crank-arm-left.material: [titanium] }, use: anti-seize", "use: anti-seize", false},
	{"prep without a reason", "use: grease, why: \"Half of the pull is lost here.\"", "use: grease", true},
	{"face prep without a place", "      where: under the heads\n", "", true},
	{"paste on a thread", "use: threadlocker-medium, why", "use: carbon-paste, why", false},
	{"threadlocker without a wait", "      - with: [threadlocker-medium]\n", "      - with: [threadlocker-low]\n", false},
	{"wait without conditions", "        longer: [{ metals: [titanium], times: 2 }, { below_celsius: 10, times: 2 }]\n", "", false},
	{"factor without a condition", "{ metals: [titanium], times: 2 }", "{ times: 2 }", true},
	{"wait for an earlier step", "before: recheck", "before: prepare", false},
	{"wait without a reason", "        why: It cures.\n", "", true},
	{"wait without a source", "        why: It cures.\n        source: { text: \"common practice, no source\", confidence: from-memory }\n", "        why: It cures.\n", true},
	{"torque without prep", "    threads: [{ thread: M6x1 }]", "    threads: [{ thread: M8x1 }]", false},
	{"thread prep without a thread", "    threads: [{ thread: M6x1 }]\n", "", false},
	{"thread and where it comes from", "{ thread: M6x1 }", "{ thread: M6x1, thread_from: crankset.bolt_thread }", true},
	{"thread from something else", "{ thread: M6x1 }", "{ thread_from: crankset.needs_width }", false},
	{"passes that fall", "passes: [50, 75, 100]", "passes: [75, 50, 100]", false},
	{"passes that end early", "passes: [50, 75, 100]", "passes: [50, 75]", false},
	{"pass above full value", "passes: [50, 75, 100]", "passes: [50, 75, 110]", true},
	{"order with a bolt that is not there", "order: [B, A]", "order: [B, C]", false},
	{"order that forgets a bolt", "order: [B, A]", "order: [B]", false},
	{"group without a closing round", "      closing: true\n      closing_limit: 3\n", "", false},
	{"limit without a closing round", "bolts: [A, B]\n      order: [B, A]\n      passes: [50, 75, 100]\n      closing: true", "bolts: [A]\n      passes: [100]", false},
	{"no bolts", "bolts: [A, B]\n      order: [B, A]", "bolts: []", true},
	{"hold without a signer", "hold: { by: second-person, looks_at", "hold: { looks_at", true},
	{"hold without a look", "by: second-person, looks_at: \"Sees that no bolt turns.\"", "by: second-person", true},
	{"measure without a unit", "unit: mm, min: 1", "min: 1", true},
	{"measure without limits", "min: 1, max: 2, ", "", true},
	{"measure without an instrument", "max: 2, instrument: caliper", "max: 2", true},
	{"measure without an error", "instrument: caliper, error: 0.1", "instrument: caliper", true},
	{"measure with reversed limits", "min: 1, max: 2", "min: 2, max: 1", false},
	{"measure finer than its instrument", "min: 1, max: 2", "min: 1, max: 1.1", false},
	{"look with limits", "kind: look, ask: \"Is the slot even?\"", "kind: look, ask: \"Is the slot even?\", max: 2", true},
	{"expected number of another rule", "expect: body-length.spacer", "expect: spline-pattern.spacer", false},
	{"expected number that is not worked out", "expect: body-length.spacer", "expect: body-length.spacers", false},
	{"expected number without a tolerance", "expect: body-length.spacer, within: 0.1", "expect: body-length.spacer", true},
	{"step without evidence", "    checks:\n      - { id: still, kind: photo, ask: Photograph the bolts. }\n", "", false},
	{"void of a step that is not there", "voids: [recheck, \"pedals/*\"]", "voids: [rechek, \"pedals/*\"]", false},
	{"void of a procedure that is not there", "\"pedals/*\"", "\"pedal/*\"", false},
	{"void of a step of another procedure that is not there", "\"pedals/*\"", "pedals/tighten", false},
	{"void of itself", "voids: [tighten]", "voids: [prepare]", false},
	{"voids in a circle", "voids: [recheck, \"pedals/*\"]", "voids: [recheck, prepare]", false},
	{"rework from a later step", "do: Wipe it off. }", "do: Wipe it off., from: tighten }", false},
	{"rework from a step that is not there", "do: Begin again., from: prepare }\n      - { if: the", "do: Begin again., from: prep }\n      - { if: the", false},
	{"word twice in a list", "parts: [crank-arm-left]", "parts: [crank-arm-left, crank-arm-left]", true},
	{"unknown role in a condition", "crank-arm-left.material:", "crank-arm.material:", false},
	{"length in another form than on a sheet", "crank-arm-left.pinch_bolts: [plain]", "freehub-body.length: [36.750 mm]", false},
	{"length without a unit in a condition", "crank-arm-left.pinch_bolts: [plain]", "freehub-body.length: [36.75]", false},
	{"neither a thread nor where it comes from", "{ thread: M6x1 }", "{ when: { crank-arm-left.pinch_bolts: [plain] } }", true},
	{"thread from an attribute that is not there", "{ thread: M6x1 }", "{ thread_from: crankset.bolt_tread }", false},
	{"thread from a part the job does not have", "{ thread: M6x1 }", "{ thread_from: pedal-left.thread }", false},
	{"threads beside a torque", "    torque:\n", "    threads: [{ thread: M6x1 }]\n    torque:\n", false},
	{"prep that says nothing", "    torque:\n", "    prep: {}\n    torque:\n", true},
	{"prep of nothing", "use: grease, why", "why", true},
	{"threadlocker on a face", "use: grease, why", "use: threadlocker-low, why", false},
	{"check twice", "id: gap", "id: even", false},
	{"check without a kind", "id: even, kind: look,", "id: even,", true},
	{"malformed limit", "min: 1, max: 2", "min: one, max: 2", true},
	{"malformed upper limit", "min: 1, max: 2", "min: 1, max: 1e3", false},
	{"negative error", "error: 0.1", "error: -0.1", true},
	{"tolerance without an expected number", "min: 1, max: 2", "min: 1, max: 2, within: 1", true},
	{"limits and an expected number", "expect: body-length.spacer", "min: 1, expect: body-length.spacer", true},
	{"tolerance finer than the instrument", "within: 0.1", "within: 0.01", false},
	{"unknown unit", "unit: mm, min: 1", "unit: inch, min: 1", true},
	{"wait of no length", "for: 24h", "for: 0s", false},
	{"factor of one", "below_celsius: 10, times: 2", "below_celsius: 10, times: 1", true},
	{"unknown metal", "metals: [titanium]", "metals: [titan]", false},
	{"torque without a joint", "joints:\n        - { when: { crank-arm-left.pinch_bolts: [plain] }, joint: crank-pinch-bolt-m6 }", "joints: []", true},
	{"joint whose thread the job cannot know", "joint: crank-pinch-bolt-m6", "joint: cassette-lockring-narrow-spline", false},
	{"too many closing rounds", "closing_limit: 3", "closing_limit: 30", true},
	{"void of an own step by its full name", "voids: [tighten]", "voids: [small-job/tighten]", false},
	{"no roles", "roles: [freehub-body, cassette, crankset, crank-arm-left, spindle]", "roles: []", true},
	{"no skills", "skills: [{ id: cranks }]", "skills: []", true},
	{"own skill with an unknown need", "skills: [{ id: cranks }]", "skills: [{ id: mine, title: Mine, needs: [crank] }]", false},
	{"own skills in a circle", "skills: [{ id: cranks }]", "skills: [{ id: a, title: A, needs: [b] }, { id: b, title: B, needs: [a] }]", false},
	{"step where nothing fits", "[fits, fits-with]", "[does-not-fit]", false},
	{"choice outside what the job is for", "fit: [body-length]", "fit: [body-length]\nwhen: { crank-arm-left.material: [alloy] }", false},
	{"step outside what the job is for", "fit: [body-length]\n", "fit: [body-length]\nwhen: { fit.body-length: [try-and-measure] }\n", false},
	{"choice behind all others", "{ when: { crank-arm-left.material: [titanium] }, use: anti-seize", "{ when: { crank-arm-left.material: [steel, stainless, alloy, anodised-alloy, titanium, carbon, resin, brass] }, use: anti-seize", false},
	{"wait that forgets the cold", ", { below_celsius: 10, times: 2 }", "", false},
	{"wait that forgets the metals", "{ metals: [titanium], times: 2 }, ", "", false},
	{"wait for any prep without conditions", "      - with: [threadlocker-medium]\n        for: 24h\n        before: recheck\n        longer: [{ metals: [titanium], times: 2 }, { below_celsius: 10, times: 2 }]\n", "      - for: 24h\n        before: recheck\n", false},
	{"left pedal thread without its hand", "{ thread: M6x1 }", "{ thread: 9/16 in x 20 tpi }", false},
	{"lockring thread without its hand", "{ thread: M6x1 }", "{ thread: 1.29 in x 24 tpi }", false},
	{"job step behind a release step", "    parts: [crank-arm-left]\n", "    parts: [crank-arm-left]\n    due: release\n", false},
}

// breakIt applies a slip and makes sure that it still applies.
func breakIt(t testing.TB, s slip) string {
	t.Helper()
	sound := smallJob(t)
	require.Equal(t, 1, min(1, strings.Count(sound, s.old)), "%s: %q is not in the sample", s.name, s.old)
	return strings.Replace(sound, s.old, s.new, 1)
}

func TestSmallJobIsSound(t *testing.T) {
	require.NoError(t, readAndCheck(load(t), smallJob(t)))
}

// Every refusal names file, line and field and says how to mend it.
func TestRefusals(t *testing.T) {
	c := load(t)
	var out strings.Builder
	for _, s := range slips {
		err := readAndCheck(c, breakIt(t, s))
		require.Error(t, err, s.name)
		fmt.Fprintf(&out, "# %s\n", s.name)
		for _, fe := range procedure.FieldErrors(err) {
			require.Equal(t, "small-job.yaml", fe.File, s.name)
			require.NotEmpty(t, fe.Rule, s.name)
			fmt.Fprintf(&out, "%s [%s]\n", fe, fe.Rule)
		}
		out.WriteString("\n")
	}
	golden(t, "refusals.golden", out.String())
}

func golden(t testing.TB, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Empty(t, cmp.Diff(string(want), got))
}
