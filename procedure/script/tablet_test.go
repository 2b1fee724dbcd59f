package script_test

import (
	"fmt"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
	"github.com/tightwright/tightwright/procedure/script"
)

// A listener is a bench that keeps what it is told and refuses nothing.
type listener struct {
	hands   []script.Hand
	told    []script.Request
	changes []script.Change
}

func (l *listener) Change(_ script.Hand, c script.Change) error {
	l.changes = append(l.changes, c)
	return nil
}

func (l *listener) Plan(script.Hand, string) (*script.PlanView, error) {
	return &script.PlanView{}, nil
}
func (l *listener) Job(script.Hand, string) (*script.JobView, error) { return &script.JobView{}, nil }
func (l *listener) Audit(script.Hand) ([]script.Found, error)        { return nil, nil }

func (l *listener) Do(at script.Hand, r script.Request) (*script.Outcome, error) {
	l.hands, l.told = append(l.hands, at), append(l.told, r)
	return &script.Outcome{Seq: int64(len(l.told))}, nil
}

// tell plays a script to a listener and returns the answers and the first
// error.
func tell(t *testing.T, text string) (*listener, []string, error) {
	t.Helper()
	l := &listener{}
	c, err := catalogue.Load()
	require.NoError(t, err)
	p := script.NewPlayer(l, c.Vocabulary, os.DirFS(data))
	lines, err := script.Parse(text)
	require.NoError(t, err)
	var out []string
	for _, line := range lines {
		answer, err := p.Play(line)
		if err != nil {
			return l, out, err
		}
		out = append(out, answer...)
	}
	return l, out, nil
}

func TestATabletWithoutANetworkKeepsWhatItIsTold(t *testing.T) {
	l, answers, err := tell(t, `
at 2025-03-05 10:00
as ana
tablet bay-2
clock 7
offline
finish one
finish two
tablet bay-1
finish three
tablet bay-2
at 2025-03-05 13:30
online
finish four
`)
	require.NoError(t, err)
	require.Equal(t, []string{"kept on the tablet", "kept on the tablet", "recorded 1", "recorded 2", "recorded 3", "recorded 4"}, answers)
	var jobs []string
	for _, r := range l.told {
		jobs = append(jobs, r.Command.(procedure.FinishJob).Job)
	}
	require.Equal(t, []string{"three", "one", "two", "four"}, jobs)
	ten := time.Date(2025, 3, 5, 10, 0, 0, 0, time.UTC)
	late := ten.Add(3*time.Hour + 30*time.Minute)
	require.Equal(t, []time.Time{ten.Add(2 * time.Minute), ten, ten.Add(time.Minute), late}, each(l.hands, script.Hand.When))
	require.Equal(t, []time.Time{ten.Add(2 * time.Minute), late, late, late}, each(l.hands, func(h script.Hand) time.Time { return h.Now }))
	require.Equal(t, []time.Time{ten.Add(2 * time.Minute), ten.Add(7 * time.Minute), ten.Add(8 * time.Minute), late.Add(7 * time.Minute)}, each(l.hands, script.Hand.TabletTime))
}

func each[T, U any](list []T, f func(T) U) []U {
	out := make([]U, 0, len(list))
	for _, v := range list {
		out = append(out, f(v))
	}
	return out
}

// Directions and deviation of a tool stay as they were last calibrated.
func TestACalibrationGoesOnFromTheLast(t *testing.T) {
	l, _, err := tell(t, "tool week/tools.yaml\nat 2025-03-07 09:15\ncalibrate tw-02 found 1.070 left 1.001 due 2026-03-07\ncalibrate tw-02 found 1.001 left 1.001 due 2026-03-07 hands left-hand")
	require.NoError(t, err)
	var got []procedure.Calibration
	for _, c := range l.changes {
		if c, ok := c.(script.CalibrateTool); ok {
			got = append(got, c.Calibration)
		}
	}
	require.Len(t, got, 2)
	require.Equal(t, time.Date(2025, 3, 7, 9, 15, 0, 0, time.UTC), got[0].At)
	require.Equal(t, "1.070", got[0].AsFound)
	require.Equal(t, "[right-hand]", fmt.Sprint(got[0].Hands))
	require.Equal(t, "[left-hand]", fmt.Sprint(got[1].Hands))
}

func TestScriptsThatCannotBePlayed(t *testing.T) {
	for _, tt := range []struct{ name, text, says string }{
		{"plan without a network", "offline\nplan pedals", "line 2: plan: tablet bay-1 is offline"},
		{"open without a network", "offline\nopen a pedals", "is offline"},
		{"work without a network", "offline\nwork a", "is offline"},
		{"clock of a word", "clock soon", "line 1: clock"},
		{"clock of two words", "clock 7 maybe", "unmeasured"},
		{"supervisor without with", "open a pedals by sam", "write open JOB PROCEDURE with SUPERVISOR"},
		{"calibration without a date", "calibrate tw-02 found 1.07 left 1.0 due soon", "soon"},
		{"calibration of another word", "calibrate tw-02 found 1.07 right 1.0 due 2026-03-07", `not "right"`},
		{"hands of another word", "calibrate tw-02 found 1 left 1 due 2026-03-07 hands both", "right-hand"},
		{"skill without a date", "skill ana pedals soon", "soon"},
		{"no such folder", "catalogue nowhere", "nowhere"},
		{"no such sheet", "sheet nowhere.yaml", "nowhere.yaml"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, _, err := tell(t, tt.text)
			require.ErrorContains(t, err, tt.says)
		})
	}
}
