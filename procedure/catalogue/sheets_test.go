package catalogue_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

var monday = time.Date(2025, 3, 3, 9, 0, 0, 0, time.UTC)

func readSheet(t testing.TB, name string) *procedure.Sheet {
	t.Helper()
	file := filepath.Join("../../testdata/sheets", name+".yaml")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	s, err := procedure.ReadSheet(file, data, load(t).Vocabulary)
	require.NoError(t, err)
	return s
}

func plan(t testing.TB, job, bike string) *procedure.Plan {
	t.Helper()
	r, err := load(t).Resolve(job)
	require.NoError(t, err)
	p, err := procedure.NewPlan(r, readSheet(t, bike), nil, monday, procedure.Policy{})
	require.NoError(t, err)
	return p
}

// blocking lists the rules of the findings that stop a plan, each once.
func blocking(p *procedure.Plan) []string {
	var out []string
	seen := map[string]bool{}
	for _, f := range p.Findings {
		if f.Blocks && !seen[f.Rule] {
			seen[f.Rule] = true
			out = append(out, f.Rule)
		}
	}
	return out
}

func TestSheetsSayThatTheyAreInvented(t *testing.T) {
	for _, file := range sheetFiles(t) {
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		s := readSheet(t, name)
		require.True(t, s.Invented, file)
		require.Equal(t, name, s.Build)
	}
}

// What each invented bike is there to show. A joint of a sheet exists in the
// joint table.
func TestJobsOnTheInventedBikes(t *testing.T) {
	for _, tc := range []struct {
		bike, job string
		stops     []string
	}{
		{"road-carbon", "cassette-splined-body", nil},
		{"road-carbon", "bottom-bracket-threaded", nil},
		{"road-carbon", "crank-two-pinch-bolts", nil},
		{"road-carbon", "pedals", nil},
		{"touring-steel", "cassette-splined-body", nil},
		{"touring-steel", "bottom-bracket-threaded", nil},
		{"touring-steel", "crank-square-taper", nil},
		{"touring-steel", "pedals", nil},
		{"trail-alloy", "cassette-splined-body", nil},
		{"trail-alloy", "bottom-bracket-threaded", nil},
		{"trail-alloy", "crank-self-extracting", nil},
		{"trail-alloy", "pedals", nil},
		{"gravel-titanium", "cassette-splined-body", nil},
		{"gravel-titanium", "bottom-bracket-threaded", nil},
		{"gravel-titanium", "crank-two-pinch-bolts", nil},
		{"gravel-titanium", "pedals", []string{procedure.FindingWindowsConflict}},
		{"commuter-alloy", "cassette-splined-body", []string{procedure.FindingMisfit}},
		{"commuter-alloy", "bottom-bracket-threaded", nil},
		{"commuter-alloy", "crank-two-pinch-bolts", nil},
		{"commuter-alloy", "pedals", nil},
		{"city-steel", "cassette-splined-body", nil},
		{"city-steel", "bottom-bracket-threaded", []string{procedure.FindingLimitUnknown}},
		{"city-steel", "crank-square-taper", nil},
		{"city-steel", "pedals", nil},
	} {
		p := plan(t, tc.job, tc.bike)
		require.Equal(t, tc.stops, blocking(p), "%s on %s: %v", tc.job, tc.bike, p.Findings)
	}
	for _, file := range sheetFiles(t) {
		for _, part := range readSheet(t, strings.TrimSuffix(filepath.Base(file), ".yaml")).Parts {
			for _, f := range part.Printed {
				_, ok := load(t).Joint(f.Joint)
				require.True(t, ok, "%s: %s", file, f.Joint)
			}
		}
	}
}

// The spacer behind a thin cassette on a long body is the difference of the
// lengths and the cassette's own: 36.75 - 34.9 + 1 = 2.85 mm.
func TestSpacerOfAThinCassette(t *testing.T) {
	s, ok := plan(t, "cassette-splined-body", "touring-steel").Step("fit-spacer")
	require.True(t, ok)
	require.Equal(t, "2.75", s.Checks[0].Min)
	require.Equal(t, "2.95", s.Checks[0].Max)
}

// A 73 mm shell and a crank made for 75.5 mm leave 2.5 mm for spacers.
func TestSpacersOfTheShell(t *testing.T) {
	s, ok := plan(t, "bottom-bracket-threaded", "trail-alloy").Step("set-spacers")
	require.True(t, ok)
	require.Equal(t, "2.2", s.Checks[0].Min)
	require.Equal(t, "2.8", s.Checks[0].Max)
}

// The lowest maximum governs: the frame's 40 N·m, not the cup's 50 N·m.
func TestLowestMaximumGoverns(t *testing.T) {
	s, ok := plan(t, "bottom-bracket-threaded", "road-carbon").Step("tighten-drive-side")
	require.True(t, ok)
	high, ok := s.Torque.Window.Max()
	require.True(t, ok)
	require.Equal(t, 40*torque.NewtonMeter, high)
	require.Contains(t, s.Torque.Governs, "bottom bracket shell")
}

// Prep follows the material: titanium takes anti-seize, a both-right-hand
// shell takes threadlocker on the drive side where the maker allows it.
func TestPrepFollowsTheMaterial(t *testing.T) {
	for _, tc := range []struct {
		bike, job, step string
		want            procedure.Prep
	}{
		{"gravel-titanium", "bottom-bracket-threaded", "prepare-drive-side", procedure.AntiSeize},
		{"road-carbon", "bottom-bracket-threaded", "prepare-drive-side", procedure.Grease},
		{"commuter-alloy", "bottom-bracket-threaded", "prepare-drive-side", procedure.ThreadlockerMedium},
		{"commuter-alloy", "bottom-bracket-threaded", "prepare-non-drive-side", procedure.Grease},
		{"gravel-titanium", "cassette-splined-body", "prepare-splines-and-thread", procedure.AntiSeize},
		{"gravel-titanium", "pedals", "prepare-left", procedure.AntiSeize},
		{"gravel-titanium", "crank-two-pinch-bolts", "prepare-pinch-bolts", procedure.PreApplied},
		{"road-carbon", "crank-two-pinch-bolts", "prepare-pinch-bolts", procedure.Grease},
	} {
		s, ok := plan(t, tc.job, tc.bike).Step(tc.step)
		require.True(t, ok, tc.step)
		require.Equal(t, tc.want, s.ThreadPrep.Use, "%s on %s", tc.step, tc.bike)
	}
}

// A step that does not hold on a bike is left out, with the reason.
func TestStepsThatDoNotHold(t *testing.T) {
	p := plan(t, "cassette-splined-body", "road-carbon")
	_, ok := p.Step("fit-spacer")
	require.False(t, ok)
	require.Equal(t, "fit-spacer", p.Skipped[0].ID)
	_, ok = plan(t, "bottom-bracket-threaded", "road-carbon").Step("look-at-bond")
	require.True(t, ok)
	_, ok = plan(t, "bottom-bracket-threaded", "touring-steel").Step("look-at-bond")
	require.False(t, ok)
}
