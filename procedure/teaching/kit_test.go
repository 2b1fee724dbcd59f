package teaching_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

// builtIn returns the procedures of the catalogue, resolved.
func builtIn(t testing.TB) []*procedure.Resolved {
	t.Helper()
	c, err := catalogue.Load()
	require.NoError(t, err)
	var out []*procedure.Resolved
	for _, id := range c.IDs() {
		r, err := c.Resolve(id)
		require.NoError(t, err)
		out = append(out, r)
	}
	return out
}

func catalogueSkills(t testing.TB) []procedure.Skill {
	t.Helper()
	c, err := catalogue.Load()
	require.NoError(t, err)
	return c.Skills
}

// invented has what the catalogue does not: four bolts in a cross, a cold wait
// before a step, results that lean on those of another procedure.
const invented = `
id: stem-plate
title: clamp a plate with four bolts
edition: 1
about: for tests, on no bike
risk: safety-critical
source: { text: invented for tests, confidence: from-memory }
minutes: 12
least_minutes: 6
roles: [stem]
skills:
  - { id: base, title: the base, hours: "1" }
  - { id: plate, title: the plate, needs: [base], hours: "2.5", test: Clamps it. }
steps:
  - id: prepare
    title: prepare the bolts
    do: brush
    why: it slides
    accept: a film
    mistake: floods it
    prep:
      thread:
        - { when: { stem.material: [titanium, stainless] }, use: anti-seize, why: it galls }
        - { when: { stem.material: [titanium], stem.coating: [none] }, use: dry, why: never reached }
        - { use: grease, why: it rusts }
    voids: [clamp]
    rework: [{ if: dirty, do: wipe }]
  - id: clamp
    title: clamp the plate
    do: tighten
    why: it holds
    accept: four even gaps
    mistake: takes one bolt home at once
    torque:
      joints: [{ joint: plate }]
      bolts: [A, B, C, D]
      order: [A, C, B, D]
      layout: ring
      passes: [50, 75, 100]
      closing: true
    hold: { by: foreman, looks_at: the gaps }
    voids: [see, other/ring]
    rework: [{ if: it turns, do: look }]
  - id: see
    title: see that it holds
    do: twist
    why: it slips
    accept: nothing moves
    checks: [{ id: slip, kind: measure, ask: "How far did it slip?", unit: mm, min: "0", max: "0.5", instrument: rule, error: "0.1" }]
    rework: [{ if: it slips, do: clean }]
`

const other = `
id: other
title: lock a ring
edition: 1
about: for tests, on no bike
risk: function-critical
source: { text: invented for tests, confidence: from-memory }
minutes: 10
least_minutes: 5
roles: [ring]
skills:
  - { id: base, title: the base, hours: "1" }
  - { id: ring, title: the ring, needs: [base], hours: "1" }
steps:
  - id: ring
    title: lock the ring
    do: tighten
    why: it locks
    accept: tight
    prep:
      thread: [{ use: threadlocker-medium, why: it shakes loose }]
    torque:
      joints: [{ joint: ring }, { joint: nobody-knows }]
      bolts: [ring]
      passes: [100]
    waits:
      - for: 24h
        before: ride
        with: [threadlocker-medium]
        longer:
          - { metals: [stainless], times: 2 }
          - { below_celsius: 15, times: 2 }
        why: it cures
        source: { text: invented for tests, confidence: from-memory }
    voids: [ride]
    rework: [{ if: loose, do: again }]
  - id: ride
    title: ride it
    do: ride
    why: it settles
    accept: tight
    checks: [{ id: tight, kind: look, ask: "is it tight?" }]
    rework: [{ if: loose, do: again }]
`

func inventedRows() []procedure.JointRow {
	src := procedure.Source{Text: "invented for tests", Confidence: procedure.FromMemory}
	return []procedure.JointRow{
		{ID: "plate", Title: "plate bolt", Thread: "M5x0.8", Window: "5 N·m to 6 N·m", Limits: []string{"stem"}, Risk: procedure.SafetyCritical, Source: src},
		{ID: "ring", Title: "ring", Thread: "M24x1 LH", Window: "35 N·m to 45 N·m", Aim: "40 N·m", Limits: []string{"ring"}, Risk: procedure.FunctionCritical, Source: src},
		{ID: "nobody-knows", Title: "odd ring", Thread: "M25x1", Limits: []string{"ring"}, Risk: procedure.FunctionCritical, Source: src},
	}
}

// pair returns the two invented procedures.
func pair(t testing.TB) []*procedure.Resolved {
	t.Helper()
	var out []*procedure.Resolved
	for _, text := range []string{invented, other} {
		def, err := procedure.ReadDefinition("invented.yaml", []byte(text))
		require.NoError(t, err)
		r, err := procedure.Resolve(def, inventedRows())
		require.NoError(t, err)
		out = append(out, r)
	}
	return out
}
