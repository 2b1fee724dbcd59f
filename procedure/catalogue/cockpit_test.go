package catalogue_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// The facts in this file are what careful workshops do: common practice, no
// source, unless a test says otherwise.

// cockpitBike is an invented bike from steerer to grips, changed by pairs of
// "role.attribute" and value.
func cockpitBike(t testing.TB, changes ...string) *procedure.Sheet {
	t.Helper()
	parts := []procedure.Part{
		{Role: "frame", Material: "steel", Is: map[string]string{"head_tube_length": "145 mm"}},
		{Role: "fork", Material: "carbon", Is: map[string]string{"steerer_material": "alloy", "steerer_diameter": "28.6 mm",
			"steerer_length": "224.5 mm", "steerer_top": "plain", "spacer_limit": "30 mm"}},
		{Role: "headset", Material: "alloy", Is: map[string]string{"kind": "threadless", "height": "22 mm", "spacers": "20 mm"}},
		{Role: "stem", Material: "alloy", Is: map[string]string{"kind": "clamp-on", "clamp_height": "40 mm", "steerer_bore": "28.6 mm",
			"bar_bore": "31.8 mm", "steerer_prep": "dry", "bar_prep": "dry", "steerer_bolt": "M5x0.8", "face_bolts": "four",
			"face_bolt": "M5x0.8", "face_gap": "open", "bolts": "steel"}},
		{Role: "handlebar", Material: "alloy", Is: map[string]string{"shape": "drop", "clamp_diameter": "31.8 mm", "lever_bolts": "one",
			"lever_bolt": "M5x0.8", "shift_clamps": "none", "remote": "none"}},
		{Role: "steerer-plug", Material: "alloy", Is: map[string]string{"kind": "expander", "thread": "M6x1", "paste": "forbidden"}},
		{Role: "grips", Material: "resin", Is: map[string]string{"kind": "tape", "ends": "push-in"}},
		{Role: "brake-lever-front", Material: "alloy"},
		{Role: "brake-lever-rear", Material: "alloy"},
	}
	for i := 0; i < len(changes); i += 2 {
		role, name, _ := strings.Cut(changes[i], ".")
		for j := range parts {
			switch {
			case parts[j].Role != role:
			case name == "material":
				parts[j].Material = changes[i+1]
			default:
				parts[j].Is[name] = changes[i+1]
			}
		}
	}
	return &procedure.Sheet{Build: "cockpit", Invented: true, Parts: parts}
}

// cockpitPrint gives a part of the bike a figure for a joint, as printed on it.
func cockpitPrint(s *procedure.Sheet, role, joint, marking string) *procedure.Sheet {
	for i := range s.Parts {
		if s.Parts[i].Role == role {
			s.Parts[i].Printed = append(s.Parts[i].Printed,
				procedure.PrintedFigure{Joint: joint, Marking: marking, Seen: procedure.Printed, Where: "beside the bolts"})
		}
	}
	return s
}

func cockpitPlan(t testing.TB, job string, sheet *procedure.Sheet) *procedure.Plan {
	t.Helper()
	r, err := load(t).Resolve(job)
	require.NoError(t, err)
	p, err := procedure.NewPlan(r, sheet, nil, monday, procedure.Policy{})
	require.NoError(t, err)
	return p
}

// cockpitTightened lists step and joint of what a plan tightens before the release.
func cockpitTightened(p *procedure.Plan) []string {
	var out []string
	for i := range p.Steps {
		if s := &p.Steps[i]; s.Torque != nil && s.Due == procedure.BeforeFinish {
			out = append(out, s.ID+" "+s.Torque.Joint)
		}
	}
	return out
}

func cockpitStep(t testing.TB, p *procedure.Plan, id string) *procedure.PlannedStep {
	t.Helper()
	s, ok := p.Step(id)
	require.True(t, ok, id)
	return s
}

