package procedure_test

import (
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

var update = flag.Bool("update", false, "write the golden entries of the present schema")

// The bytes of every released schema stay readable for ever: a file here is
// never changed once it was released, a new schema gets a folder of its own.
const goldenEntries = "../testdata/record/v1"

type goldenEntry struct {
	Envelope json.RawMessage `json:"envelope"`
	Payload  json.RawMessage `json:"payload"`
}

func samplePayloads(t *testing.T) []procedure.Payload {
	window, err := torque.NewWindow(12*torque.NewtonMeter, 14*torque.NewtonMeter)
	require.NoError(t, err)
	ref := procedure.ResultRef{Job: "crank", Step: "pinch", Item: "bolt.A"}
	jd := procedure.Judgement{Counts: true, Verdict: procedure.Conforming, Probability: 0.99, Pass: 1, Round: 2, Voids: []procedure.ResultRef{ref}}
	return []procedure.Payload{
		procedure.JobOpened{Procedure: "crank", Revision: "r", PlanDigest: "d", Engine: 1},
		procedure.ReadingTaken{Step: "pinch", Bolt: "A", Figure: newtonMeters("13.0"), Value: 13 * torque.NewtonMeter, Tool: "small",
			Turned: true, AngleDeg: "4", From: &procedure.MovedFrom{Build: "b-2", Entry: "e"}, Judgement: jd},
		procedure.MeasureTaken{Step: "preload", Check: "gap", Value: "1.5", Unit: "mm", Instrument: "caliper", Judgement: jd},
		procedure.LookTaken{Step: "preload", Check: "rock", OK: true, Note: "n", Judgement: jd},
		procedure.PhotoTaken{Step: "plate", Check: "down", Picture: "p", Judgement: jd},
		procedure.PrepDone{Step: "pinch", Thread: procedure.Grease, Face: procedure.Dry, Batch: "b", Metal: "steel", Celsius: ptr(9), Judgement: jd},
		procedure.ReworkBegun{Step: "pinch", From: "preload", Reason: "n", Voids: []procedure.ResultRef{ref}},
		procedure.HoldSigned{Step: "pinch", Saw: "n", Rank: procedure.SeniorBuilder},
		procedure.ResultAccepted{Entry: "e-1", Reason: "n", Rank: procedure.Foreman},
		procedure.FigureAccepted{Joint: "pinch", Window: window, Reason: "n", Rank: procedure.Foreman},
		procedure.EntryWithdrawn{Entry: "e-1", Cause: procedure.CauseWrongBike, Reason: "n", MovedTo: "b-2"},
		procedure.ToolCorrected{Entry: "e-1", Tool: "small", Reason: "n", Judgement: jd},
		procedure.PartSwapped{Role: "crank-arm-left", PlanDigest: "d", Revision: "r", Engine: 1, Reason: "n", Voids: []procedure.ResultRef{ref}},
		procedure.JobFinished{},
		procedure.JobAbandoned{Reason: "n"},
		procedure.BuildReleased{Rank: procedure.Foreman},
	}
}

func TestOldEntriesStayReadable(t *testing.T) {
	golden := map[string]procedure.Payload{
		// Fields that came later, each in a file of its own.
		"job-opened-supervised": procedure.JobOpened{Procedure: "crank", Revision: "r", PlanDigest: "d", Engine: 1, Supervisor: "ben", SupervisorRank: procedure.SeniorBuilder},
	}
	for _, p := range samplePayloads(t) {
		golden[p.Kind()] = p
	}
	for name, p := range golden {
		t.Run(name, func(t *testing.T) {
			e := procedure.Entry{Payload: p, Envelope: procedure.Envelope{Schema: 1, ID: "e-9", Workshop: "w", Build: "b-1", Seq: 7,
				Job: "crank", Kind: p.Kind(), Actor: "ana", BasedOn: 6,
				Moment:   procedure.Moment{Tablet: "t1", TabletSeq: 3, Boot: "b", MonotonicUS: 5, TabletUS: 1741000000000000, ServerUS: 1741000000500000, OffsetUS: ptr[int64](400000)},
				Happened: &procedure.Moment{Tablet: "t2", TabletUS: 1, ServerUS: 2}}}
			file := filepath.Join(goldenEntries, name+".json")
			envelope, payload, err := e.Encode()
			require.NoError(t, err)
			if *update {
				data, err := json.MarshalIndent(goldenEntry{envelope, payload}, "", "  ")
				require.NoError(t, err)
				require.NoError(t, os.WriteFile(file, append(data, '\n'), 0o644))
			}
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			var g goldenEntry
			require.NoError(t, json.Unmarshal(data, &g))
			back, err := procedure.DecodeEntry(g.Envelope, g.Payload)
			require.NoError(t, err)
			require.Equal(t, e, back)
			require.JSONEq(t, string(g.Payload), string(payload))
			require.JSONEq(t, string(g.Envelope), string(envelope))
		})
	}
}

func TestAKindOfANewerVersionIsKeptWhole(t *testing.T) {
	raw := []byte(`{"step":"pinch","new_field":[1,2,3]}`)
	e, err := procedure.DecodeEntry([]byte(`{"schema":9,"id":"e-1","workshop":"w","build":"b-1","seq":1,"kind":"brake-bedded","actor":"ana","based_on":0,"moment":{}}`), raw)
	require.NoError(t, err)
	b := newBench(t)
	require.NoError(t, b.build.Apply(e))
	require.Empty(t, b.build.Jobs)
	_, payload, err := b.build.Entries()[0].Encode()
	require.NoError(t, err)
	require.Equal(t, string(raw), string(payload))
}
