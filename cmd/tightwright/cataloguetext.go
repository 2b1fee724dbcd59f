package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/catalogue"
)

// procedureText writes a procedure for the person who wants to know it.
func procedureText(known *catalogue.Catalogue, r *procedure.Resolved) string {
	t := procedurePage{known: known, r: r}
	t.head()
	t.sheet()
	for i := range r.Steps {
		t.step(i+1, &r.Steps[i])
	}
	return t.String()
}

type procedurePage struct {
	page
	known *catalogue.Catalogue
	r     *procedure.Resolved
}

func (t *procedurePage) head() {
	r := t.r
	t.line("%s", r.Title)
	t.hang("", 2, r.About)
	t.hang("procedure", topColumn, fmt.Sprintf("%s, edition %d, revision %s", r.ID, r.Edition, r.Revision.Short()))
	t.hang("risk", topColumn, r.Risk.String())
	t.hang("time", topColumn, fmt.Sprintf("about %d minutes, never under %d", r.Minutes, r.LeastMinutes))
	t.hang("source", topColumn, sourceText(r.Source))
	t.hang("after", topColumn, strings.Join(t.titles(r.After), "; "))
	t.hang("tools", topColumn, strings.Join(r.Tools, "; "))
	t.hang("stock", topColumn, strings.Join(r.Consumables, "; "))
	for _, c := range r.Cautions {
		t.hang("caution", topColumn, c)
	}
	for _, s := range r.Skills {
		t.hang("skill", topColumn, s.Title)
	}
}

func sourceText(s procedure.Source) string {
	return fmt.Sprintf("%s (%s)", s.Text, spelled(s.Confidence.String()))
}

// titles names other procedures by title where they are known.
func (t *procedurePage) titles(ids []string) []string {
	var out []string
	for _, id := range ids {
		if d, ok := t.known.Definition(id); ok {
			out = append(out, lowerFirst(d.Title))
		} else {
			out = append(out, spelled(id))
		}
	}
	return out
}

// sheet lists what has to be found out on the bike.
func (t *procedurePage) sheet() {
	asked := askedAttributes(t.r)
	if len(asked) == 0 {
		return
	}
	t.heading("What to find out on the bike for the build sheet")
	for _, key := range asked {
		a, ok := t.known.Vocabulary.Attribute(key)
		if !ok {
			continue
		}
		role, name, _ := strings.Cut(key, ".")
		text := fmt.Sprintf("%s, %s: %s", t.roleTitle(role), spelled(name), a.How)
		if a.Instrument != "" {
			text += " (" + a.Instrument + ")"
		}
		if len(a.Choices) > 0 {
			text += ": " + strings.Join(a.Choices, ", ")
		}
		t.hang("  -", 4, text)
	}
}

func (t *procedurePage) roleTitle(role string) string {
	if r, ok := t.known.Vocabulary.Role(role); ok {
		return r.Title
	}
	return spelled(role)
}

// askedAttributes lists the attributes that the procedure looks at, in order.
func askedAttributes(r *procedure.Resolved) []string {
	var keys []string
	when := func(c procedure.Condition) { keys = append(keys, c.Keys()...) }
	for _, rule := range r.Fit {
		needs, may, _, _ := procedure.FitRuleUses(rule)
		keys = append(append(keys, needs...), may...)
	}
	for _, row := range r.Joints {
		keys = append(keys, row.ThreadFrom)
	}
	for _, s := range r.Steps {
		when(s.When)
		for _, c := range s.Threads {
			when(c.When)
			keys = append(keys, c.ThreadFrom)
		}
		if s.Prep != nil {
			for _, c := range append(slices.Clone(s.Prep.Thread), s.Prep.Face...) {
				when(c.When)
			}
		}
		if s.Torque != nil {
			for _, c := range s.Torque.Joints {
				when(c.When)
			}
		}
		for _, c := range s.Checks {
			when(c.When)
		}
		if s.Hold != nil {
			when(s.Hold.When)
		}
	}
	keys = slices.DeleteFunc(keys, func(k string) bool { return k == "" || strings.HasPrefix(k, "fit.") })
	slices.Sort(keys)
	return slices.Compact(keys)
}

// whenText says a condition in words.
func (t *procedurePage) whenText(c procedure.Condition) string {
	var parts []string
	for _, key := range c.Keys() {
		role, name, _ := strings.Cut(key, ".")
		values := strings.Join(c[key], " or ")
		if role == "fit" {
			parts = append(parts, fmt.Sprintf("the check of %s says %s", spelled(name), spelled(values)))
			continue
		}
		parts = append(parts, fmt.Sprintf("the %s of the %s is %s", spelled(name), t.roleTitle(role), values))
	}
	return strings.Join(parts, " and ")
}

