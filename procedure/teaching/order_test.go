package teaching_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/teaching"
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

// lessonsOf reads the graph of a row; the lessons are put in the order of
// their names, which is what "first" means in the vectors.
func lessonsOf(row map[string]string) []teaching.Lesson {
	var out []teaching.Lesson
	for _, node := range strings.Fields(row["nodes(name:context)"]) {
		name, context, _ := strings.Cut(node, ":")
		out = append(out, teaching.Lesson{ID: name, Context: context})
	}
	slices.SortFunc(out, func(a, b teaching.Lesson) int { return strings.Compare(a.ID, b.ID) })
	for _, edge := range strings.Fields(row["edges(before>after)"]) {
		before, after, _ := strings.Cut(edge, ">")
		at := slices.IndexFunc(out, func(l teaching.Lesson) bool { return l.ID == after })
		out[at].Needs = append(out[at].Needs, before)
	}
	return out
}

func requireValid(t require.TestingT, lessons []teaching.Lesson, order []string) {
	require.Len(t, order, len(lessons))
	place := map[string]int{}
	for i, id := range order {
		place[id] = i
	}
	require.Len(t, place, len(lessons))
	for _, l := range lessons {
		for _, need := range l.Needs {
			require.Less(t, place[need], place[l.ID], "%s before %s in %v", need, l.ID, order)
		}
	}
}

// The vectors were computed by an exact subset dynamic program of another
// make; see their source column.
func TestOrderOfVectors(t *testing.T) {
	for _, row := range readCSV(t, "teaching_ordering.csv") {
		if row["min_context_switches"] == "error: cycle" {
			continue // TestOrderNamesTheCircle
		}
		t.Run(row["case"], func(t *testing.T) {
			lessons := lessonsOf(row)
			order, err := teaching.Order(lessons)
			require.NoError(t, err)
			requireValid(t, lessons, order)
			best, err := strconv.Atoi(row["min_context_switches"])
			require.NoError(t, err)
			require.Equal(t, best, teaching.Changes(lessons, order))
			require.Equal(t, row["lexicographically_first_optimal_order"], strings.Join(order, " "))
		})
	}
}

func TestOrderNamesTheCircle(t *testing.T) {
	seen := 0
	for _, row := range readCSV(t, "teaching_ordering.csv") {
		if row["min_context_switches"] != "error: cycle" {
			continue
		}
		seen++
		_, err := teaching.Order(lessonsOf(row))
		fes := procedure.FieldErrors(err)
		require.Len(t, fes, 1)
		require.Equal(t, "circular-needs", fes[0].Rule)
		require.Contains(t, fes[0].Text, "a → b → a")
	}
	require.Equal(t, 1, seen)
}

func TestOrderRefuses(t *testing.T) {
	_, err := teaching.Order([]teaching.Lesson{{ID: "a", Needs: []string{"b"}}, {ID: "a"}})
	var rules []string
	for _, fe := range procedure.FieldErrors(err) {
		rules = append(rules, fe.Rule)
	}
	require.Equal(t, []string{"duplicate-id", "unknown-skill"}, rules)
}

// anyLessons draws a graph without circles.
func anyLessons(t *rapid.T, most int) []teaching.Lesson {
	n := rapid.IntRange(1, most).Draw(t, "n")
	var out []teaching.Lesson
	for i := range n {
		l := teaching.Lesson{ID: fmt.Sprintf("n%03d", i), Context: rapid.SampledFrom([]string{"T", "U", "V"}).Draw(t, "context")}
		for k := range i {
			if rapid.IntRange(0, 3).Draw(t, "edge") == 0 {
				l.Needs = append(l.Needs, out[k].ID)
			}
		}
		out = append(out, l)
	}
	return out
}

// Against every order there is, tried one after the other.
func TestOrderIsTheBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lessons := anyLessons(t, 6)
		shuffled := rapid.Permutation(lessons).Draw(t, "order")
		order, err := teaching.Order(shuffled)
		require.NoError(t, err)
		requireValid(t, shuffled, order)
		require.Equal(t, tryAll(shuffled), order)
	})
}

// tryAll walks through all valid orders by the order of the argument and
// returns the first of those with the fewest changes.
func tryAll(lessons []teaching.Lesson) []string {
	var best []string
	var walk func(order []string)
	walk = func(order []string) {
		if len(order) == len(lessons) {
			if best == nil || teaching.Changes(lessons, order) < teaching.Changes(lessons, best) {
				best = slices.Clone(order)
			}
			return
		}
		for _, l := range lessons {
			if !slices.Contains(order, l.ID) && !slices.ContainsFunc(l.Needs, func(need string) bool { return !slices.Contains(order, need) }) {
				walk(append(order, l.ID))
			}
		}
	}
	walk(nil)
	return best
}

// Beyond what is searched exactly the order is still valid.
func TestOrderOfManyLessons(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lessons := anyLessons(t, 60)
		order, err := teaching.Order(lessons)
		require.NoError(t, err)
		requireValid(t, lessons, order)
	})
}

// Lessons that lie apart and need nothing are still brought together.
func TestOrderOfManyLessonsKeepsTogether(t *testing.T) {
	var lessons []teaching.Lesson
	for i := range 90 {
		lessons = append(lessons, teaching.Lesson{ID: fmt.Sprint(i), Context: fmt.Sprint(i % 3)})
	}
	order, err := teaching.Order(lessons)
	require.NoError(t, err)
	requireValid(t, lessons, order)
	require.Equal(t, 2, teaching.Changes(lessons, order))
}

// The hardest case for the search: no needs, every lesson a context of its own.
func TestOrderWithoutNeeds(t *testing.T) {
	var lessons []teaching.Lesson
	for i := range teaching.ExactLessons {
		lessons = append(lessons, teaching.Lesson{ID: fmt.Sprintf("n%02d", i), Context: fmt.Sprint(i)})
	}
	order, err := teaching.Order(lessons)
	require.NoError(t, err)
	require.Equal(t, teaching.ExactLessons-1, teaching.Changes(lessons, order))
	require.True(t, slices.IsSorted(order))
}

func BenchmarkOrder(b *testing.B) {
	for _, n := range []int{15, 20, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var lessons []teaching.Lesson
			for i := range n {
				l := teaching.Lesson{ID: fmt.Sprint(i), Context: fmt.Sprint(i % 5)}
				if i >= 3 {
					l.Needs = []string{fmt.Sprint(i / 3)}
				}
				lessons = append(lessons, l)
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := teaching.Order(lessons); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
