package procedure_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// An invented rack.
const rackFile = `- id: small
  label: green handle
  kind: setting
  unit: N.m
  min: "2"
  max: "20"
  graduation: 0.1
  calibrations:
    - id: c-1
      at: 2024-08-19T10:00:00Z
      due: 2025-08-19T10:00:00Z
      hands: [right-hand]
      as_found: "1.004"
      as_left: "0.998"
- id: click
  kind: fixed
  unit: '[lbf_av].[in_i]'
  min: "44"
  max: "44"
  quarantines:
    - { from: 2025-03-07T09:30:00+01:00, reason: dropped }
  away:
    - { from: 2025-03-05T13:00:00Z, to: 2025-03-06T08:00:00Z }
`

func TestReadTools(t *testing.T) {
	tools, err := procedure.ReadTools("rack.yaml", []byte(rackFile))
	require.NoError(t, err)
	require.Len(t, tools, 2)
	require.Equal(t, procedure.Setting, tools[0].Kind)
	require.Equal(t, torque.NewtonMeters, tools[0].Unit)
	require.Equal(t, "0.1", tools[0].Graduation)
	require.Equal(t, []joint.Hand{joint.RightHand}, tools[0].Calibrations[0].Hands)
	require.Equal(t, torque.PoundForceInches, tools[1].Unit)
	require.True(t, tools[1].Quarantines[0].To.IsZero())

	again, err := procedure.WriteTools(tools)
	require.NoError(t, err)
	back, err := procedure.ReadTools("again.yaml", again)
	require.NoError(t, err)
	require.Equal(t, tools, back)
}

// Every mistake is found in one reading, each at its line.
func TestReadToolsMistakes(t *testing.T) {
	for _, tt := range []struct {
		name, file string
		want       []string
	}{
		{"nothing", "", []string{"rack.yaml: the file is empty"}},
		{"no list", "id: small\n", []string{"rack.yaml:1: write a list here, not keys with values"}},
		{"no id", "- { kind: fixed, min: '5', max: '5' }\n", []string{
			`rack.yaml:1: [0].id: write lower-case letters, digits and hyphens, at most 63, not ""`}},
		{"one id twice", "- { id: a, kind: fixed, min: '5', max: '5' }\n- { id: a, kind: fixed, min: '6', max: '6' }\n", []string{
			`rack.yaml:2: [1].id: [0] has the id "a" already`}},
		{"several", "- id: a\n  kind: clicking\n  min: '5'\n  max: '5'\n  colour: red\n", []string{
			`rack.yaml:2: [0].kind: unknown kind of tool "clicking": write one of setting, indicating, fixed`,
			`rack.yaml:5: [0].colour: there is no key "colour" here`}},
		{"a day is no time", "- id: a\n  kind: fixed\n  min: '5'\n  max: '5'\n  calibrations:\n    - { at: 2025-03-03, due: 2026-03-03T00:00:00Z, hands: [right-hand] }\n", []string{
			"rack.yaml:6: [0].calibrations[0].at: write a time such as 2025-03-03T09:00:00Z, with its zone"}},
		{"unit of people", "- { id: a, kind: fixed, unit: Nm, min: '5', max: '5' }\n", []string{
			`rack.yaml:1: [0].unit: UCUM code "Nm": unknown unit of torque: write N.m`}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := procedure.ReadTools("rack.yaml", []byte(tt.file))
			var got []string
			for _, fe := range procedure.FieldErrors(err) {
				got = append(got, fe.Error())
			}
			require.Equal(t, tt.want, got)
		})
	}
}

// What is read and written again reads as the same rack.
func FuzzReadTools(f *testing.F) {
	f.Add([]byte(rackFile))
	f.Add([]byte("- { id: a, kind: indicating, min: '0', max: '20' }\n"))
	f.Add([]byte(`[{"id":"a","kind":"fixed","unit":"N.m","min":"5","max":"5"}]`))
	f.Fuzz(func(t *testing.T, data []byte) {
		tools, err := procedure.ReadTools("rack.yaml", data)
		if err != nil {
			require.NotEmpty(t, procedure.FieldErrors(err))
			return
		}
		written, err := procedure.WriteTools(tools)
		require.NoError(t, err)
		back, err := procedure.ReadTools("again.yaml", written)
		require.NoError(t, err, "%s", written)
		again, err := procedure.WriteTools(back)
		require.NoError(t, err)
		require.Equal(t, string(written), string(again))
	})
}
