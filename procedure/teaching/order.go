package teaching

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/procedure"
)

// A Lesson is something to put in order: what it builds on, and the context,
// such as a station, that it is taught in.
type Lesson struct {
	ID      string   `json:"id"`
	Context string   `json:"context"`
	Needs   []string `json:"needs,omitempty"`
}

// ExactLessons is the number of lessons up to which Order finds the fewest
// changes of context for certain. Beyond, it stays in a context while something
// is ready there and then goes where most can be taught.
const ExactLessons = 20

// Order puts lessons in an order in which each comes after those it needs and
// the context changes as rarely as possible. Among orders that are equally good
// it takes the one that is first by the order of the argument.
//
// Errors are joined field errors: an id twice, a need that is no lesson, or a
// circle of needs, which is named.
func Order(lessons []Lesson) ([]string, error) {
	if err := checkLessons(lessons); err != nil {
		return nil, err
	}
	out := make([]string, 0, len(lessons))
	for _, i := range newGraph(lessons).order(noContext) {
		out = append(out, lessons[i].ID)
	}
	return out, nil
}

// Changes counts how often the context changes in an order of lessons.
func Changes(lessons []Lesson, order []string) int {
	context := map[string]string{}
	for _, l := range lessons {
		context[l.ID] = l.Context
	}
	n := 0
	for i := 1; i < len(order); i++ {
		if context[order[i]] != context[order[i-1]] {
			n++
		}
	}
	return n
}

// checkLessons reports every id that stands twice and every need that is no
// lesson, and only then looks for a circle.
func checkLessons(lessons []Lesson) error {
	var errs []error
	at := map[string]int{}
	for i, l := range lessons {
		if _, twice := at[l.ID]; twice {
			errs = append(errs, &procedure.FieldError{Path: fmt.Sprintf("lessons[%d].id", i), Rule: "duplicate-id",
				Text: fmt.Sprintf("the lesson %q is there twice: keep one", l.ID)})
		}
		at[l.ID] = i
	}
	for i, l := range lessons {
		for k, need := range l.Needs {
			if _, ok := at[need]; !ok {
				errs = append(errs, &procedure.FieldError{Path: fmt.Sprintf("lessons[%d].needs[%d]", i, k), Rule: "unknown-skill",
					Text: fmt.Sprintf("%q needs %q, which nothing here teaches", l.ID, need)})
			}
		}
	}
	if len(errs) > 0 {
		return errors.Join(errs...)
	}
	if circle := findCircle(lessons, at); len(circle) > 0 {
		return &procedure.FieldError{Path: "lessons", Rule: "circular-needs",
			Text: "these skills need each other, so none can be taught first: " + strings.Join(circle, " → ")}
	}
	return nil
}

// findCircle returns the first circle of needs, its start again at the end, or
// nothing.
func findCircle(lessons []Lesson, at map[string]int) []string {
	const (
		unseen = iota
		onPath
		done
	)
	state := make([]int, len(lessons))
	var path []string
	var visit func(i int) []string
	visit = func(i int) []string {
		state[i] = onPath
		path = append(path, lessons[i].ID)
		for _, need := range lessons[i].Needs {
			switch k := at[need]; state[k] {
			case onPath:
				return append(slices.Clone(path[slices.Index(path, need):]), need)
			case unseen:
				if circle := visit(k); circle != nil {
					return circle
				}
			}
		}
		state[i] = done
		path = path[:len(path)-1]
		return nil
	}
	for i := range lessons {
		if state[i] == unseen {
			if circle := visit(i); circle != nil {
				return circle
			}
		}
	}
	return nil
}

// noContext is the context before the first lesson: coming from nowhere is no
// change.
const noContext = -1

// A graph is a set of lessons by number. Needs outside of it are met already.
type graph struct {
	needs   [][]int
	context []int
	// members lists the lessons of each context.
	members [][]int
}

// newGraph numbers lessons that checkLessons has passed.
func newGraph(lessons []Lesson) *graph {
	g := &graph{needs: make([][]int, len(lessons)), context: make([]int, len(lessons))}
	at, contexts := map[string]int{}, map[string]int{}
	for i, l := range lessons {
		at[l.ID] = i
	}
	for i, l := range lessons {
		c, ok := contexts[l.Context]
		if !ok {
			c = len(contexts)
			contexts[l.Context] = c
			g.members = append(g.members, nil)
		}
		g.context[i] = c
		g.members[c] = append(g.members[c], i)
		for _, need := range l.Needs {
			if k, ok := at[need]; ok {
				g.needs[i] = append(g.needs[i], k)
			}
		}
	}
	return g
}

// order returns the lessons by number, coming from a context.
func (g *graph) order(from int) []int {
	if len(g.needs) <= ExactLessons {
		if order, ok := g.exact(from); ok {
			return order
		}
	}
	return g.greedy(from)
}

// change is 1 when going from one context to another is one.
func change(from, to int) int {
	if from == noContext || from == to {
		return 0
	}
	return 1
}