// Every row of the trade's table from steerer to bar end, with its window and
// prep (testdata/windows_cockpit.csv names the source of each: common
// practice, no source).
func TestCockpitWindows(t *testing.T) {
	c := load(t)
	rows := records(t, "windows_cockpit.csv")
	require.Len(t, rows, 24)
	for _, r := range rows {
		row, ok := c.Joint(r["joint"])
		require.True(t, ok, r["joint"])
		m, err := torque.ParseMarking(row.Window)
		require.NoError(t, err)
		got, err := m.Window()
		require.NoError(t, err)
		want, err := torque.NewWindow(newtonMeters(t, r["min_nm"]), newtonMeters(t, r["max_nm"]))
		require.NoError(t, err)
		require.Equal(t, want, got, row.ID)
		require.Equal(t, r["prep"], row.ThreadPrep.String(), row.ID)
		require.Equal(t, procedure.Source{Text: procedure.CommonPractice, Confidence: procedure.FromMemory}, row.Source, row.ID)
	}
}

// Bolt count, thread, bar and plate decide what is tightened and in which
// order. Two bolts and one bolt are for metal bars: on carbon no row holds.
func TestHandlebarByStemAndBar(t *testing.T) {
	for _, tc := range []struct {
		name    string
		changes []string
		want    []string
		stops   []string
	}{
		{"four M5, metal", nil, []string{"tighten-faceplate faceplate-bolt-m5-x4-metal-bar"}, nil},
		{"four M5, carbon", []string{"handlebar.material", "carbon"}, []string{"tighten-faceplate faceplate-bolt-m5-x4-carbon-bar"}, nil},
		{"four M4", []string{"stem.face_bolt", "M4x0.7"}, []string{"tighten-faceplate faceplate-bolt-m4-x4"}, nil},
		{"closed gap", []string{"stem.face_gap", "closed"}, []string{"close-edge faceplate-bolt-m5-x4-metal-bar",
			"bring-up-open-edge faceplate-bolt-m5-x4-metal-bar", "round-all-four faceplate-bolt-m5-x4-metal-bar"}, nil},
		{"two M6", []string{"stem.face_bolts", "two", "stem.face_bolt", "M6x1"}, []string{"tighten-two-bolts faceplate-bolt-m6-x2"}, nil},
		{"one M8", []string{"stem.face_bolts", "one", "stem.face_bolt", "M8x1.25"}, []string{"tighten-one-bolt stem-pinch-bolt-m8-single"}, nil},
		{"two M6, carbon", []string{"stem.face_bolts", "two", "stem.face_bolt", "M6x1", "handlebar.material", "carbon"}, nil, []string{procedure.FindingNoJoint}},
		{"one M8, carbon", []string{"stem.face_bolts", "one", "stem.face_bolt", "M8x1.25", "handlebar.material", "carbon"}, nil, []string{procedure.FindingNoJoint}},
		{"four of a size nobody knows", []string{"stem.face_bolt", "M6x1"}, nil, []string{procedure.FindingNoJoint}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := cockpitPlan(t, "handlebar", cockpitBike(t, tc.changes...))
			require.Equal(t, tc.want, cockpitTightened(p))
			require.Subset(t, blocking(p), tc.stops)
			require.NotContains(t, blocking(p), procedure.FindingNoPrep)
			require.NotContains(t, blocking(p), procedure.FindingAttributeMissing)
		})
	}
}

// Four bolts go crosswise, upper left, lower right, upper right, lower left; a
// plate with a closed edge gets that edge first. Only a closing round counts.
func TestFaceplateOrder(t *testing.T) {
	s, _ := step(t, definition(t, "handlebar"), "tighten-faceplate")
	require.Equal(t, []string{"1", "4", "2", "3"}, s.Torque.Order)
	require.Contains(t, s.Do, "1 upper left, 2 upper right, 3 lower left, 4 lower right")
	require.Equal(t, []int{40, 80, 100}, s.Torque.Passes)
	require.True(t, s.Torque.Closing)
	require.Equal(t, 3, s.Torque.ClosingLimit)
	d := definition(t, "handlebar")
	inOrder(t, d, "close-edge", "bring-up-open-edge", "round-all-four", "check-gaps", "slip-test", "recheck-faceplate")
	edge, _ := step(t, d, "close-edge")
	require.Equal(t, []int{100}, edge.Torque.Passes)
	other, _ := step(t, d, "bring-up-open-edge")
	require.Equal(t, []int{50, 100}, other.Torque.Passes)
	all, _ := step(t, d, "round-all-four")
	require.Len(t, all.Torque.Bolts, 4)
	require.True(t, all.Torque.Closing)
}

