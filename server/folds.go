package server

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"sync"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/server/store"
)

// folds caches the state of builds, so that a command does not fold a whole
// record again. No answer depends on it: each use reads the entries behind the
// last one that is known to be committed and compares them with those that
// were applied. After a rollback, a commit that failed, or an entry of another
// server they differ, and the build is folded anew.
type folds struct {
	plans *plans
	// snapshots says that readers see committed entries only. Writers also see
	// those of their own transaction and of callers who share it.
	snapshots bool
	cached    *lru[foldKey, *fold]
}

type foldKey struct{ workshop, build string }

// A fold is the cached state of one build.
type fold struct {
	key foldKey

	mu    sync.Mutex // held while the fold is used
	build *procedure.Build
	// committed is the last sequence known to be committed; tail holds a
	// digest of each entry applied after it.
	committed int64
	tail      [][sha256.Size]byte
	// reader finds plans while the fold is used, and is nil otherwise.
	reader store.Reader
}

func newFolds(plans *plans, snapshots bool, most int) *folds {
	return &folds{plans: plans, snapshots: snapshots, cached: newLRU[foldKey, *fold](most)}
}

// with calls fn with the state of a build as r sees it, or a committed later
// one, alone: fn may apply entries that it appends in the same transaction.
// When fn fails, or panics, the state is forgotten.
func (c *folds) with(r store.Reader, workshop, build string, fn func(f *fold) error) error {
	f := c.fold(workshop, build)
	f.mu.Lock()
	defer f.mu.Unlock()
	whole := false
	f.reader = r
	defer func() {
		f.reader = nil
		if !whole {
			f.forget()
		}
	}()
	if err := c.update(f, r); err != nil {
		return err
	}
	if err := fn(f); err != nil {
		return err
	}
	whole = true
	return nil
}

// commit says that everything up to seq is committed.
func (c *folds) commit(workshop, build string, seq int64) {
	f := c.fold(workshop, build)
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.build == nil || seq <= f.committed {
		return
	}
	known := min(seq-f.committed, int64(len(f.tail)))
	f.tail = f.tail[known:]
	f.committed += known
}

func (c *folds) fold(workshop, build string) *fold {
	key := foldKey{workshop, build}
	return c.cached.getOr(key, func() *fold { return &fold{key: key} })
}

// update brings the fold to what r sees.
func (c *folds) update(f *fold, r store.Reader) error {
	if f.build == nil {
		f.build = procedure.NewBuild(f.key.build, func(digest string) (*procedure.Plan, error) {
			return c.plans.find(f.reader, f.key.workshop, digest)
		})
	}
	seen := 0
	for e, err := range store.All(r, f.key.build, f.committed) {
		switch {
		case err != nil:
			return fmt.Errorf("fold build %s: %w", f.key.build, err)
		case seen >= len(f.tail):
			if err := f.apply(e); err != nil {
				return err
			}
		case f.tail[seen] != entryDigest(e):
			return c.anew(f, r)
		}
		seen++
	}
	if seen < len(f.tail) {
		return c.anew(f, r) // what was applied was not committed
	}
	if c.snapshots {
		f.committed, f.tail = f.build.Seq, nil
	}
	return nil
}

// anew folds the whole record.
func (c *folds) anew(f *fold, r store.Reader) error {
	f.forget()
	return c.update(f, r)
}

func (f *fold) forget() { f.build, f.committed, f.tail = nil, 0, nil }

// apply adds a stored entry to the state.
func (f *fold) apply(e store.Entry) error {
	decoded, err := procedure.DecodeEntry(e.Envelope, e.Payload)
	if err != nil {
		return fmt.Errorf("fold build %s: %w", f.key.build, err)
	}
	return f.add(decoded, e)
}

// add applies an entry whose stored form is at hand.
func (f *fold) add(e procedure.Entry, stored store.Entry) error {
	if err := f.build.Apply(e); err != nil {
		return fmt.Errorf("fold: %w", err)
	}
	f.tail = append(f.tail, entryDigest(stored))
	return nil
}

// foldAt folds a build up to a sequence, for an answer as it was given then.
func foldAt(r store.Reader, plans *plans, key foldKey, seq int64) (*procedure.Build, error) {
	f := &fold{key: key, reader: r}
	f.build = procedure.NewBuild(key.build, func(digest string) (*procedure.Plan, error) {
		return plans.find(r, key.workshop, digest)
	})
	for e, err := range store.All(r, key.build, 0) {
		if err != nil {
			return nil, fmt.Errorf("fold build %s: %w", key.build, err)
		}
		if e.Seq > seq {
			break
		}
		if err := f.apply(e); err != nil {
			return nil, err
		}
	}
	return f.build, nil
}

// entryDigest tells two entries apart by what counts.
func entryDigest(e store.Entry) (sum [sha256.Size]byte) {
	h := sha256.New()
	var size [8]byte
	binary.BigEndian.PutUint64(size[:], uint64(len(e.Envelope)))
	h.Write(size[:])
	h.Write(e.Envelope)
	h.Write(e.Payload)
	h.Sum(sum[:0])
	return sum
}
