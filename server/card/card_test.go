package card_test

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/server/card"
	"github.com/tightwright/tightwright/torque"
	"github.com/tightwright/tightwright/torque/joint"
)

// spaces makes a figure comparable: on the card it does not break.
func spaces(text string) string { return strings.ReplaceAll(text, "\u00a0", " ") }

// Every joint that the plans tighten stands on the card with its thread, its
// window, its aim, the setting of every wrench that can do it and where each
// limit was read; and the card has no torque row beside them.
func TestEveryJointIsOnTheCard(t *testing.T) {
	s := sheet(t, "whole-road")
	w := whole(t, s)
	require.Empty(t, w.Blocked())
	page := parse(t, write(t, card.Card{Whole: w, Tools: rack(t), Invented: s.Invented}))
	sections := page.all("section", "job")
	require.Len(t, sections, len(w.Jobs))
	joints := 0
	for i, j := range w.Jobs {
		rows := sections[i].all("tbody", "one")
		for at, step := range j.Plan.Steps {
			if step.Torque == nil {
				continue
			}
			joints++
			row := rowOf(rows, at+1)
			require.NotNil(t, row, "%s/%s", j.Plan.Procedure, step.ID)
			text, set := spaces(row.text), spaces(row.all("td", "set")[0].text)
			for _, want := range wanted(&step) {
				require.Contains(t, text, want, "%s/%s", j.Plan.Procedure, step.ID)
			}
			for _, c := range step.Torque.Choices {
				require.Equal(t, c.Can(), strings.Contains(set, c.Tool+" "+settingOf(c)), "%s/%s: %s", j.Plan.Procedure, step.ID, c.Tool)
				requireReading(t, set, c)
			}
		}
	}
	require.Greater(t, joints, 20)
	require.Len(t, page.all("span", "window"), joints)
}

func rowOf(rows []*node, step int) *node {
	for _, r := range rows {
		if r.all("td", "step")[0].text == fmt.Sprint(step) {
			return r
		}
	}
	return nil
}

// wanted are the texts that the row of a joint must have.
func wanted(s *procedure.PlannedStep) []string {
	t := s.Torque
	out := []string{t.Title, t.Location, s.Thread, t.Window.String(), "aim " + t.Aim.String(), "right-hand"}
	if s.Hand == joint.LeftHand {
		out[len(out)-1] = "LEFT-HAND"
	}
	for _, l := range t.Limits {
		out = append(out, l.AsWritten, l.Where)
		if l.Where == "" {
			out = append(out, l.Source)
		}
	}
	if s.ThreadPrep != nil {
		out = append(out, "Thread: "+s.ThreadPrep.Use.Words())
	}
	if s.FacePrep != nil {
		out = append(out, "Face: "+s.FacePrep.Use.Words())
	}
	return out
}

// readRange finds the readings that conform with an indicating tool.
var readRange = regexp.MustCompile(`read ([0-9.]+) to ([0-9.]+) N·m`)

// requireReading holds the readings on the card to those of the plan: inside
// them, and by less than one step of the display, which is 0.01 N·m on the
// invented rack.
func requireReading(t testing.TB, set string, c procedure.ToolChoice) {
	t.Helper()
	if c.Kind != procedure.Indicating || !c.Can() {
		return
	}
	m := readRange.FindStringSubmatch(set)
	require.NotNil(t, m, "%s: %s", c.Tool, set)
	low, high := newtonMeters(t, m[1]), newtonMeters(t, m[2])
	least, _ := c.Accept.Min()
	most, _ := c.Accept.Max()
	step := newtonMeters(t, "0.01")
	require.True(t, least <= low && low < least+step, "%v %v", least, low)
	require.True(t, most-step < high && high <= most, "%v %v", most, high)
}

func newtonMeters(t testing.TB, digits string) torque.Torque {
	t.Helper()
	f, err := torque.ParseFigure(digits, torque.NewtonMeters)
	require.NoError(t, err)
	v, err := f.Torque()
	require.NoError(t, err)
	return v
}

// settingOf is what stands behind a tool: nothing else does where it cannot.
func settingOf(c procedure.ToolChoice) string {
	switch {
	case c.Setting == nil:
		return ""
	case c.Kind == procedure.Indicating:
		return "read"
	}
	return c.Setting.String()
}

