package procedure_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tightwright/tightwright/procedure"
)

// longRecord is a record of n readings on one bolt, each one in share of them
// withdrawn.
func longRecord(b *testing.B, n, share int) ([]procedure.Entry, procedure.PlanSource) {
	b.Helper()
	w := newBench(b)
	w.toPinch()
	for w.build.Seq < int64(n) {
		e := w.do("ana", pull("A", "6.5"))
		if share > 0 && w.n%share == 0 {
			w.do("ana", procedure.WithdrawEntry{Entry: e.ID, Cause: procedure.CauseMisTap, Reason: "r"})
		}
	}
	return w.build.Entries(), w.planSource
}

func BenchmarkFold(b *testing.B) {
	for _, share := range []int{0, 10} {
		b.Run(fmt.Sprintf("withdrawn=1/%d", share), func(b *testing.B) {
			entries, plans := longRecord(b, 5000, share)
			b.ReportAllocs()
			for b.Loop() {
				_, err := procedure.Fold("b-1", entries, plans)
				require.NoError(b, err)
			}
		})
	}
}
