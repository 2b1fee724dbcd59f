package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure/teaching"
)

// teachColumn is where paragraphs begin beside their labels.
const teachColumn = 16

// curriculumText writes a curriculum for the trainer, the answers behind it.
func curriculumText(c *teaching.Curriculum) string {
	t := teachPage{curriculum: c}
	t.head()
	for i := range c.Modules {
		t.module(&c.Modules[i])
	}
	t.answers()
	return t.String()
}

type teachPage struct {
	page
	curriculum *teaching.Curriculum
}

func (t *teachPage) head() {
	c := t.curriculum
	t.line("Curriculum: %s, about %s hours", counted(len(c.Modules), "module"), c.Hours)
	for _, p := range c.Procedures {
		t.hang("procedure", teachColumn, fmt.Sprintf("%s (%s, revision %s)", p.Title, p.ID, p.Revision.Short()))
	}
	t.hang("not taught", teachColumn, strings.Join(c.Held, ", "))
	t.hang("seed", teachColumn, fmt.Sprint(c.Seed))
	for _, caution := range cautions(c) {
		t.hang("remember", teachColumn, caution)
	}
}

// cautions lists what goes before the answers, each once.
func cautions(c *teaching.Curriculum) []string {
	var out []string
	for _, m := range c.Modules {
		for _, q := range m.Questions {
			if q.Caution != "" && !slices.Contains(out, q.Caution) {
				out = append(out, q.Caution)
			}
		}
	}
	return out
}

func (t *teachPage) module(m *teaching.Module) {
	t.line("")
	label := fmt.Sprintf("Module %d:", m.Number)
	t.hang(label, len(label)+1, m.Title)
	t.hang("   time", teachColumn, m.Hours+" hours, one trainee with one trainer")
	if m.Risk != 0 {
		t.hang("   risk", teachColumn, m.Risk.String())
	}
	for _, why := range m.Why {
		t.hang("   why here", teachColumn, why)
	}
	for _, f := range m.Focus {
		t.hang("   look at", teachColumn, fmt.Sprintf("%s: %s", f.Title, f.Why))
	}
	t.hang("   tools", teachColumn, strings.Join(m.LayOut.Tools, "; "))
	t.hang("   stock", teachColumn, strings.Join(m.LayOut.Consumables, "; "))
	t.hang("   parts", teachColumn, strings.Join(m.LayOut.Parts, "; "))
	t.test(&m.Test)
	if f := m.Fault; f != nil {
		t.hang("   plant", teachColumn, f.Plant)
		t.hang("   should be", teachColumn, f.Good)
		t.hang("   to mend", teachColumn, f.Then)
	}
	for i, q := range m.Questions {
		t.question(questionNumber(m, i), &q)
	}
}

func (t *teachPage) test(b *teaching.BenchTest) {
	for _, task := range b.Tasks {
		t.hang("   test", teachColumn, task)
	}
	for _, c := range b.Criteria {
		t.hang("   recorded", teachColumn, c.Text)
	}
	for _, l := range b.Limits {
		t.hang("   time limit", teachColumn, fmt.Sprintf("%s: %s", spelled(l.Procedure), counted(l.Minutes, "minute")))
	}
	for _, f := range b.Fails {
		t.hang("   fails if it", teachColumn, f)
	}
	if b.Runs > 1 {
		t.hang("   passed", teachColumn, fmt.Sprintf("%d times in a row", b.Runs))
	}
}

func questionNumber(m *teaching.Module, i int) string { return fmt.Sprintf("%d.%d", m.Number, i+1) }

func (t *teachPage) question(number string, q *teaching.Question) {
	t.hang("   "+number, teachColumn, q.Stem)
	for i, option := range q.Options {
		t.hang("     "+optionLetter(i), teachColumn, option)
	}
}

func optionLetter(i int) string { return string(rune('a'+i%26)) + ")" }

func (t *teachPage) answers() {
	title := "Answers"
	for i := range t.curriculum.Modules {
		m := &t.curriculum.Modules[i]
		for j, q := range m.Questions {
			if title != "" {
				t.heading("%s", title)
				title = ""
			}
			t.answer(questionNumber(m, j), &q)
		}
	}
}

func (t *teachPage) answer(number string, q *teaching.Question) {
	t.hang("   "+number, teachColumn, lettered(q, q.Answer))
	t.hang("", teachColumn, q.Solution)
	for _, w := range q.Wrong {
		letter, _, _ := strings.Cut(lettered(q, w.Text), " ")
		t.hang("     "+letter, teachColumn, w.Mistake)
	}
	t.hang("     source", teachColumn, sourceText(q.Source))
}

// lettered writes an option with its letter before it.
func lettered(q *teaching.Question, text string) string {
	if i := slices.Index(q.Options, text); i >= 0 {
		return optionLetter(i) + " " + text
	}
	return text
}