// A left-hand thread is told by a word and a shape, and only there.
func TestLeftHandHasWordAndShape(t *testing.T) {
	w := whole(t, sheet(t, "whole-road"))
	page := parse(t, write(t, card.Card{Whole: w}))
	left := 0
	for i, section := range page.all("section", "job") {
		for _, row := range section.all("tbody", "one") {
			boxes, arrows := row.all("span", "left"), uses(row)
			step := stepOf(t, w.Jobs[i].Plan, row)
			if step.Thread != "" && step.Hand == joint.LeftHand {
				left++
				require.Len(t, boxes, 1)
				require.Equal(t, "LEFT-HAND", boxes[0].text)
				require.Equal(t, []string{"#left-turn"}, arrows)
				require.Contains(t, row.text, "tightens counterclockwise")
				continue
			}
			require.Empty(t, boxes)
			require.NotContains(t, arrows, "#left-turn")
		}
	}
	require.GreaterOrEqual(t, left, 4, "both sides of pedals and of the shell")
	require.Len(t, page.all("symbol", ""), 2)
}

func stepOf(t testing.TB, p *procedure.Plan, row *node) *procedure.PlannedStep {
	t.Helper()
	var n int
	_, err := fmt.Sscan(row.all("td", "step")[0].text, &n)
	require.NoError(t, err)
	return &p.Steps[n-1]
}

func uses(n *node) []string {
	var out []string
	for _, u := range n.all("use", "") {
		out = append(out, u.attrs["href"])
	}
	return out
}

// What goes on, and what never does.
func TestNeverIsSaid(t *testing.T) {
	w := whole(t, sheet(t, "whole-road"))
	page := parse(t, write(t, card.Card{Whole: w}))
	want, got := 0, len(page.all("span", "never"))
	for _, j := range w.Jobs {
		for _, s := range j.Plan.Steps {
			for _, p := range []*procedure.PlannedPrep{s.ThreadPrep, s.FacePrep} {
				if p != nil && len(p.Never) > 0 {
					want++
				}
			}
		}
	}
	require.Positive(t, want)
	require.Equal(t, want, got)
}

// Holds have room to sign, waits their times.
func TestHoldsAndWaits(t *testing.T) {
	w := whole(t, sheet(t, "whole-road"))
	page := parse(t, write(t, card.Card{Whole: w}))
	for _, h := range w.Holds {
		require.Contains(t, page.text, h.LooksAt)
	}
	signs := 0
	for _, cell := range page.all("td", "sign") {
		if strings.Contains(cell.text, "name") {
			require.Equal(t, "saw name day and time", strings.Join(strings.Fields(strings.Join(lines(cell), " ")), " "))
			signs++
		}
	}
	require.Len(t, w.Holds, signs)
	require.Contains(t, page.text, "The foreman, after hand over and release.")
	require.Contains(t, page.text, "The bike stands until "+friday.Add(time.Duration(w.Release)).Format("2 January, 15:04"))
	for _, l := range w.LeftOut {
		require.Contains(t, page.text, l.Title+": "+l.Reason)
	}
}

func lines(cell *node) []string {
	var out []string
	for _, l := range cell.all("span", "line") {
		out = append(out, l.text)
	}
	return out
}

// A plan that is stopped says so where its figures would stand.
func TestStoppedPlansSaySo(t *testing.T) {
	s := sheet(t, "whole-road")
	for i := range s.Parts {
		if s.Parts[i].Role == "seatpost" {
			s.Parts[i].Printed = nil
			s.Parts[i].Is["clamp"] = "side-ears"
		}
	}
	w := whole(t, s)
	require.Len(t, w.Blocked(), 1)
	require.Equal(t, "saddle", w.Blocked()[0].Procedure)
	page := parse(t, write(t, card.Card{Whole: w, Tools: rack(t)}))
	stops := page.all("div", "stop")
	require.Len(t, stops, 2, "on the first page and on the sheet of the job")
	require.Contains(t, stops[0].text, w.Blocked()[0].Title)
	require.Contains(t, stops[1].text, "Mend this before a tool is touched")
	require.Contains(t, page.text, "NOT KNOWN: STOP")
}

// No wrench of the rack can do it: the card says so and why, for every one.
func TestNoWrench(t *testing.T) {
	w := whole(t, sheet(t, "whole-road"))
	page := parse(t, write(t, card.Card{Whole: w, Tools: rack(t)}))
	j, ok := w.Job("pedals")
	require.True(t, ok)
	for _, s := range j.Plan.Steps {
		if s.Torque == nil {
			continue
		}
		for _, c := range s.Torque.Choices {
			require.False(t, c.Can())
			require.Contains(t, page.text, c.Faults[0].Text)
		}
	}
	require.Contains(t, page.text, "NO WRENCH of this rack")
	require.NotContains(t, parse(t, write(t, card.Card{Whole: wholeWithout(t)})).text, "NO WRENCH")
}

