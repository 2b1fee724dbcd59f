package teaching

import (
	"fmt"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/torque"
)

// askGroup makes the questions about passes and rounds.
func (m *maker) askGroup(at place) []candidate {
	t := at.step.Torque
	if t == nil {
		return nil
	}
	var out []candidate
	if len(t.Bolts)*len(t.Passes) > 1 || t.Closing {
		out = append(out, at.candidate(Pulls, "", func(d *dice) (Question, bool) { return pulls(at, d) }))
	}
	if isCrosswise(t, t.Order) {
		out = append(out, at.candidate(BoltOrder, "", func(*dice) (Question, bool) { return boltOrder(at) }))
	}
	if len(t.Passes) > 1 {
		for i := range m.options.Tools {
			tool := &m.options.Tools[i]
			for k := range len(t.Passes) - 1 {
				out = append(out, at.candidate(PassSetting, fmt.Sprintf("%s-%d", tool.ID, k+1),
					func(*dice) (Question, bool) { return m.passSetting(at, tool, k) }))
			}
		}
	}
	return out
}

// PullCount is how often a tool is pulled on a group: every bolt in every pass
// and in every closing round, the last round being the one in which none turned.
func PullCount(bolts, passes, closingRounds int) int { return bolts * (passes + closingRounds) }

// pulls asks for the number of pulls until a group holds.
func pulls(at place, d *dice) (Question, bool) {
	t := at.step.Torque
	n, passes, rounds := len(t.Bolts), len(t.Passes), 0
	story := ""
	if t.Closing {
		limit := t.ClosingLimit
		if limit == 0 {
			limit = procedure.DefaultClosingLimit
		}
		rounds = 1 + d.below(limit)
		story = " At full value you go round until no bolt turns before the signal: " + turning(rounds) + "."
	}
	q := Question{
		Stem: fmt.Sprintf("%q has %s and %s (%s of the aim).%s How often do you pull the wrench in all?",
			at.step.Title, counted(n, "bolt"), countedES(passes, "pass"), percents(t.Passes), story),
		Answer:   fmt.Sprint(PullCount(n, passes, rounds)),
		Solution: fmt.Sprintf("%d x (%d + %d): every bolt in every pass and in every closing round.", n, passes, rounds),
		Source:   at.source(), Caution: BenchFirst,
	}
	q.give("bolts", fmt.Sprint(n))
	q.give("passes", fmt.Sprint(passes))
	q.give("closing_rounds", fmt.Sprint(rounds))
	if rounds > 0 {
		q.wrong(fmt.Sprint(PullCount(n, passes, 0)), "leaves the closing rounds out")
		q.wrong(fmt.Sprint(PullCount(n, passes, rounds-1)), "stops at the first round in which only one bolt turned")
		q.wrong(fmt.Sprint(PullCount(n, passes-1, rounds)), "takes the last pass for a closing round")
	}
	q.wrong(fmt.Sprint(passes+rounds), "counts rounds, not pulls")
	q.wrong(fmt.Sprint(PullCount(n, passes, rounds+1)), "takes a round too many")
	return q, true
}

// turning tells how the closing rounds went.
func turning(rounds int) string {
	if rounds == 1 {
		return "in the first closing round none does"
	}
	return fmt.Sprintf("in %s one still does, in the next none", countedES(rounds-1, "closing round"))
}

// countedES counts things whose plural ends in -es.
func countedES(n int, what string) string {
	if strings.HasSuffix(what, "s") && n != 1 {
		return fmt.Sprintf("%d %ses", n, what)
	}
	return counted(n, what)
}

// percents lists the passes as shares of the aim.
func percents(passes []int) string {
	var out []string
	for _, p := range passes {
		out = append(out, fmt.Sprintf("%d %%", p))
	}
	return strings.Join(out, ", ")
}

// figureText writes a mark without the zeros that only show the scale's step.
func figureText(f torque.Figure) string {
	return trimmed(f.Digits()) + " " + f.Unit().Symbol()
}

// passSetting asks for the mark of an early pass.
func (m *maker) passSetting(at place, tool *procedure.Tool, pass int) (Question, bool) {
	j, row, ok := rowOf(at)
	if !ok || tool.Kind != procedure.Setting {
		return Question{}, false
	}
	full, _, fault := tool.SettingFor(j.window, j.aim, at.of.Allowance, m.options.At)
	if fault != nil || len(outOfUse(tool, j, m.options.At)) > 0 {
		return Question{}, false
	}
	passes := at.step.Torque.Passes
	marks := tool.PassMarks(full, passes)
	if pass >= len(marks) {
		return Question{}, false
	}
	v, err := marks[pass].Torque()
	whole, errFull := full.Torque()
	if err != nil || errFull != nil || !usable(tool, v) || v > whole/100*torque.Torque(passes[pass]) {
		return Question{}, false // the scale begins above the share of this pass
	}
	q := Question{
		Stem: fmt.Sprintf("%q: the full setting on %s in steps of %s is %v, the passes are %s. To which mark do you set pass %d?",
			at.step.Title, toolWords(tool), tool.Graduation, figureText(full), percents(passes), pass+1),
		Answer:   figureText(marks[pass]),
		Solution: fmt.Sprintf("%d %% of %v, down to the next mark, so that an early pass never goes past its share.", passes[pass], figureText(full)),
		Source:   row.Source, Joint: row.ID, Caution: cautionFor(row),
	}
	q.give("full", figureText(full))
	q.give("percent", fmt.Sprint(passes[pass]))
	q.give("graduation", tool.Graduation)
	q.wrong(figureText(full), "goes to full value at once")
	if low, err := torque.ParseFigure(trimmed(torque.NewExact(scaledFigure(j, tool, passes[pass]), tool.Unit).RoundPlaces(1)), tool.Unit); err == nil {
		q.wrong(low.String(), "takes the share of the lower limit")
	}
	for k, other := range marks {
		if k != pass {
			q.wrong(figureText(other), "takes another pass")
		}
	}
	return q, len(q.Wrong) > 0
}
