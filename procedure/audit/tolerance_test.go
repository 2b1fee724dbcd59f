package audit_test

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/audit"
)

// readCSV returns the rows of a file of vectors, each by column.
func readCSV(t testing.TB, name string) []map[string]string {
	t.Helper()
	data, err := os.ReadFile("../../testdata/vectors/" + name)
	require.NoError(t, err)
	all, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, line := range all[1:] {
		row := map[string]string{}
		for i, column := range all[0] {
			row[column] = line[i]
		}
		out = append(out, row)
	}
	return out
}

// oneBolt is a job that pulls one bolt once, to a set value, with a tool that
// takes no allowance off the window.
func oneBolt(t testing.TB, set, low, high string) *bench {
	t.Helper()
	def := &procedure.Definition{ID: "one", Title: "one bolt", Edition: 1, Risk: procedure.SafetyCritical, Allowance: procedure.AllowNone,
		LeastMinutes: 1, Source: procedure.Source{Text: procedure.CommonPractice}, Roles: []string{"stem"},
		Steps: []procedure.Step{{ID: "bolt", Title: "the bolt", Torque: &procedure.TorqueRule{Bolts: []string{"A"}, Passes: []int{100},
			Joints: []procedure.JointChoice{{Joint: "row"}}}}}}
	row := procedure.JointRow{ID: "row", Title: "joint", Thread: "M6x1", Window: low + " N·m to " + high + " N·m", Risk: procedure.SafetyCritical,
		Source: procedure.Source{Text: "the row of the vector", Confidence: procedure.Documented}}
	b := newBench(t, def, []procedure.JointRow{row}, sheet(), rack(), procedure.Policy{})
	b.open()
	e := b.pullOf("bolt", "A", set, "tw-small", true)
	require.True(t, judged(e).Counts, "%+v", judged(e))
	require.Equal(t, procedure.Conforming, judged(e).Verdict)
	return b
}

// foundLater is the rack after tw-small was calibrated again.
func foundLater(cals ...procedure.Calibration) []procedure.Tool {
	r := rack()
	r[0].Calibrations = append(r[0].Calibrations, cals...)
	return r
}

func calibration(day int, found, left string) procedure.Calibration {
	at := monday.AddDate(0, 0, day)
	return procedure.Calibration{At: at, Due: at.AddDate(1, 0, 0), Hands: rack()[0].Calibrations[0].Hands, AsFound: found, AsLeft: left}
}

func TestWorstCaseOfToolFoundOut(t *testing.T) {
	for _, row := range readCSV(t, "audit_recall.csv") {
		t.Run(row["record"], func(t *testing.T) {
			b := oneBolt(t, row["set_newton_meters"], row["min_newton_meters"], row["max_newton_meters"])
			v := b.view()
			v.At = monday.AddDate(0, 0, 5)
			v.Tools = foundLater(calibration(4, row["factor"], "1.001"))
			verdictOf[row["verdict"]](t, b.audit(v), row)
		})
	}
}

var verdictOf = map[string]func(t testing.TB, found []audit.Finding, row map[string]string){
	"quiet": func(t testing.TB, found []audit.Finding, _ map[string]string) {
		t.Helper()
		require.Empty(t, found)
	},
	"within": func(t testing.TB, found []audit.Finding, row map[string]string) {
		t.Helper()
		f := only(t, found)
		require.True(t, f.Note)
		require.Contains(t, f.Text, "at worst "+row["worst_newton_meters"]+" N·m, which is within")
	},
	"over": func(t testing.TB, found []audit.Finding, row map[string]string) {
		t.Helper()
		f := only(t, found)
		require.False(t, f.Note)
		require.Equal(t, audit.Open, f.Status)
		require.Contains(t, f.Text, "at worst "+row["worst_newton_meters"]+" N·m, "+row["excess_percent"]+" % over the maximum of "+row["max_newton_meters"]+" N·m")
		require.Contains(t, f.Mend, "stop the bike")
	},
	"short": func(t testing.TB, found []audit.Finding, row map[string]string) {
		t.Helper()
		f := only(t, found)
		require.Contains(t, f.Text, "at worst "+row["worst_newton_meters"]+" N·m, "+row["excess_percent"]+" % short of the minimum")
		require.Contains(t, f.Mend, "call the bike in")
	},
}