// Four gaps are measured one by one; left and right differ by 0.3 mm at most,
// top and bottom by 0.5 mm. A closed edge has no gap to measure.
func TestGaps(t *testing.T) {
	open := cockpitStep(t, cockpitPlan(t, "handlebar", cockpitBike(t)), "check-gaps")
	var measured []string
	most := map[string]string{}
	for _, c := range open.Checks {
		require.Equal(t, procedure.Measure, c.Kind)
		measured = append(measured, c.ID)
		most[c.ID] = c.Max
	}
	require.Equal(t, []string{"gap-upper-left", "gap-upper-right", "gap-lower-left", "gap-lower-right", "left-right", "top-bottom"}, measured)
	require.Equal(t, "0.3", most["left-right"])
	require.Equal(t, "0.5", most["top-bottom"])
	closed := cockpitStep(t, cockpitPlan(t, "handlebar", cockpitBike(t, "stem.face_gap", "closed")), "check-gaps")
	require.Len(t, closed.Checks, 4)
	require.Equal(t, procedure.Look, closed.Checks[0].Kind)
}

// A plate of unknown design is tightened as an open one, on a foreman's word.
func TestUnknownPlateWaitsForTheForeman(t *testing.T) {
	p := cockpitPlan(t, "handlebar", cockpitBike(t, "stem.face_gap", "unknown"))
	require.Equal(t, procedure.ForemanSigns, cockpitStep(t, p, "read-design").Hold.By)
	require.Len(t, cockpitTightened(p), 1)
	p = cockpitPlan(t, "handlebar", cockpitBike(t))
	require.Nil(t, cockpitStep(t, p, "read-design").Hold)
}

// The lower of two printed figures governs: the bar's, where the stem allows
// more.
func TestBarFigureGoverns(t *testing.T) {
	sheet := cockpitBike(t, "handlebar.material", "carbon")
	cockpitPrint(sheet, "stem", "faceplate-bolt-m5-x4-carbon-bar", "5-6 Nm")
	cockpitPrint(sheet, "handlebar", "faceplate-bolt-m5-x4-carbon-bar", "max 5 Nm")
	p := cockpitPlan(t, "handlebar", sheet)
	require.Empty(t, blocking(p))
	high, ok := cockpitStep(t, p, "tighten-faceplate").Torque.Window.Max()
	require.True(t, ok)
	require.Equal(t, newtonMeters(t, "5"), high)
}

// Carbon takes paste between the faces and never grease, metal is clean and
// dry, a trace of grease only on the maker's word; the thread has a prep of
// its own, and paste is forbidden on it.
func TestPrepOfBarAndThread(t *testing.T) {
	for _, tc := range []struct {
		name    string
		changes []string
		use     procedure.Prep
		never   procedure.Prep
	}{
		{"carbon bar", []string{"handlebar.material", "carbon"}, procedure.CarbonPaste, procedure.Grease},
		{"carbon bar, film allowed for metal", []string{"handlebar.material", "carbon", "stem.bar_prep", "film"}, procedure.CarbonPaste, procedure.Grease},
		{"metal bar in a carbon stem", []string{"stem.material", "carbon"}, procedure.CarbonPaste, procedure.Grease},
		{"metal in metal", nil, procedure.Dry, procedure.CarbonPaste},
		{"metal in metal, film allowed", []string{"stem.bar_prep", "film"}, procedure.Grease, procedure.CarbonPaste},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := cockpitPlan(t, "handlebar", cockpitBike(t, tc.changes...))
			face := cockpitStep(t, p, "prepare-clamp").FacePrep
			require.Equal(t, tc.use, face.Use)
			require.Contains(t, face.Never, tc.never)
			thread := cockpitStep(t, p, "prepare-threads").ThreadPrep
			require.Equal(t, procedure.Grease, thread.Use)
			require.Contains(t, thread.Never, procedure.CarbonPaste)
		})
	}
}

