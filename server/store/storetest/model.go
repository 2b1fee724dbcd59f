package storetest

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/server/store"
)

// model is one workshop of a store in plain memory, slow and easy to check by
// reading. It implements store.Tx for one caller at a time.
type model struct {
	state
	workshop string
	err      error // sticky within a transaction
}

type state struct {
	leaves      []store.Entry
	documents   map[string][]store.Document // by kind and id
	attachments map[string]store.Attachment
	requests    map[string]store.Request
}

var _ store.Tx = (*model)(nil)

func newModel(workshop string) *model {
	return &model{workshop: workshop, state: state{
		documents:   make(map[string][]store.Document),
		attachments: make(map[string]store.Attachment),
		requests:    make(map[string]store.Request),
	}}
}

// update is Store.Update with a copy to go back to.
func (m *model) update(fn func(tx store.Tx) error) (err error) {
	before := state{
		leaves:      slices.Clone(m.leaves),
		documents:   make(map[string][]store.Document),
		attachments: maps.Clone(m.attachments),
		requests:    maps.Clone(m.requests),
	}
	for key, versions := range m.documents {
		before.documents[key] = slices.Clone(versions)
	}
	m.err = nil
	returned := false
	defer func() {
		if !returned || err != nil {
			m.state = before
		}
		m.err = nil
	}()
	err = fn(m)
	returned = true
	if err == nil {
		err = m.err
	}
	return err
}

func (m *model) fail(err error) error {
	if m.err == nil {
		m.err = err
	}
	return err
}

func (m *model) Append(entries []store.Entry) error {
	if m.err != nil {
		return m.err
	}
	first := len(m.leaves)
	for i := range entries {
		e := &entries[i]
		head := int64(len(m.build(e.Build)))
		if e.Seq != 0 && e.Seq != head+1 {
			return m.fail(&store.ConflictError{What: "build " + e.Build, Expected: e.Seq - 1, Actual: head})
		}
		same := slices.IndexFunc(m.leaves, func(l store.Entry) bool { return l.ID == e.ID })
		if same >= first {
			return m.fail(store.ErrInvalid)
		}
		if same >= 0 {
			return m.fail(&store.DuplicateError{Existing: m.leaves[same]})
		}
		e.Workshop, e.Seq, e.LedgerIndex = m.workshop, head+1, int64(len(m.leaves))
		m.leaves = append(m.leaves, *e)
	}
	return nil
}

func (m *model) build(name string) []store.Entry {
	return filter(m.leaves, func(e store.Entry) bool { return e.Build == name })
}

func filter[T any](all []T, keep func(T) bool) []T {
	var kept []T
	for _, one := range all {
		if keep(one) {
			kept = append(kept, one)
		}
	}
	return kept
}

func page[T any](m *model, all []T, limit int) ([]T, error) {
	if limit == 0 {
		limit = store.MaxPage
	}
	if m.err != nil {
		return nil, m.err
	}
	return all[:min(limit, len(all))], nil
}

func found[T any](m *model, all []T) (T, error) {
	var zero T
	switch {
	case m.err != nil:
		return zero, m.err
	case len(all) == 0:
		return zero, store.ErrNotFound
	}
	return all[0], nil
}

func (m *model) Entries(build string, afterSeq int64, limit int) ([]store.Entry, error) {
	return page(m, filter(m.build(build), func(e store.Entry) bool { return e.Seq > afterSeq }), limit)
}

func (m *model) EntryByID(id string) (store.Entry, error) {
	return found(m, filter(m.leaves, func(e store.Entry) bool { return e.ID == id }))
}

func (m *model) Head(build string) (int64, error) { return int64(len(m.build(build))), m.err }

func (m *model) Leaves(from int64, limit int) ([]store.Entry, error) {
	return page(m, filter(m.leaves, func(e store.Entry) bool { return e.LedgerIndex >= from }), limit)
}

func (m *model) LedgerSize() (int64, error) { return int64(len(m.leaves)), m.err }

func (m *model) Builds(after store.BuildRow, limit int) ([]store.BuildRow, error) {
	var all []store.BuildRow
	for _, e := range m.leaves {
		i := slices.IndexFunc(all, func(b store.BuildRow) bool { return b.Build == e.Build })
		if i < 0 {
			i, all = len(all), append(all, store.BuildRow{Build: e.Build, OpenedUS: e.ServerUS})
		}
		all[i].Head, all[i].ChangedUS = e.Seq, e.ServerUS
	}
	key := func(b store.BuildRow) string { return sortKey(b.OpenedUS, b.Build) }
	return page(m, downwards(all, key, after, after.Build == ""), limit)
}

func (m *model) Jobs(build string, after store.JobRow, limit int) ([]store.JobRow, error) {
	var all []store.JobRow
	for _, e := range m.leaves {
		known := slices.ContainsFunc(all, func(j store.JobRow) bool { return j.Build == e.Build && j.Job == e.Job })
		if e.Job != "" && !known && (build == "" || build == e.Build) {
			all = append(all, store.JobRow{Build: e.Build, Job: e.Job, OpenSeq: e.Seq, OpenedUS: e.ServerUS})
		}
	}
	key := func(j store.JobRow) string { return sortKey(j.OpenedUS, j.Build, j.Job) }
	return page(m, downwards(all, key, after, after.Job == ""), limit)
}

// sortKey sorts by a time that is not negative and then by ids.
func sortKey(at int64, ids ...string) string {
	return fmt.Sprintf("%020d\x00%s", at, strings.Join(ids, "\x00"))
}

func downwards[T any](all []T, key func(T) string, after T, fromStart bool) []T {
	slices.SortFunc(all, func(a, b T) int { return strings.Compare(key(b), key(a)) })
	return filter(all, func(one T) bool { return fromStart || key(one) < key(after) })
}

func (m *model) ToolUses(tool string, after store.ToolUse, untilUS int64, limit int) ([]store.ToolUse, error) {
	if untilUS == 0 {
		untilUS = math.MaxInt64
	}
	var all []store.ToolUse
	for _, e := range m.leaves {
		if slices.Contains(e.Tools, tool) && e.ServerUS < untilUS {
			all = append(all, store.ToolUse{Tool: tool, ServerUS: e.ServerUS, Build: e.Build, Seq: e.Seq})
		}
	}
	key := func(u store.ToolUse) string { return sortKey(u.ServerUS, u.Build, fmt.Sprintf("%020d", u.Seq)) }
	slices.SortFunc(all, func(a, b store.ToolUse) int { return strings.Compare(key(a), key(b)) })
	return page(m, filter(all, func(u store.ToolUse) bool { return key(u) > key(after) }), limit)
}

// outcome says what kind of answer an error is.
func outcome(err error) string {
	for _, kind := range []error{
		store.ErrNotFound, store.ErrConflict, store.ErrDuplicateEntry, store.ErrRequestReused, store.ErrInvalid, errRefused,
	} {
		if errors.Is(err, kind) {
			return kind.Error()
		}
	}
	if err != nil {
		return "unexpected: " + err.Error()
	}
	return "done"
}
