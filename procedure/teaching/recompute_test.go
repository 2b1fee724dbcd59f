package teaching_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/teaching"
	"github.com/tightwright/tightwright/torque/joint"
)

var (
	practiceDay = time.Date(2025, time.March, 3, 8, 30, 0, 0, time.UTC)
	bothHands   = []joint.Hand{joint.RightHand, joint.LeftHand}
)

// Every answer is worked out a second time, by other means: floating point
// instead of exact numbers, plain loops over the definition instead of the
// engine. 0.1129848 N·m is one lbf·in (NIST SP 811:2008, B.8, seven digits).
func TestEveryAnswerASecondWay(t *testing.T) {
	all := append(builtIn(t), pair(t)...)
	seen := map[teaching.Kind]int{}
	rapid.Check(t, func(rt *rapid.T) {
		seed := rapid.Uint64().Draw(rt, "seed")
		qs, err := teaching.Questions(all, nil, teaching.Options{Seed: seed}, 160)
		require.NoError(rt, err)
		for i := range qs {
			q := &qs[i]
			again, ok := secondWay[q.Kind]
			require.True(rt, ok, "no second way for %s", q.Kind)
			require.Equal(rt, again(rt, all, q), q.Answer, "%+v", q)
			requireSound(rt, q)
			seen[q.Kind]++
		}
	})
	for _, k := range teaching.Kinds() {
		require.NotZero(t, seen[k.Kind], "no question of kind %s was asked", k.Kind)
	}
}

// requireSound holds what must be true of any question: one right option, wrong
// ones with their mistake, a source, a caution.
func requireSound(t require.TestingT, q *teaching.Question) {
	require.NotEmpty(t, q.ID)
	require.NotEmpty(t, q.Stem)
	require.NotEmpty(t, q.Answer)
	require.NotEmpty(t, q.Solution)
	require.NotEmpty(t, q.Caution)
	require.NotEmpty(t, q.Source.Text)
	require.NotZero(t, q.Source.Confidence)
	require.NotEmpty(t, q.Wrong, "%+v", q)
	require.Len(t, q.Options, len(q.Wrong)+1)
	right := 0
	for _, o := range q.Options {
		if o == q.Answer {
			right++
		}
	}
	require.Equal(t, 1, right, "%+v", q)
	for i, w := range q.Wrong {
		require.NotEqual(t, q.Answer, w.Text)
		require.NotEmpty(t, w.Mistake)
		require.Contains(t, q.Options, w.Text)
		for _, other := range q.Wrong[:i] {
			require.NotEqual(t, other.Text, w.Text)
		}
	}
}

// amount reads the number that begins a text.
func amount(t require.TestingT, text string) float64 {
	v, err := strconv.ParseFloat(strings.Fields(text)[0], 64)
	require.NoError(t, err, text)
	return v
}

func num(t require.TestingT, q *teaching.Question, name string) float64 {
	return amount(t, given(*q, name))
}

func shown(v float64, places int) string {
	// A half is rounded away from zero, and floating point may lie below it.
	return strconv.FormatFloat(v+math.Copysign(1e-9, v), 'f', places, 64)
}

