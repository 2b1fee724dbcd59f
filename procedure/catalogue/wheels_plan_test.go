package catalogue_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
)

// wheelPlan plans a job on one of the invented bikes of testdata, with
// attributes changed by "role.attribute".
func wheelPlan(t testing.TB, job, bike string, is map[string]string) *procedure.Plan {
	t.Helper()
	file := filepath.Join("testdata", bike+".yaml")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	s, err := procedure.ReadSheet(file, data, load(t).Vocabulary)
	require.NoError(t, err)
	for i := range s.Parts {
		for name := range s.Parts[i].Is {
			if value, changed := is[s.Parts[i].Role+"."+name]; changed {
				s.Parts[i].Is[name] = value
			}
		}
	}
	r, err := load(t).Resolve(job)
	require.NoError(t, err)
	p, err := procedure.NewPlan(r, s, nil, monday, procedure.Policy{})
	require.NoError(t, err)
	return p
}

func wheelSteps(p *procedure.Plan) []string {
	var out []string
	for i := range p.Steps {
		out = append(out, p.Steps[i].ID)
	}
	return out
}

func wheelStep(t testing.TB, p *procedure.Plan, id string) procedure.PlannedStep {
	t.Helper()
	i := slices.Index(wheelSteps(p), id)
	require.GreaterOrEqual(t, i, 0, "%s is not planned", id)
	return p.Steps[i]
}

// Common practice, no source: each kind of axle has its own steps, and nothing
// of the other kind is asked.
func TestWheelStepsFollowTheAxle(t *testing.T) {
	for _, tc := range []struct {
		name, job, bike string
		want            []string
	}{
		{"thru axle and pinch bolts", "thru-axle-front", "wheels-thru", []string{
			"compare-axle", "prepare-axle", "seat-wheel", "start-axle", "tighten-axle",
			"settle-fork", "prepare-pinch-bolts", "tighten-pinch-bolts", "check-wheel", "recheck-axle",
		}},
		{"thru axle at the rear", "thru-axle-rear", "wheels-thru", []string{
			"compare-axle", "prepare-axle", "seat-wheel", "start-axle", "tighten-axle", "check-wheel", "recheck-axle",
		}},
		{"quick release", "wheel-in-slots-front", "wheels-slots", []string{
			"check-rod", "prepare-rod", "clean-faces", "seat-wheel", "set-lever", "close-lever", "secure-wheel", "check-wheel", "recheck-lever",
		}},
		{"axle nuts", "wheel-in-slots-rear", "wheels-slots", []string{
			"prepare-nuts", "clean-faces", "seat-wheel", "start-nuts", "tighten-nuts", "secure-wheel", "check-wheel", "recheck-nuts",
		}},
		{"wheel with cartridge bearings", "wheel-tension-front", "wheels-thru", []string{
			"read-limit", "prepare-wheel", "measure-tension", "true-wheel", "relieve-spokes", "measure-again", "clean-wheel",
		}},
		{"wheel with cones", "wheel-tension-rear", "wheels-slots", []string{
			"read-limit", "prepare-wheel", "measure-tension", "true-wheel", "relieve-spokes", "measure-again",
			"prepare-cones", "lock-first-side", "set-play", "clean-wheel",
		}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := wheelPlan(t, tc.job, tc.bike, nil)
			require.Empty(t, blocking(p), "%v", p.Findings)
			require.Equal(t, tc.want, wheelSteps(p))
		})
	}
}

// What each bike prints governs, and the hand of the thread is known.
func TestWheelWindowsFollowThePrint(t *testing.T) {
	for _, tc := range []struct{ job, bike, step, joint, least, most string }{
		{"thru-axle-front", "wheels-thru", "tighten-axle", "thru-axle-m12-tool-front", "10", "12"},
		{"thru-axle-front", "wheels-thru", "tighten-pinch-bolts", "fork-axle-pinch-bolt", "6", "7"},
		{"thru-axle-rear", "wheels-thru", "tighten-axle", "thru-axle-m12-lever-rear", "8", "10"},
		{"wheel-in-slots-rear", "wheels-slots", "tighten-nuts", "axle-nut-rear", "30", "38"},
		{"wheel-tension-rear", "wheels-slots", "set-play", "hub-cone-locknut-rear", "15", "20"},
	} {
		t.Run(tc.job+" "+tc.step, func(t *testing.T) {
			s := wheelStep(t, wheelPlan(t, tc.job, tc.bike, nil), tc.step)
			require.Equal(t, tc.joint, s.Torque.Joint)
			low, _ := s.Torque.Window.Min()
			high, _ := s.Torque.Window.Max()
			require.Equal(t, newtonMeters(t, tc.least), low)
			require.Equal(t, newtonMeters(t, tc.most), high)
		})
	}
}

// Common practice, no source: what must not be worked on stops the plan.
func TestWheelsThatStopThePlan(t *testing.T) {
	for _, tc := range []struct {
		name, job, bike string
		is              map[string]string
		want            []string
	}{
		{"pitch of the axle is not the insert's", "thru-axle-front", "wheels-thru",
			map[string]string{"axle-front.thread": "M12x1.75"}, []string{procedure.FindingMisfit}},
		{"an axle that no row knows", "thru-axle-front", "wheels-thru",
			map[string]string{"axle-front.thread": "M20x1.5", "fork.axle_thread": "M20x1.5"}, []string{procedure.FindingNoJoint}},
		{"a tyre that is too wide between the seatstays", "thru-axle-rear", "wheels-thru",
			map[string]string{"frame.gap_seatstays": "36 mm"}, []string{procedure.FindingMisfit}},
		{"the limit of the rim is not known", "wheel-tension-rear", "wheels-slots",
			map[string]string{"rim-rear.spoke_limit_newton": ""}, []string{procedure.FindingAttributeMissing}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			require.Equal(t, tc.want, blocking(wheelPlan(t, tc.job, tc.bike, tc.is)))
		})
	}
}

// The second person looks at the spokes of a new wheel only, titanium gets its
// paste, and the limit to read is the one on the sheet.
func TestWheelPlansByTheParts(t *testing.T) {
	require.NotNil(t, wheelStep(t, wheelPlan(t, "wheel-tension-front", "wheels-thru", nil), "measure-again").Hold)
	require.Nil(t, wheelStep(t, wheelPlan(t, "wheel-tension-rear", "wheels-thru", nil), "measure-again").Hold)
	s := wheelStep(t, wheelPlan(t, "thru-axle-rear", "wheels-thru", nil), "prepare-axle")
	require.Equal(t, procedure.AntiSeize, s.ThreadPrep.Use)
	limit := wheelStep(t, wheelPlan(t, "wheel-tension-front", "wheels-thru", nil), "read-limit").Checks[2]
	require.Equal(t, []string{"1249", "1251"}, []string{limit.Min, limit.Max})
}