// Titanium bolts take anti-seize; bolts that came coated take nothing.
func TestPrepOfStemBolts(t *testing.T) {
	for bolts, want := range map[string]procedure.Prep{"steel": procedure.Grease, "titanium": procedure.AntiSeize, "pre-coated": procedure.PreApplied} {
		bike := cockpitBike(t, "stem.bolts", bolts)
		require.Equal(t, want, cockpitStep(t, cockpitPlan(t, "handlebar", bike), "prepare-threads").ThreadPrep.Use, bolts)
		require.Equal(t, want, cockpitStep(t, cockpitPlan(t, "stem-on-steerer", bike), "prepare-stem-bolts").ThreadPrep.Use, bolts)
	}
}

// The steerer is clamped clean and dry, carbon or metal; paste on carbon only
// where the fork's maker allows it.
func TestPrepOfSteerer(t *testing.T) {
	for _, tc := range []struct {
		material, allows string
		want             procedure.Prep
	}{
		{"carbon", "dry", procedure.Dry},
		{"carbon", "paste", procedure.CarbonPaste},
		{"alloy", "dry", procedure.Dry},
		{"steel", "paste", procedure.Dry},
	} {
		p := cockpitPlan(t, "stem-on-steerer", cockpitBike(t, "fork.steerer_material", tc.material, "stem.steerer_prep", tc.allows))
		face := cockpitStep(t, p, "fit-stem").FacePrep
		require.Equal(t, tc.want, face.Use, tc)
		require.Contains(t, face.Never, procedure.Grease)
	}
}

// Steerer and bolt decide the row; the larger bolt is for metal steerers.
func TestStemBySteerer(t *testing.T) {
	for _, tc := range []struct {
		material, bolt, joint string
	}{
		{"carbon", "M5x0.8", "steerer-clamp-bolt-m5-carbon-steerer"},
		{"alloy", "M5x0.8", "steerer-clamp-bolt-m5-metal-steerer"},
		{"titanium", "M5x0.8", "steerer-clamp-bolt-m5-metal-steerer"},
		{"steel", "M6x1", "steerer-clamp-bolt-m6"},
	} {
		p := cockpitPlan(t, "stem-on-steerer", cockpitBike(t, "fork.steerer_material", tc.material, "stem.steerer_bolt", tc.bolt))
		require.Equal(t, tc.joint, cockpitStep(t, p, "tighten-stem").Torque.Joint)
	}
	p := cockpitPlan(t, "stem-on-steerer", cockpitBike(t, "fork.steerer_material", "carbon", "stem.steerer_bolt", "M6x1"))
	require.Contains(t, blocking(p), procedure.FindingNoJoint)
	p = cockpitPlan(t, "stem-on-steerer", cockpitBike(t, "stem.kind", "quill"))
	require.Contains(t, blocking(p), procedure.FindingOtherProcedure)
}

// The preload is found by feel, with the stem bolts loose, before the clamp;
// that they are loose is a step of its own. Afterwards the cap is left alone.
func TestPreloadBeforeClamp(t *testing.T) {
	d := definition(t, "stem-on-steerer")
	inOrder(t, d, "measure-stack", "fit-stem", "check-loose", "set-preload", "align-stem", "tighten-stem", "check-steering", "leave-cap", "recheck-stem")
	s, at := step(t, d, "set-preload")
	require.True(t, s.Torque.ByFeel)
	require.Equal(t, procedure.FunctionCritical, s.Risk)
	require.Equal(t, "check-loose", d.Steps[at-1].ID)
	require.Nil(t, d.Steps[at-1].Torque)
	top, _ := step(t, d, "leave-cap")
	require.Nil(t, top.Torque)
	for _, r := range top.Rework {
		require.Equal(t, "check-loose", r.From)
	}
}