func (t *procedurePage) onlyWhen(c procedure.Condition) string {
	if len(c) == 0 {
		return ""
	}
	return " (only when " + t.whenText(c) + ")"
}

func (t *procedurePage) step(number int, s *procedure.Step) {
	t.heading("%d. %s", number, s.Title)
	t.hang("   only when", stepColumn, t.whenText(s.When))
	if s.Due == procedure.BeforeRelease {
		t.hang("   when", stepColumn, "after the test ride, before the bike leaves")
	}
	for _, c := range s.Cautions {
		t.hang("   caution", stepColumn, c)
	}
	t.hang("   do", stepColumn, s.Do)
	t.hang("   why", stepColumn, s.Why)
	t.hang("   tools", stepColumn, strings.Join(s.Tools, "; "))
	t.preps(s)
	t.torque(s)
	for _, c := range s.Checks {
		planned := procedure.PlannedCheck{Kind: c.Kind, Ask: c.Ask, Unit: c.Unit, Min: c.Min, Max: c.Max, Instrument: c.Instrument, Error: c.Error}
		t.hang("   check", stepColumn, checkText(planned)+t.onlyWhen(c.When))
	}
	t.hang("   good when", stepColumn, s.Accept)
	t.hang("   mistake", stepColumn, s.Mistake)
	if s.Hold != nil {
		t.hang("   hold", stepColumn, holdText(s.Hold)+t.onlyWhen(s.Hold.When))
	}
	for _, w := range s.Waits {
		t.hang("   wait", stepColumn, waitText(w, t.title))
	}
	if len(s.Voids) > 0 {
		t.hang("   spoils", stepColumn, strings.Join(t.voided(s.Voids), "; "))
	}
	for _, r := range s.Rework {
		t.hang("   if", stepColumn, reworkText(r, t.title))
	}
	if s.Source != nil {
		t.hang("   source", stepColumn, sourceText(*s.Source))
	}
}

func (t *procedurePage) preps(s *procedure.Step) {
	if s.Prep == nil {
		return
	}
	for _, c := range s.Prep.Thread {
		t.hang("   on thread", stepColumn, c.Use.Words()+t.onlyWhen(c.When)+". "+c.Why)
	}
	where := ""
	if s.Prep.Where != "" {
		where = " on " + s.Prep.Where
	}
	for _, c := range s.Prep.Face {
		t.hang("   on face", stepColumn, c.Use.Words()+where+t.onlyWhen(c.When)+". "+c.Why)
	}
}

func (t *procedurePage) torque(s *procedure.Step) {
	if s.Torque == nil {
		return
	}
	for _, c := range s.Torque.Joints {
		row, ok := t.r.Joint(c.Joint)
		if !ok {
			continue
		}
		window := "no window is known without a printed figure"
		if row.Window != "" {
			window = fmt.Sprintf("%s where the parts print nothing (%s)", row.Window, row.Source.Text)
		}
		t.hang("   torque", stepColumn, fmt.Sprintf("%s: %s%s", row.Title, window, t.onlyWhen(c.When)))
	}
	planned := procedure.PlannedTorque{Bolts: s.Torque.Bolts, Order: s.Torque.Order, Passes: s.Torque.Passes,
		Closing: s.Torque.Closing, ClosingLimit: s.Torque.ClosingLimit}
	if len(planned.Order) == 0 {
		planned.Order = planned.Bolts
	}
	if planned.ClosingLimit == 0 {
		planned.ClosingLimit = procedure.DefaultClosingLimit
	}
	t.hang("   bolts", stepColumn, boltsText(&planned))
}

func (t *procedurePage) title(step string) string {
	if s, i, ok := t.r.Step(step); ok {
		return fmt.Sprintf("step %d, %s", i+1, lowerFirst(s.Title))
	}
	return spelled(step)
}

func (t *procedurePage) voided(voids []string) []string {
	var out []string
	for _, v := range voids {
		id, step, other := strings.Cut(v, "/")
		switch {
		case !other:
			out = append(out, t.title(v))
		case step == "*":
			out = append(out, "all of "+t.titles([]string{id})[0])
		default:
			out = append(out, spelled(step)+" of "+t.titles([]string{id})[0])
		}
	}
	return out
}
