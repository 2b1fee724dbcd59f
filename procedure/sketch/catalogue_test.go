package sketch_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/sketch"
	"github.com/tightwright/tightwright/torque/joint"
)

// Every step of every built-in procedure can be drawn for training.
func TestEveryStepCanBeTaught(t *testing.T) {
	count := 0
	for _, id := range load(t).IDs() {
		r := resolve(t, id)
		for i := range r.Steps {
			s := &r.Steps[i]
			drawings, err := sketch.Taught(r, s.ID)
			require.NoError(t, err)
			byName := requireDrawings(t, id+"/"+s.ID, drawings)
			require.Equal(t, s.Torque != nil, byName["order"].Width != "", "%s/%s", id, s.ID)
			if s.Torque != nil {
				requireGroup(t, byName["order"], s.Torque.Bolts, len(s.Torque.Passes))
			}
			require.Equal(t, s.Prep != nil, byName["prep"].Width != "", "%s/%s", id, s.ID)
			count += len(drawings)
		}
	}
	t.Log(count, "drawings")
}

// Every step of every plan for every invented bike can be drawn.
func TestEveryPlannedStep(t *testing.T) {
	count := 0
	for _, file := range sheetFiles(t) {
		sheet := readSheet(t, file)
		for _, id := range load(t).IDs() {
			p, err := procedure.NewPlan(resolve(t, id), sheet, nil, monday, procedure.Policy{})
			require.NoError(t, err)
			for i := range p.Steps {
				count += requirePlanned(t, p, &p.Steps[i], filepath.Base(file)+" "+id)
			}
		}
	}
	t.Log(count, "drawings")
}

func requirePlanned(t *testing.T, p *procedure.Plan, s *procedure.PlannedStep, where string) int {
	t.Helper()
	where += "/" + s.ID
	drawings, err := sketch.Step(p, s.ID)
	require.NoError(t, err, where)
	byName := requireDrawings(t, where, drawings)
	if s.Torque != nil {
		requireGroup(t, byName["order"], s.Torque.Bolts, len(s.Torque.Passes))
		require.Equal(t, s.Thread != "", byName["turn"].Width != "", where)
	}
	if turn, ok := byName["turn"]; ok {
		requireHand(t, turn, s.Hand)
	}
	if s.Hand == joint.LeftHand && s.Thread != "" {
		require.NotEmpty(t, byName["turn"].Width, where)
	}
	for _, prep := range []*procedure.PlannedPrep{s.ThreadPrep, s.FacePrep} {
		if prep != nil {
			requirePrep(t, byName["prep"], prep)
		}
	}
	for _, c := range s.Checks {
		if c.Gap != nil {
			requirePlaces(t, byName["gaps-"+c.Gap.Of.String()], c.Gap.At)
		}
	}
	return len(drawings)
}

func requireDrawings(t *testing.T, where string, drawings []sketch.Drawing) map[string]seen {
	t.Helper()
	byName := map[string]seen{}
	for _, d := range drawings {
		require.NotContains(t, byName, d.Name, where)
		require.NotEmpty(t, d.Caption)
		byName[d.Name] = requireSound(t, d.SVG)
		require.Equal(t, d.Caption, byName[d.Name].Title)
	}
	return byName
}

// requireGroup wants every bolt and every pass to be named.
func requireGroup(t *testing.T, s seen, bolts []string, passes int) {
	t.Helper()
	words := s.words()
	for _, bolt := range bolts {
		require.Contains(t, words, squeezed(bolt))
		require.Contains(t, s.Desc, bolt)
	}
	for i := range passes {
		require.Contains(t, words, fmt.Sprintf("pass%d", i+1))
	}
}

// Right-hand threads tighten clockwise seen from the head, left-hand threads
// counterclockwise: ISO 5408, clause on the direction of winding (from memory).
func requireHand(t *testing.T, s seen, hand joint.Hand) {
	t.Helper()
	words := s.words()
	require.Equal(t, hand == joint.LeftHand, strings.Contains(words, "LEFT-HAND"), words)
	require.Equal(t, hand == joint.LeftHand, strings.Contains(words, "Counterclockwisetightens."), words)
	require.Equal(t, hand == joint.RightHand, strings.Contains(words, "Clockwisetightens."), words)
}

func requirePrep(t *testing.T, s seen, p *procedure.PlannedPrep) {
	t.Helper()
	words := strings.ToLower(s.words())
	require.Contains(t, words, squeezed(p.Use.Words()))
	for _, never := range p.Never {
		kind, _, _ := strings.Cut(never.Words(), ",") // one line where no strength may go on
		require.Contains(t, words, "never"+squeezed(kind))
	}
}

func requirePlaces(t *testing.T, s seen, places []string) {
	t.Helper()
	for _, at := range places {
		require.Contains(t, s.words(), squeezed(at))
	}
}