// wholeWithout plans without a rack.
func wholeWithout(t testing.TB) *procedure.Whole {
	t.Helper()
	procedures, _ := loaded()
	w, err := procedure.NewWhole(procedures, sheet(t, "whole-road"), nil, friday, procedure.Policy{})
	require.NoError(t, err)
	return w
}

func TestInventedIsMarked(t *testing.T) {
	w := whole(t, sheet(t, "road-carbon"))
	w.Label = "a bike"
	marked, plain := write(t, card.Card{Whole: w, Invented: true}), write(t, card.Card{Whole: w})
	require.Contains(t, marked, "INVENTED DATA")
	require.Contains(t, marked, `@top-right { content: "INVENTED, for practice only"`)
	require.Zero(t, strings.Count(plain, "INVENTED"))
}

// One file: it names nothing that would have to be fetched, and runs nothing.
func TestNothingIsFetched(t *testing.T) {
	page := write(t, card.Card{Whole: whole(t, sheet(t, "whole-road")), Tools: rack(t), Invented: true})
	for _, sign := range []string{`https?:`, `//`, ` src=`, `url\(`, `@import`, `<(script|link|img|iframe|object|form)`, ` on[a-z]+=`} {
		require.Empty(t, regexp.MustCompile(sign).FindAllString(markup(page), -1), sign)
	}
	for _, href := range regexp.MustCompile(`href="([^"]*)"`).FindAllStringSubmatch(page, -1) {
		require.True(t, strings.HasPrefix(href[1], "#"), href[1])
	}
	require.Zero(t, strings.Count(page, "Zgotmpl"), "what the template would not write")
}

// markup is a page without the texts between its tags, the style kept.
func markup(page string) string {
	style := page[strings.Index(page, "<style>"):strings.Index(page, "</style>")]
	return strings.Join(regexp.MustCompile(`<[^>]*>`).FindAllString(page, -1), "\n") + style
}

// What people wrote on a sheet stays text, in the page as in its style.
func TestTextStaysText(t *testing.T) {
	w := whole(t, sheet(t, "road-carbon"))
	w.Label = `x"; } body { display: none } /* </style><script>alert(1)</script> & <b>`
	page := write(t, card.Card{Whole: w})
	require.Zero(t, strings.Count(page, "<script"))
	require.Equal(t, 1, strings.Count(page, "</style>"))
	require.Zero(t, strings.Count(page, `"; } body`))
	require.Equal(t, w.Label, parse(t, page).all("h1", "")[0].text)
}

func TestRevision(t *testing.T) {
	all, _ := loaded()
	same := slices.Concat(all[1:], all[:1])
	require.Len(t, card.Revision(all), 64)
	require.Equal(t, card.Revision(all), card.Revision(same))
	require.NotEqual(t, card.Revision(all), card.Revision(all[1:]))
	page := write(t, card.Card{Whole: whole(t, sheet(t, "road-carbon")), Catalogue: card.Revision(all)})
	require.Contains(t, page, "engine "+fmt.Sprint(procedure.EngineVersion)+", catalogue revision "+card.Revision(all)[:12])
}

type brokenWriter struct{}

var errFull = errors.New("no room")

func (brokenWriter) Write([]byte) (int, error) { return 0, errFull }

func TestWriteTellsWhatFailed(t *testing.T) {
	w := whole(t, sheet(t, "road-carbon"))
	require.ErrorIs(t, card.Write(brokenWriter{}, card.Card{Whole: w}), errFull)
	w.Build = strings.Repeat("x", 4000)
	require.ErrorContains(t, card.Write(brokenWriter{}, card.Card{Whole: w}), "encode")
}

// A bike for which there is nothing to do has a card as well.
func TestEmptyWhole(t *testing.T) {
	w := whole(t, &procedure.Sheet{Build: "bare", Parts: []procedure.Part{{Role: "grips", Material: "resin"}}})
	require.Empty(t, w.Jobs)
	page := parse(t, write(t, card.Card{Whole: w}))
	require.Contains(t, page.text, "There is no procedure for the parts on this sheet.")
	require.Equal(t, "bare", page.all("h1", "")[0].text)
}

func BenchmarkWrite(b *testing.B) {
	w, tools := whole(b, sheet(b, "whole-road")), rack(b)
	b.ReportAllocs()
	for b.Loop() {
		write(b, card.Card{Whole: w, Tools: tools, Invented: true})
	}
}
