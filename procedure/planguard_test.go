package procedure_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// planTable plans the crank job after the definition and the table were
// changed.
func planTable(t testing.TB, change func(d *procedure.Definition, table []procedure.JointRow, s *procedure.Sheet)) *procedure.Plan {
	t.Helper()
	d, table, s := crank(), jointTable(), sheet()
	change(&d, table, s)
	res, err := procedure.Resolve(&d, table)
	require.NoError(t, err)
	p, err := procedure.NewPlan(res, s, rack(), monday, procedure.Policy{})
	require.NoError(t, err)
	return p
}

func TestWhatNobodyKnowsStopsThePlan(t *testing.T) {
	tests := []struct {
		name   string
		change func(d *procedure.Definition, table []procedure.JointRow, s *procedure.Sheet)
		want   string
	}{
		{"a thread that cannot be read has no known hand", func(_ *procedure.Definition, table []procedure.JointRow, s *procedure.Sheet) {
			table[1].Thread, table[1].ThreadFrom = "", "crank-arm-left.bolt_thread"
			s.Parts[1].Is = map[string]string{"bolt_thread": "the maker's own"}
		}, procedure.FindingThreadUnread},
		{"a thread that is not on the sheet", func(_ *procedure.Definition, table []procedure.JointRow, _ *procedure.Sheet) {
			table[1].Thread, table[1].ThreadFrom = "", "crank-arm-left.bolt_thread"
		}, procedure.FindingAttributeMissing},
		{"a step that depends on a fit rule that does not run", func(d *procedure.Definition, _ []procedure.JointRow, _ *procedure.Sheet) {
			d.Steps[2].When = procedure.Condition{"fit.body-length": {"fits"}}
		}, procedure.FindingAttributeMissing},
		{"a fit rule that does not exist", func(d *procedure.Definition, _ []procedure.JointRow, _ *procedure.Sheet) {
			d.Fit = []string{"by-eye"}
			d.Steps[2].When = procedure.Condition{"fit.by-eye": {"fits"}}
		}, procedure.FindingAttributeMissing},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := planTable(t, tt.change)
			require.True(t, p.Blocked())
			require.Contains(t, findings(p), tt.want)
		})
	}
}

func TestTheMakersOwnValueIsAimedAt(t *testing.T) {
	tests := []struct {
		name    string
		figures []procedure.PrintedFigure
		aim     torque.Torque
	}{
		{"a value with a tolerance goes before the table's", []procedure.PrintedFigure{printed("12.5 ± 1 Nm")}, 12500 * torque.MillinewtonMeter},
		{"the lowest of two", []procedure.PrintedFigure{printed("13 ± 1 Nm"), printed("12.5 ± 1 Nm")}, 12500 * torque.MillinewtonMeter},
		{"not one that another part forbids", []procedure.PrintedFigure{printed("13.5 ± 1 Nm"), printed("max 13.2 Nm")}, 13 * torque.NewtonMeter},
		{"a bare figure is a maximum, the aim stays the table's", []procedure.PrintedFigure{printed("13.5 Nm")}, 13 * torque.NewtonMeter},
		{"a range has no value of its own", []procedure.PrintedFigure{printed("12-14 Nm")}, 13 * torque.NewtonMeter},
		{"the middle where nothing is stated", []procedure.PrintedFigure{printed("8-11 Nm")}, 9500 * torque.MillinewtonMeter},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, _ := planWith(t, procedure.Policy{}, tt.figures...).Step("pinch")
			require.Equal(t, tt.aim, s.Torque.Aim)
		})
	}
}

func TestAJointByFeelHasNoLowerLimitForTheTablet(t *testing.T) {
	p := planTable(t, func(d *procedure.Definition, _ []procedure.JointRow, _ *procedure.Sheet) {
		d.Steps[3].Torque.ByFeel = true
	})
	s, _ := p.Step("pinch")
	c := choice(t, s, "small")
	_, hasMin := c.Accept.Min()
	require.False(t, hasMin, "the bench does not ask for one either")
}

func TestTimeThatHasCertainlyPassed(t *testing.T) {
	const minute = int64(60_000_000)
	nine := monday.UnixMicro()
	at := func(boot string, tablet, server int64, offset *int64) procedure.Moment {
		return procedure.Moment{Tablet: "t", Boot: boot, MonotonicUS: tablet * minute, TabletUS: nine + tablet*minute, ServerUS: nine + server*minute, OffsetUS: offset}
	}
	known := ptr[int64](0)
	start := at("b1", 0, 0, known)
	tests := []struct {
		name     string
		from, to procedure.Moment
		least    time.Duration
	}{
		{"one boot: the monotonic clock, whatever the network did", start, at("b1", 30, 240, known), 30 * time.Minute},
		{"another boot, sent late with a known offset", start, at("b2", 30, 240, known), 30 * time.Minute},
		{"another boot, sent late from a clock never compared", start, at("b2", 30, 240, nil), 30 * time.Minute},
		{"a clock never compared that runs ahead gains nothing", start, at("b2", 600, 30, nil), 30 * time.Minute},
		{"a clock that runs ahead by its offset gains nothing", start, at("b2", 600, 30, known), 30 * time.Minute},
		{"a call without a tablet clock counts by the server", start, procedure.Moment{ServerUS: nine + 30*minute}, 30 * time.Minute},
		{"the start was sent late: it may have been then", at("b1", 0, 60, known), at("b2", 90, 90, known), 30 * time.Minute},
		{"back in time proves nothing", at("b2", 90, 90, known), start, 0},
		{"no boot is no clock", at("", 0, 0, known), at("", 90, 30, known), 30 * time.Minute},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.Equal(t, tt.least, procedure.LeastElapsed(tt.from, tt.to))
			require.GreaterOrEqual(t, procedure.MostElapsed(tt.from, tt.to), tt.least)
		})
	}
	huge := at("b1", 0, 0, known)
	huge.MonotonicUS = 1 << 62
	require.Positive(t, procedure.LeastElapsed(start, huge), "a time is never negative")
}

func TestEveryFigureForAJointIsRead(t *testing.T) {
	p := planTable(t, func(_ *procedure.Definition, _ []procedure.JointRow, s *procedure.Sheet) {
		s.Parts[0].Printed = []procedure.PrintedFigure{printed("max 13.2 Nm")}
	})
	pinch, _ := p.Step("pinch")
	require.Equal(t, "12 N·m to 13.2 N·m", pinch.Torque.Window.String(), "the row does not list the part, the sheet does")
	require.Contains(t, pinch.Torque.Governs, "the bottom bracket shell")
}

func TestAFigureForAnotherJointOfTheStepStopsThePlan(t *testing.T) {
	p := planTable(t, func(d *procedure.Definition, table []procedure.JointRow, s *procedure.Sheet) {
		d.Steps[3].Torque.Joints = []procedure.JointChoice{
			{When: procedure.Condition{"crank-arm-left.material": {"carbon"}}, Joint: "cup"}, {Joint: "pinch"},
		}
		s.Parts[1].Printed[0].Joint = "cup"
	})
	require.True(t, p.Blocked())
	require.Contains(t, findings(p), procedure.FindingOtherJoint)
}
