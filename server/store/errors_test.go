package store_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/tightwright/tightwright/server/store"
)

func TestErrorsSayWhatIsThere(t *testing.T) {
	for _, c := range []struct {
		name string
		err  error
		is   error
		text string
	}{
		{
			"duplicate", &store.DuplicateError{Existing: store.Entry{ID: "e-1", Seq: 4, Build: "b-2"}},
			store.ErrDuplicateEntry, "entry e-1: entry id is stored already as number 4 of build b-2",
		},
		{
			"conflict", &store.ConflictError{What: "tool tw-1", Expected: 2, Actual: 3},
			store.ErrConflict, "tool tw-1: changed in the meantime: expected 2, found 3",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.ErrorIs(t, c.err, c.is)
			require.EqualError(t, c.err, c.text)
		})
	}
}