func only(t testing.TB, found []audit.Finding) audit.Finding {
	t.Helper()
	require.Len(t, found, 1, "%+v", found)
	require.Equal(t, audit.RuleOutOfTolerance, found[0].Rule)
	require.Equal(t, audit.Possible, found[0].Sure)
	require.Equal(t, "tw-small", found[0].Tool)
	return found[0]
}

// The suspicion reaches back to the last calibration that says how the tool
// was found, and no further.
func TestHowFarSuspicionReaches(t *testing.T) {
	tests := []struct {
		name string
		at   int
		cals []procedure.Calibration
		want int
	}{
		{"found out at the next one", 9, []procedure.Calibration{calibration(4, "1.07", "1.001")}, 1},
		{"found out, but not known yet", 3, []procedure.Calibration{calibration(4, "1.07", "1.001")}, 0},
		{"cleared by a good one between", 9, []procedure.Calibration{calibration(2, "1.01", "1.00"), calibration(4, "1.07", "1.001")}, 0},
		{"not cleared by one without as-found", 9, []procedure.Calibration{calibration(2, "", "1.00"), calibration(4, "1.07", "1.001")}, 1},
		{"found out before and left as it was", 9, []procedure.Calibration{calibration(-1, "1.07", "")}, 1},
		{"found out before and adjusted", 9, []procedure.Calibration{calibration(-1, "1.07", "1.001")}, 0},
		{"adjusted the wrong way", 9, []procedure.Calibration{calibration(-1, "1.00", "0.93")}, 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := oneBolt(t, "13.4", "12", "14")
			v := b.view()
			v.At = monday.AddDate(0, 0, tt.at)
			v.Tools = foundLater(tt.cals...)
			require.Len(t, of(b.audit(v), audit.RuleOutOfTolerance), tt.want)
		})
	}
}

// Overdue and out of tolerance are two findings, and a late tool that was
// found sound is a matter of paper.
func TestOverdueIsNotOutOfTolerance(t *testing.T) {
	b := oneBolt(t, "13", "12", "14")
	due := monday.AddDate(0, 0, -5)
	late := func(cals ...procedure.Calibration) audit.View {
		v := b.view()
		v.At = monday.AddDate(0, 0, 9)
		v.Tools = foundLater(cals...)
		v.Tools[0].Calibrations[0].Due = due
		return v
	}
	sound := b.audit(late(calibration(3, "1.012", "1.001")))
	require.Len(t, sound, 1)
	require.Equal(t, audit.RuleToolOverdue, sound[0].Rule)
	require.Contains(t, sound[0].Text, "was due for calibration on "+due.Format(time.DateOnly)+" and was found in tolerance on 2025-03-06")
	require.Contains(t, sound[0].Mend, "accept the reading with a note")

	open := b.audit(late())
	require.Len(t, open, 1)
	require.Contains(t, open[0].Mend, "before any adjustment")

	bad := b.audit(late(calibration(3, "1.1", "1.001")))
	require.Len(t, of(bad, audit.RuleToolOverdue), 1)
	require.Len(t, of(bad, audit.RuleOutOfTolerance), 1)
	require.Contains(t, of(bad, audit.RuleToolOverdue)[0].Mend, "recall")
}

// A joint that a bad tool may have over-tightened is not made good by pulling
// it again, only by taking it apart.
func TestOverTightenedNeedsTakingApart(t *testing.T) {
	b := oneBolt(t, "13.6", "12", "14")
	b.do(builder, procedure.TakeReading{Job: job, Step: "bolt", Bolt: "A", Figure: figure(t, "13.05"), Tool: "tw-show"})
	v := b.view()
	v.At = monday.AddDate(0, 0, 9)
	v.Tools = foundLater(calibration(3, "1.07", "1.001"))
	require.Equal(t, audit.Open, only(t, b.audit(v)).Status)

	b = oneBolt(t, "13.6", "12", "14")
	b.do(builder, procedure.BeginRework{Job: job, Step: "bolt", Reason: "hmac"})
	b.do(builder, procedure.TakeReading{Job: job, Step: "bolt", Bolt: "A", Figure: figure(t, "13.05"), Tool: "tw-show"})
	require.Equal(t, audit.Reworked, only(t, b.audit(v)).Status)
}
