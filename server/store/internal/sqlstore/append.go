package sqlstore

import (
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"github.com/tightwright/tightwright/server/store"
)

const (
	insertBuild = `INSERT INTO builds (workshop, build, opened_us) VALUES ($1, $2, $3)
 ON CONFLICT (workshop, build) DO NOTHING`

	insertJob = `INSERT INTO jobs (workshop, build, job, open_seq, opened_us) VALUES ($1, $2, $3, $4, $5)
 ON CONFLICT (workshop, build, job) DO NOTHING`

	insertEntry = `INSERT INTO entries (` + entryColumns + `)
 VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20)
 ON CONFLICT (workshop, entry_id) DO NOTHING`

	insertToolUse = `INSERT INTO entry_tools (workshop, tool, server_us, build, seq) VALUES ($1, $2, $3, $4, $5)
 ON CONFLICT (workshop, tool, server_us, build, seq) DO NOTHING`
)

func checkEntry(e *store.Entry) error {
	err := checkKeys(
		[]key{{"build", e.Build}, {"entry id", e.ID}, {"kind", e.Kind}},
		key{"job", e.Job}, key{"actor", e.Actor}, key{"tablet", e.Tablet}, key{"boot", e.Boot})
	for _, tool := range e.Tools {
		err = errors.Join(err, checkKey("tool", tool))
	}
	switch {
	case err != nil:
		return err
	case len(e.Envelope) == 0:
		return fmt.Errorf("%w: entry %s has no envelope", store.ErrInvalid, e.ID)
	case e.Schema < 1:
		return fmt.Errorf("%w: entry %s has envelope version %d", store.ErrInvalid, e.ID, e.Schema)
	case e.Seq < 0 || e.BasedOnSeq < 0:
		return fmt.Errorf("%w: entry %s has a sequence number below 0", store.ErrInvalid, e.ID)
	}
	return nil
}

func (t *tx) Append(entries []store.Entry) error {
	for i := range entries {
		if err := checkEntry(&entries[i]); err != nil {
			return t.refuse(err)
		}
	}
	if len(entries) == 0 {
		return t.err
	}
	if err := t.startWritingIn(entries[0].ServerUS); err != nil {
		return err
	}
	firstLeaf, err := t.take(int64(len(entries)))
	if err != nil {
		return err
	}
	for i := range entries {
		entries[i].Workshop = t.workshop
		entries[i].LedgerIndex = firstLeaf + int64(i)
	}
	for start := 0; start < len(entries); {
		end := start + 1
		for end < len(entries) && entries[end].Build == entries[start].Build {
			end++
		}
		if err := t.appendRun(entries[start:end], firstLeaf); err != nil {
			return err
		}
		start = end
	}
	return nil
}

// appendRun stores entries that follow one another in one build. Leaves from
// firstLeaf on belong to the call under way.
func (t *tx) appendRun(run []store.Entry, firstLeaf int64) error {
	build := run[0].Build
	// No other transaction can add to the build after this is read: the row of
	// the workshop, which was claimed before, keeps them out.
	head, err := t.Head(build)
	if err == nil && head == 0 {
		_, err = t.exec("add build "+build, insertBuild, t.workshop, build, run[0].ServerUS)
	}
	if err != nil {
		return err
	}
	for i := range run {
		e, seq := &run[i], head+int64(i)+1
		if e.Seq != 0 && e.Seq != seq {
			return t.refuse(&store.ConflictError{What: "build " + build, Expected: e.Seq - 1, Actual: seq - 1})
		}
		e.Seq = seq
		if err := t.insertEntry(e, firstLeaf); err != nil {
			return err
		}
		if err := t.listJob(e); err != nil {
			return err
		}
	}
	return nil
}

// listJob adds the job of an entry to the list of jobs, unless it is there.
func (t *tx) listJob(e *store.Entry) error {
	r := row{e.Workshop, e.Build, e.Job}
	if e.Job == "" || t.isKnown(r) {
		return nil
	}
	_, err := t.exec("list job "+e.Job, insertJob, e.Workshop, e.Build, e.Job, e.Seq, e.ServerUS)
	if err == nil {
		t.seen = append(t.seen, r)
	}
	return err
}

func (t *tx) insertEntry(e *store.Entry, firstLeaf int64) error {
	n, err := t.exec("append entry "+e.ID, insertEntry,
		e.Workshop, e.Build, e.Seq, e.ID, e.Job, e.Schema, e.Kind, e.Actor,
		e.Tablet, e.TabletSeq, e.Boot, e.MonotonicUS, e.TabletUS, e.ServerUS,
		sql.NullInt64{Int64: e.OffsetUS, Valid: e.OffsetKnown},
		e.BasedOnSeq, strings.Join(e.Tools, toolSeparator), e.Envelope, notNil(e.Payload), e.LedgerIndex)
	if err != nil {
		return err
	}
	if n == 0 {
		return t.refuseDuplicate(e.ID, firstLeaf)
	}
	for _, tool := range e.Tools {
		if _, err := t.exec("note use of tool "+tool, insertToolUse,
			e.Workshop, tool, e.ServerUS, e.Build, e.Seq); err != nil {
			return err
		}
	}
	return nil
}

// refuseDuplicate tells an id that was stored before from one that is in the
// present call twice, which no retry can mend.
func (t *tx) refuseDuplicate(id string, firstLeaf int64) error {
	existing, err := t.EntryByID(id)
	if err != nil {
		return t.refuse(err)
	}
	if existing.LedgerIndex >= firstLeaf {
		return t.refuse(fmt.Errorf("%w: entry id %s twice in one call", store.ErrInvalid, id))
	}
	return t.refuse(&store.DuplicateError{Existing: existing})
}
