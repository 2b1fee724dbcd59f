package sqlstore

import (
	"database/sql"
	"strings"

	"github.com/tightwright/tightwright/server/store"
)

const entryColumns = `workshop, build, seq, entry_id, job, schema_version, kind, actor,
 tablet, tablet_seq, boot, monotonic_us, tablet_us, server_us, offset_us,
 based_on_seq, tools, envelope, payload, ledger_index`

const (
	selectEntries = `SELECT ` + entryColumns + ` FROM entries
 WHERE workshop = $1 AND build = $2 AND seq > $3 ORDER BY seq LIMIT $4`

	selectEntryByID = `SELECT ` + entryColumns + ` FROM entries
 WHERE workshop = $1 AND entry_id = $2`

	selectLeaves = `SELECT ` + entryColumns + ` FROM entries
 WHERE workshop = $1 AND ledger_index >= $2 ORDER BY ledger_index LIMIT $3`

	selectHead = `SELECT seq FROM entries
 WHERE workshop = $1 AND build = $2 ORDER BY seq DESC LIMIT 1`

	selectSize = `SELECT size FROM workshops WHERE workshop = $1`
)

// toolSeparator joins the ids of tools in their column; no id contains it.
const toolSeparator = "\n"

func scanEntry(rows *sql.Rows) (store.Entry, error) {
	var (
		e      store.Entry
		offset sql.NullInt64
		tools  string
	)
	err := rows.Scan(&e.Workshop, &e.Build, &e.Seq, &e.ID, &e.Job, &e.Schema, &e.Kind, &e.Actor,
		&e.Tablet, &e.TabletSeq, &e.Boot, &e.MonotonicUS, &e.TabletUS, &e.ServerUS, &offset,
		&e.BasedOnSeq, &tools, &e.Envelope, &e.Payload, &e.LedgerIndex)
	e.Payload = nilIfEmpty(e.Payload)
	e.OffsetUS, e.OffsetKnown = offset.Int64, offset.Valid
	if tools != "" {
		e.Tools = strings.Split(tools, toolSeparator)
	}
	return e, err
}

func (r *reader) Entries(build string, afterSeq int64, limit int) ([]store.Entry, error) {
	return list(r, "read entries of build "+build, scanEntry, selectEntries,
		r.workshop, build, afterSeq, pageLimit(limit))
}

func (r *reader) EntryByID(id string) (store.Entry, error) {
	return single(r, "read entry "+id, scanEntry, selectEntryByID, r.workshop, id)
}

func (r *reader) Leaves(from int64, limit int) ([]store.Entry, error) {
	return list(r, "read leaves", scanEntry, selectLeaves, r.workshop, from, pageLimit(limit))
}

func (r *reader) Head(build string) (int64, error) {
	head, _, err := r.number("read head of build "+build, selectHead, r.workshop, build)
	return head, err
}

func (r *reader) LedgerSize() (int64, error) {
	size, _, err := r.number("read ledger size", selectSize, r.workshop)
	return size, err
}