// A slackened clamp takes preload and alignment with it; rolling the bar takes
// all bolts, the gaps and the reach of the levers.
func TestCockpitVoids(t *testing.T) {
	s, _ := step(t, definition(t, "stem-on-steerer"), "check-loose")
	require.Subset(t, s.Voids, []string{"set-preload", "align-stem", "tighten-stem", "check-steering"})
	s, _ = step(t, definition(t, "handlebar"), "set-bar")
	require.Subset(t, s.Voids, []string{"tighten-faceplate", "round-all-four", "tighten-two-bolts", "tighten-one-bolt", "check-gaps", "slip-test", "levers/check-reach"})
	s, _ = step(t, definition(t, "levers"), "set-levers")
	require.Subset(t, s.Voids, []string{"tighten-levers", "tighten-hinged-levers", "check-reach", "wrap-tape", "disc-caliper-front/check-function", "disc-caliper-rear/check-function"})
}

// A second person looks at steerer, faceplate and brake levers.
func TestCockpitHolds(t *testing.T) {
	for job, id := range map[string]string{"stem-on-steerer": "tighten-stem", "handlebar": "check-gaps", "levers": "twist-levers"} {
		s, _ := step(t, definition(t, job), id)
		require.Equal(t, procedure.SecondPerson, s.Hold.By, id)
		require.Empty(t, s.Hold.When, id)
	}
}

// Slip is answered with cleaning and paste, never with more torque: the way
// back leads to a step that prepares faces and tightens nothing.
func TestSlipIsNeverAnsweredWithTorque(t *testing.T) {
	answered := 0
	for _, job := range []string{"stem-on-steerer", "handlebar", "levers"} {
		d := definition(t, job)
		for _, s := range d.Steps {
			for _, r := range s.Rework {
				if !strings.Contains(r.Do, "Never more torque") {
					continue
				}
				answered++
				back, _ := step(t, d, r.From)
				require.Nil(t, back.Torque, "%s/%s", job, s.ID)
				require.NotEmpty(t, back.Prep.Face, "%s/%s", job, s.ID)
			}
		}
	}
	require.GreaterOrEqual(t, answered, 8)
}

// Levers by shape and material of the bar, with one or two bolts each; a shift
// lever with its own clamp, a remote, and lock rings only where they are.
func TestLeversByBar(t *testing.T) {
	for _, tc := range []struct {
		name    string
		changes []string
		want    []string
	}{
		{"drop, metal", nil, []string{"tighten-levers drop-bar-lever-clamp-metal-bar"}},
		{"drop, carbon", []string{"handlebar.material", "carbon"}, []string{"tighten-levers drop-bar-lever-clamp-carbon-bar"}},
		{"flat, metal, M6", []string{"handlebar.shape", "flat", "handlebar.lever_bolt", "M6x1", "handlebar.shift_clamps", "one", "handlebar.remote", "fitted",
			"grips.kind", "lock-on", "grips.rings", "one", "grips.ends", "closed-grip"},
			[]string{"tighten-levers flat-bar-brake-lever-clamp-metal-bar", "tighten-shift-lever flat-bar-shift-lever-clamp-metal-bar",
				"tighten-remote remote-lever-clamp-m5", "tighten-grips-one-ring grip-lock-ring-m4-metal-bar"}},
		{"flat, carbon, two bolts", []string{"handlebar.shape", "flat", "handlebar.material", "carbon", "handlebar.lever_bolts", "two",
			"handlebar.shift_clamps", "two", "grips.kind", "lock-on", "grips.rings", "two"},
			[]string{"tighten-hinged-levers flat-bar-brake-lever-clamp-carbon-bar", "tighten-shift-levers flat-bar-shift-lever-clamp-carbon-bar",
				"tighten-grips-two-rings grip-lock-ring-m4-carbon-bar"}},
		{"flat, slid on", []string{"handlebar.shape", "flat", "grips.kind", "slide-on"}, []string{"tighten-levers flat-bar-brake-lever-clamp-metal-bar"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := cockpitPlan(t, "levers", cockpitBike(t, tc.changes...))
			require.Equal(t, tc.want, cockpitTightened(p))
			require.Subset(t, []string{procedure.FindingFromMemory}, blocking(p))
			hand := cockpitStep(t, p, "prepare-clamp-faces").FacePrep
			require.Contains(t, hand.Never, procedure.Grease)
		})
	}
}

