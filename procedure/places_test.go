package procedure_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

const atBothWheels = `id: wheel-check
places: [front, rear]
title: Look at the {place} wheel
edition: 1
about: Shows a procedure that is written once.
risk: other
source: { text: "invented", confidence: from-memory }
minutes: 5
least_minutes: 1
roles: ["hub-{place}"]
after: [first]
steps:
  - id: look
    title: Look at the {place} hub
    do: Look.
    why: To see.
    accept: Seen.
    checks:
      - { id: seen, kind: look, ask: "Is the {place} hub there?" }
      - { id: chain, kind: look, ask: "Is the chain off?", when: { place: [rear] } }
    voids: ["later/*", turn]
    rework: [{ if: no, do: Look again. }]
  - id: chain
    title: Lift the chain off
    do: Lift it.
    why: It is in the way.
    accept: Off.
    when: { place: rear, "hub-{place}.axle_fixing": [nuts] }
    checks: [{ id: off, kind: look, ask: "Is it off?" }]
    rework: [{ if: no, do: Lift it. }]
  - id: turn
    title: Turn the wheel
    do: Turn it.
    why: To hear.
    accept: Silent.
    checks: [{ id: heard, kind: look, ask: "Is it silent?" }]
    rework: [{ if: no, do: Oil it. }]
`

func TestReadDefinitionsForEachPlace(t *testing.T) {
	list, err := procedure.ReadDefinitions("wheel-check.yaml", []byte(atBothWheels))
	require.NoError(t, err)
	require.Len(t, list, 2)
	front, rear := list[0], list[1]
	require.Equal(t, "wheel-check-front", front.ID)
	require.Equal(t, "Look at the front wheel", front.Title)
	require.Equal(t, []string{"front"}, front.Places)
	require.Equal(t, []string{"hub-front"}, front.Roles)
	require.Len(t, front.Steps, 2)
	require.Len(t, front.Steps[0].Checks, 1)
	require.Equal(t, "Is the front hub there?", front.Steps[0].Checks[0].Ask)

	require.Equal(t, "wheel-check-rear", rear.ID)
	require.Len(t, rear.Steps, 3)
	require.Len(t, rear.Steps[0].Checks, 2)
	require.Empty(t, rear.Steps[0].Checks[1].When, "the place is decided")
	require.Equal(t, procedure.Condition{"hub-rear.axle_fixing": {"nuts"}}, rear.Steps[1].When)
}

// What was read and written out again is the same procedure.
func TestPlacesReadTwiceAreTheSame(t *testing.T) {
	list, err := procedure.ReadDefinitions("wheel-check.yaml", []byte(atBothWheels))
	require.NoError(t, err)
	for _, d := range list {
		text, err := procedure.WriteDefinition(d)
		require.NoError(t, err)
		again, err := procedure.ReadDefinition("x.yaml", text)
		require.NoError(t, err)
		require.Equal(t, d, again)
	}
}

func TestPlacesAreRefused(t *testing.T) {
	for _, c := range []struct{ name, old, new, rule string }{
		{"unknown place", "[front, rear]\n", "[front, middle]\n", "unknown-place"},
		{"place without places", "places: [front, rear]\n", "", "no-places"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := procedure.ReadDefinitions("x.yaml", []byte(strings.Replace(atBothWheels, c.old, c.new, 1)))
			found := procedure.FieldErrors(err)
			require.NotEmpty(t, found)
			require.Equal(t, c.rule, found[0].Rule)
			require.Positive(t, found[0].Line)
		})
	}
	_, err := procedure.ReadDefinition("x.yaml", []byte(atBothWheels))
	require.Equal(t, "many-places", procedure.FieldErrors(err)[0].Rule)
}

// A mistake behind a step that the front does not have stands at its own line.
func TestLocateAtAPlace(t *testing.T) {
	list, err := procedure.ReadDefinitions("x.yaml", []byte(atBothWheels))
	require.NoError(t, err)
	mistake := &procedure.FieldError{Path: "steps[1].why", Rule: "x", Text: "x"}
	for i, want := range []string{"why: To hear.", "why: It is in the way."} {
		located := procedure.FieldErrors(procedure.LocateAt(mistake, "x.yaml", []byte(atBothWheels), list[i].Places[0]))
		require.Contains(t, strings.Split(atBothWheels, "\n")[located[0].Line-1], want)
	}
}

func TestSpreadNames(t *testing.T) {
	list, err := procedure.ReadDefinitions("wheel-check.yaml", []byte(atBothWheels))
	require.NoError(t, err)
	other := &procedure.Definition{ID: "ride", After: []string{"wheel-check", "first"}, Steps: []procedure.Step{
		{ID: "a", Voids: []string{"wheel-check/*", "wheel-check/chain", "wheel-check-front/turn", "b"}}}}
	procedure.SpreadNames(append(list, other))
	require.Equal(t, []string{"wheel-check-front", "wheel-check-rear", "first"}, other.After)
	require.Equal(t, []string{"wheel-check-front/*", "wheel-check-rear/*", "wheel-check-rear/chain", "wheel-check-front/turn", "b"},
		other.Steps[0].Voids, "only the rear has the step chain")
}

func TestJointRowsForEachPlace(t *testing.T) {
	rows, err := procedure.ReadJoints("x.yaml", []byte("- id: rotor-bolt\n  places: [front, rear]\n  title: \"{place} rotor bolt\"\n- id: other\n  title: other\n"))
	require.NoError(t, err)
	require.Len(t, rows, 3)
	require.Equal(t, "rotor-bolt-rear", rows[1].ID)
	require.Equal(t, "rear rotor bolt", rows[1].Title)
	require.Equal(t, "other", rows[2].ID)
}
