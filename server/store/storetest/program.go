package storetest

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/server/store"
)

// operation is one call of a Tx and what came of it, as far as it can be
// compared. It must make its arguments anew each time, since Append changes them.
type operation struct {
	name string
	do   func(tx store.Tx) (any, error)
}

// program is what one Update does.
type program struct {
	operations []operation
	end        string // how the function ends: returns, refuses or panics
}

// trace is what a program saw.
type trace struct {
	order   int64 // of the start of its function among all
	steps   []step
	outcome string // of Update
}

type step struct {
	Name    string
	Result  any
	Outcome string
}

func (p program) run(tx store.Tx, t *trace) error {
	t.steps = nil // an engine may run a function again
	for _, o := range p.operations {
		result, err := o.do(tx)
		if err != nil {
			result = nil
		}
		var duplicate *store.DuplicateError
		if errors.As(err, &duplicate) {
			result = duplicate.Existing
		}
		t.steps = append(t.steps, step{o.name, result, outcome(err)})
	}
	switch p.end {
	case "refuses":
		return errRefused
	case "panics":
		panic(errRefused)
	}
	return nil
}

// testModel runs random programs from several goroutines, each time in a new
// workshop, and then the same programs one after the other, in the order in
// which they had their turn, on the model. Every answer and the final state must
// be the same.
func testModel(t *testing.T, open Open) {
	s := opened(t, open)
	var workshops atomic.Int64
	rapid.Check(t, func(rt *rapid.T) {
		workshop := fmt.Sprintf("shop-%d", workshops.Add(1))
		writers := rapid.SliceOfN(rapid.SliceOfN(programs(), 1, 4), 1, 4).Draw(rt, "writers")
		done, traces := runConcurrently(s, workshop, writers)

		m := newModel(workshop)
		for i, got := range traces {
			want := trace{order: got.order}
			want.outcome = finish(func() error {
				return m.update(func(tx store.Tx) error { return done[i].run(tx, &want) })
			})
			require.Equal(rt, want, got)
		}
		viewOf(t, s, workshop, func(r store.Reader) { compareAll(rt, m, r) })
	})
}

// finish runs an update and says how it ended.
func finish(update func() error) (how string) {
	defer func() {
		if panicked := recover(); panicked != nil {
			how = fmt.Sprintf("panic: %v", panicked)
		}
	}()
	return outcome(update())
}

func runConcurrently(s store.Store, workshop string, writers [][]program) (done []program, traces []trace) {
	var wg sync.WaitGroup
	var mu sync.Mutex
	var turns atomic.Int64
	byOrder := make(map[int64]program)
	for _, programs := range writers {
		wg.Go(func() {
			for _, p := range programs {
				var got trace
				got.outcome = finish(func() error {
					return s.Update(context.Background(), workshop, func(tx store.Tx) error {
						got.order = turns.Add(1)
						return p.run(tx, &got)
					})
				})
				mu.Lock()
				traces, byOrder[got.order] = append(traces, got), p
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	slices.SortFunc(traces, func(a, b trace) int { return int(a.order - b.order) })
	for _, t := range traces {
		done = append(done, byOrder[t.order])
	}
	return done, traces
}

// compareAll reads everything there is from both sides.
func compareAll(t require.TestingT, m *model, r store.Reader) {
	leaves, err := r.Leaves(0, 0)
	require.NoError(t, err)
	require.Equal(t, m.leaves, leaves)
	for _, o := range everything {
		want, wantErr := o.do(m)
		got, gotErr := o.do(r)
		require.Equal(t, outcome(wantErr), outcome(gotErr), o.name)
		if wantErr == nil {
			require.Equal(t, want, got, o.name)
		}
	}
}
