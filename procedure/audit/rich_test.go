package audit_test

import (
	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
)

// rich is a procedure with one of everything. It is invented.
const rich = `
id: rich
title: one of everything
edition: 1
about: for tests
risk: function-critical
source: { text: "common practice, no source", confidence: from-memory }
minutes: 20
least_minutes: 8
roles: [stem]
steps:
  - id: clean
    title: clean the faces
    do: wipe
    why: dirt
    accept: clean
    checks:
      - { id: wiped, kind: look, ask: "are both faces clean?" }
    voids: [clamp]
    rework: [{ if: dirty, do: wipe again }]
  - id: clamp
    title: close the clamp
    do: tighten
    why: it holds
    accept: closed
    prep:
      thread: [{ use: grease, why: it slides }]
      face: [{ use: dry, why: it grips }]
    torque:
      joints: [{ joint: small }]
      bolts: [A, B, C, D]
      order: [A, C, B, D]
      passes: [50, 100]
      closing: true
    checks:
      - { id: gap, kind: measure, ask: "gap", unit: mm, min: "0.5", max: "2", error: "0.05" }
    hold: { by: second-person, looks_at: the four gaps }
    voids: [play]
    rework: [{ if: over, do: take it apart }]
  - id: lock
    title: lock the ring
    do: tighten
    why: it locks
    accept: tight
    prep:
      thread: [{ use: threadlocker-medium, why: it shakes loose }]
    torque:
      joints: [{ joint: left }]
      bolts: [ring]
      passes: [100]
    waits:
      - for: 3h
        before: play
        with: [threadlocker-medium]
        longer:
          - { metals: [stainless], times: 2 }
          - { below_celsius: 15, times: 2 }
        why: it cures
        source: { text: "common practice, no source", confidence: from-memory }
      - for: 24h
        before: release
        with: [threadlocker-medium]
        why: it cures
        source: { text: "common practice, no source", confidence: from-memory }
    rework: [{ if: loose, do: clean and do again }]
  - id: play
    title: feel for play
    do: rock it
    why: play wears
    accept: none
    risk: safety-critical
    checks:
      - { id: rock, kind: look, ask: "is it free of play?" }
      - { id: picture, kind: photo, ask: "the closed joint" }
    hold: { by: foreman, looks_at: the whole joint }
    rework: [{ if: play, do: back to the clamp, from: clamp }]
  - id: again
    title: check after the ride
    do: look
    why: it settles
    accept: tight
    due: release
    checks:
      - { id: tight, kind: look, ask: "is nothing loose?" }
    rework: [{ if: loose, do: find out why }]
`

func richBench(t needs) *bench {
	t.Helper()
	def, err := procedure.ReadDefinition("rich.yaml", []byte(rich))
	require.NoError(t, err)
	return newBench(t, def, rows(), sheet(), rack(), procedure.Policy{})
}