// Whatever closes the bar ends, a step asks for it before the bike leaves.
func TestBarEndsAreClosed(t *testing.T) {
	for ends, id := range map[string]string{"expander": "plug-ends", "push-in": "close-ends", "closed-grip": "close-ends"} {
		s := cockpitStep(t, cockpitPlan(t, "levers", cockpitBike(t, "grips.ends", ends)), id)
		require.Equal(t, procedure.BeforeRelease, s.Due, ends)
		require.Contains(t, s.Source.Text, "ISO 4210-2:2014")
	}
}

// Bolts that bed in are pulled again after the ride and may have moved by 10
// degrees at most.
func TestCockpitRechecks(t *testing.T) {
	for job, ids := range map[string][]string{"stem-on-steerer": {"recheck-stem"},
		"handlebar": {"recheck-faceplate", "recheck-two-bolts", "recheck-one-bolt"}, "levers": {"recheck-levers", "recheck-hinged-levers"}} {
		for _, id := range ids {
			s, _ := step(t, definition(t, job), id)
			require.Equal(t, procedure.BeforeRelease, s.Due, id)
			require.Equal(t, []int{100}, s.Torque.Passes, id)
			require.Equal(t, []string{"deg", "10"}, []string{s.Checks[0].Unit, s.Checks[0].Max}, id)
		}
	}
}

// Figures of published documents, each with the document that the check names.
// All were read as extracts or in a national copy, and the text says so.
func TestPublishedFiguresOfTheCockpit(t *testing.T) {
	for _, tc := range []struct {
		job, step, check, end, figure, source string
	}{
		{"stem-on-steerer", "measure-stack", "drop-below-stem", "max", "5", "ISO 4210-2, as carried in TBIS 4210-2:2018, 4.7.4"},
		{"stem-on-steerer", "set-preload", "turns-each-side", "min", "60", "TBIS 15194:2019, 4.3.6.5, for assisted cycles"},
		{"levers", "check-reach", "opening", "max", "89", "16 CFR 1512.5"},
	} {
		s, _ := step(t, definition(t, tc.job), tc.step)
		found := false
		for _, c := range s.Checks {
			if c.ID != tc.check {
				continue
			}
			found = true
			require.Equal(t, tc.figure, map[string]string{"min": c.Min, "max": c.Max}[tc.end], tc.check)
			require.Contains(t, c.Source.Text, tc.source)
			require.Contains(t, c.Source.Text, "read as an extract")
			require.Equal(t, procedure.Documented, c.Source.Confidence)
		}
		require.True(t, found, tc.check)
	}
}

// Common practice, no source: the shop works to 2 mm to 3 mm, well inside the
// 5 mm of the standard.
func TestSteererEndsBelowTheStem(t *testing.T) {
	s, _ := step(t, definition(t, "stem-on-steerer"), "measure-stack")
	require.Equal(t, []string{"2", "3", "mm"}, []string{s.Checks[0].Min, s.Checks[0].Max, s.Checks[0].Unit})
	require.Nil(t, s.Checks[0].Source, "the range of the shop is nobody's standard")
}
