package teaching_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/procedure/teaching"
)

func BenchmarkQuestions(b *testing.B) {
	procedures := builtIn(b)
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		qs, err := teaching.Questions(procedures, nil, teaching.Options{}, 400)
		require.NoError(b, err)
		n += len(qs)
	}
	b.ReportMetric(float64(n)/b.Elapsed().Seconds(), "questions/s")
}

// BenchmarkCurriculum makes a curriculum over many procedures, which are the
// built-in ones again under other names.
func BenchmarkCurriculum(b *testing.B) {
	for _, n := range []int{29, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var many []*procedure.Resolved
			for i := 0; len(many) < n; i++ {
				for _, p := range builtIn(b) {
					c := *p
					c.ID = fmt.Sprintf("%s-%d", p.ID, i)
					c.Skills = append(slices.Clone(p.Skills), procedure.Skill{ID: c.ID, Title: c.Title, Needs: []string{p.Skills[len(p.Skills)-1].ID}})
					many = append(many, &c)
				}
			}
			many = many[:n]
			b.ReportAllocs()
			for b.Loop() {
				_, err := teaching.New(many, nil, teaching.Options{})
				require.NoError(b, err)
			}
		})
	}
}