// trim drops zeros after the point.
func trim(text string) string {
	if !strings.Contains(text, ".") {
		return text
	}
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// up and down go to a step, forgiving the last digits of a float.
func up(v, step float64) float64   { return math.Ceil(v/step-1e-9) * step }
func down(v, step float64) float64 { return math.Floor(v/step+1e-9) * step }

const stop = "None: stop and ask. Nothing is guessed."

var secondWay = map[teaching.Kind]func(t *rapid.T, all []*procedure.Resolved, q *teaching.Question) string{
	teaching.ConvertWindow: func(t *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
		const inch = 0.1129848
		return fmt.Sprintf("%s lbf·in to %s lbf·in", shown(up(num(t, q, "min")/inch, 1), 0), shown(down(num(t, q, "max")/inch, 1), 0))
	},
	teaching.LowestGoverns: func(t *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
		low, high := num(t, q, "table_min"), min(num(t, q, "table_max"), num(t, q, "printed_max"))
		if low > high {
			return stop
		}
		return fmt.Sprintf("%v N·m to %v N·m", low, high)
	},
	teaching.LimitUnknown: func(t *rapid.T, all []*procedure.Resolved, q *teaching.Question) string {
		row, ok := find(all, q.Procedure).Joint(q.Joint)
		require.True(t, ok)
		require.Empty(t, row.Window)
		return stop
	},
	teaching.LowestSetting: func(t *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
		return trim(shown(max(num(t, q, "min"), num(t, q, "max")/5), 3)) + " N·m"
	},
	teaching.SettingRange: func(t *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
		d, step := num(t, q, "deviation_percent")/100, num(t, q, "graduation")
		low := max(num(t, q, "first"), up(num(t, q, "min")*(1+d), step))
		high := min(num(t, q, "last"), down(num(t, q, "max")*(1-d), step))
		if mark(q, low) == mark(q, high) {
			return mark(q, low) + " N·m alone"
		}
		return fmt.Sprintf("%s N·m to %s N·m", mark(q, low), mark(q, high))
	},
	teaching.DeliveredRange: func(t *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
		d, set := num(t, q, "deviation_percent")/100, num(t, q, "set")
		return fmt.Sprintf("%s N·m to %s N·m", shown(set/(1+d), 2), shown(set/(1-d), 2))
	},
	teaching.PassSetting: func(t *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
		return trim(shown(down(num(t, q, "full")*num(t, q, "percent")/100, num(t, q, "graduation")), 3)) + " N·m"
	},
	teaching.Deviation: func(t *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
		set, delivered := num(t, q, "set"), num(t, q, "delivered")
		return fmt.Sprintf("%+.1f %%", (set-delivered)/delivered*100)
	},
	teaching.WorstCase: func(t *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
		v, low, high := num(t, q, "set")*num(t, q, "factor"), num(t, q, "min"), num(t, q, "max")
		text := trim(shown(v, 3)) + " N·m, "
		switch {
		case v > high+1e-9:
			return text + trim(shown(v-high, 3)) + " N·m over"
		case v < low-1e-9:
			return text + trim(shown(low-v, 3)) + " N·m short"
		}
		return text + "inside"
	},
	teaching.ToolChoice:      byHandToolChoice,
	teaching.ThreadDirection: byHandDirection,
	teaching.PrepChoice:      byHandPrep,
	teaching.BoltOrder: func(t *rapid.T, all []*procedure.Resolved, q *teaching.Question) string {
		rule := stepOf(t, all, q).Torque
		if len(rule.Order) == 0 {
			return strings.Join(rule.Bolts, ", ")
		}
		return strings.Join(rule.Order, ", ")
	},
	teaching.Pulls: func(t *rapid.T, all []*procedure.Resolved, q *teaching.Question) string {
		step, pulls := stepOf(t, all, q), 0
		for range len(step.Torque.Passes) + int(num(t, q, "closing_rounds")) {
			for range step.Torque.Bolts {
				pulls++
			}
		}
		return strconv.Itoa(pulls)
	},
	teaching.VoidMap:    byHandVoids,
	teaching.HoldSigner: byHandSigner,
	teaching.ReleaseTime: func(t *rapid.T, all []*procedure.Resolved, q *teaching.Question) string {
		return byHandRelease(t, stepOf(t, all, q), q)
	},
	teaching.MeasureVerdict: func(t *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
		margin := math.Inf(1)
		if low := given(*q, "min"); low != "" && low != "0" { // nothing is no limit that could be missed
			margin = num(t, q, "value") - num(t, q, "min")
		}
		if high := given(*q, "max"); high != "" {
			margin = min(margin, num(t, q, "max")-num(t, q, "value"))
		}
		e := num(t, q, "error")
		switch {
		case margin >= e-1e-9:
			return "it holds"
		case margin >= -e-1e-9:
			return "the instrument cannot tell: measure again with a finer one"
		}
		return "it does not hold: follow the rework path"
	},
	teaching.Spacer: func(t *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
		gap := num(t, q, "body") - num(t, q, "made_for")
		if gap < 0 {
			return "None: these parts do not belong together."
		}
		return trim(shown(gap+num(t, q, "own_spacer"), 2)) + " mm"
	},
	teaching.ShellSpacers: func(t *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
		return shown((num(t, q, "needs")-num(t, q, "width"))/num(t, q, "spacer"), 0)
	},
}

// mark writes a value with the decimals of the graduation.
func mark(q *teaching.Question, v float64) string {
	_, fraction, _ := strings.Cut(given(*q, "graduation"), ".")
	return shown(v, len(fraction))
}

func find(all []*procedure.Resolved, id string) *procedure.Resolved {
	for _, p := range all {
		if p.ID == id {
			return p
		}
	}
	return nil
}

func stepOf(t require.TestingT, all []*procedure.Resolved, q *teaching.Question) *procedure.Step {
	s, _, ok := find(all, q.Procedure).Step(q.Step)
	require.True(t, ok, "%s/%s", q.Procedure, q.Step)
	return s
}

// byHandDirection reads the hand off the text of the thread.
func byHandDirection(_ *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
	if strings.HasSuffix(given(*q, "thread"), "LH") {
		return "counterclockwise"
	}
	return "clockwise"
}

// byHandPrep reads the rule from top to bottom with what the question says of
// the bike.
func byHandPrep(t *rapid.T, all []*procedure.Resolved, q *teaching.Question) string {
	rule := stepOf(t, all, q).Prep
	choices := rule.Thread
	if given(*q, "surface") == "face" {
		choices = rule.Face
	}
	for _, c := range choices {
		holds := true
		for key, values := range c.When {
			holds = holds && slices.Contains(values, given(*q, key))
		}
		if holds {
			return c.Use.Words()
		}
	}
	return ""
}

// byHandVoids follows the edges breadth first, by names.
func byHandVoids(t *rapid.T, all []*procedure.Resolved, q *teaching.Question) string {
	start := q.Procedure + "/" + q.Step
	void := map[string]bool{}
	for queue := []string{start}; len(queue) > 0; queue = queue[1:] {
		of, step, _ := strings.Cut(queue[0], "/")
		s, _, ok := find(all, of).Step(step)
		require.True(t, ok)
		for _, edge := range s.Voids {
			if !strings.Contains(edge, "/") {
				edge = of + "/" + edge
			}
			for _, p := range all {
				for i := range p.Steps {
					name := p.ID + "/" + p.Steps[i].ID
					if (edge == name || edge == p.ID+"/*") && !void[name] && name != start {
						void[name] = true
						queue = append(queue, name)
					}
				}
			}
		}
	}
	if given(*q, "asked") == "jobs" {
		return byHandJobs(all, q, void)
	}
	var titles []string
	for _, p := range all {
		for i := range p.Steps {
			switch title := p.Steps[i].Title; {
			case !void[p.ID+"/"+p.Steps[i].ID]:
			case p.ID == q.Procedure:
				titles = append(titles, title)
			}
		}
	}
	return strings.Join(titles, "; ")
}

// byHandJobs lists the other procedures that void steps, by names, belong to.
func byHandJobs(all []*procedure.Resolved, q *teaching.Question, void map[string]bool) string {
	var out []string
	for _, p := range all {
		for i := range p.Steps {
			if p.ID != q.Procedure && void[p.ID+"/"+p.Steps[i].ID] && !slices.Contains(out, p.Title) {
				out = append(out, p.Title)
			}
		}
	}
	if len(out) == 0 {
		return "in none"
	}
	return strings.Join(out, "; ")
}

// byHandSigner goes through the people by the words that describe them.
func byHandSigner(_ *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
	able := []string{"senior builder", "foreman"}
	if given(*q, "hold") == "foreman" {
		able = []string{"foreman"}
	}
	var out []string
	for _, name := range []string{"A", "B", "C", "D", "E"} {
		if slices.Contains(able, given(*q, name)) {
			out = append(out, name)
		}
	}
	return strings.Join(out, ", ")
}

// byHandRelease counts the hours on a calendar of its own.
func byHandRelease(t *rapid.T, step *procedure.Step, q *teaching.Question) string {
	at, err := strconv.Atoi(q.ID[strings.LastIndex(q.ID, "/")+1:])
	require.NoError(t, err)
	w := step.Waits[at-1]
	times := 1
	for _, l := range w.Longer {
		slow := (len(l.Metals) == 0 || slices.Contains(l.Metals, given(*q, "metal"))) &&
			(l.BelowCelsius == nil || int(num(t, q, "celsius")) < *l.BelowCelsius)
		if slow {
			times = max(times, l.Times)
		}
	}
	start, err := time.Parse("Monday 2 January, 15:04 2006", given(*q, "start")+" 2025")
	require.NoError(t, err)
	minutes := start.Day()*1440 + start.Hour()*60 + start.Minute() + times*int(time.Duration(w.For).Minutes())
	day := time.Date(2025, time.March, minutes/1440, 0, 0, 0, 0, time.UTC)
	return fmt.Sprintf("%s %d %s, %02d:%02d", day.Weekday(), day.Day(), day.Month(), minutes%1440/60, minutes%60)
}

// byHandToolChoice reads the practice tools as the stem describes them.
func byHandToolChoice(t *rapid.T, _ []*procedure.Resolved, q *teaching.Question) string {
	var able []string
	aim := num(t, q, "aim")
	_, rack, _ := strings.Cut(q.Stem, "On the rack lie: ")
	for _, line := range strings.Split(strings.TrimSuffix(rack, ". Which of them can vouch for it?"), "; ") {
		id, about, _ := strings.Cut(line, ": ")
		var kind string
		var low, high float64
		_, err := fmt.Sscanf(about, "%s tool from %f N·m to %f N·m", &kind, &low, &high)
		require.NoError(t, err, about)
		_, due, _ := strings.Cut(about, "due ")
		if aim >= max(low, high/5) && aim <= high && due > "2025-03-03" && strings.Contains(about, given(*q, "hand")) {
			able = append(able, id)
		}
	}
	if len(able) == 0 {
		return "none of them"
	}
	return strings.Join(able, ", ")
}
