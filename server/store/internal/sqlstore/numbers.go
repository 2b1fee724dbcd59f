package sqlstore

import (
	"context"
	"fmt"

	"github.com/tightwright/tightwright/server/store"
)

const (
	// claimSize reads the size of a ledger and keeps everyone else from
	// changing it until the transaction ends.
	claimSize = `UPDATE workshops SET size = size WHERE workshop = $1 RETURNING size`

	// writeSize stores it once for all callers of a batch.
	writeSize = `UPDATE workshops SET size = $3 WHERE workshop = $1 AND size = $2`
)

// numbers gives out the ledger numbers of one workshop within a batch. They come
// from the workshop's row and go back there before the commit; in between they
// are counted here, so that the callers of a batch need one statement, not one
// each. The zero value has not read the row.
type numbers struct {
	claimed bool
	stored  int64 // size in the row
	size    int64 // including what the batch has appended
}

// take gives out count numbers and returns the first.
func (t *tx) take(count int64) (first int64, err error) {
	if !t.numbers.claimed {
		t.numbers = t.batch.numbers[t.workshop]
	}
	if !t.numbers.claimed {
		size, _, err := t.number("number leaves", claimSize, t.workshop)
		if err != nil {
			return 0, err
		}
		t.numbers = numbers{claimed: true, stored: size, size: size}
	}
	first = t.numbers.size
	t.numbers.size += count
	return first, nil
}

// LedgerSize counts what this batch has appended before, as every other read
// inside a transaction does.
func (t *tx) LedgerSize() (int64, error) {
	n := t.numbers
	if !n.claimed {
		n = t.batch.numbers[t.workshop]
	}
	if n.claimed {
		return n.size, t.err
	}
	return t.reader.LedgerSize()
}

// writeSizes brings the rows up to date before the commit.
func (b *batch) writeSizes(ctx context.Context) error {
	for workshop, n := range b.numbers {
		if n.size == n.stored {
			continue
		}
		changed, err := b.writer.session.exec(ctx, writeSize, workshop, n.stored, n.size)
		if err != nil {
			return b.writer.dialect.wrap("write ledger size", err)
		}
		if changed != 1 {
			return fmt.Errorf("write ledger size of %s: row is not as it was read: %w", workshop, store.ErrConflict)
		}
	}
	return nil
}
