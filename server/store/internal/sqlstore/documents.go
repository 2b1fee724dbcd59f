package sqlstore

import (
	"database/sql"
	"errors"
	"fmt"

	"github.com/tightwright/tightwright/server/store"
)

const documentColumns = `v.kind, v.id, v.version, v.actor, v.server_us, v.erased_us, v.body`

const currentDocuments = `SELECT ` + documentColumns + ` FROM documents d
 JOIN document_versions v
 ON v.workshop = d.workshop AND v.kind = d.kind AND v.id = d.id AND v.version = d.version
 WHERE d.workshop = $1 AND d.kind = $2`

const (
	selectDocument = currentDocuments + ` AND d.id = $3`

	selectDocuments = currentDocuments + ` AND d.id > $3 AND d.id >= $4 ORDER BY d.id LIMIT $5`

	// selectDocumentsBelow ends before the first id behind a prefix.
	selectDocumentsBelow = currentDocuments + ` AND d.id > $3 AND d.id >= $4 AND d.id < $5 ORDER BY d.id LIMIT $6`

	selectDocumentVersion = `SELECT ` + documentColumns + ` FROM document_versions v
 WHERE v.workshop = $1 AND v.kind = $2 AND v.id = $3 AND v.version = $4`

	selectDocumentVersions = `SELECT ` + documentColumns + ` FROM document_versions v
 WHERE v.workshop = $1 AND v.kind = $2 AND v.id = $3 AND v.version > $4 ORDER BY v.version LIMIT $5`

	insertDocument = `INSERT INTO documents (workshop, kind, id, version) VALUES ($1, $2, $3, 1)
 ON CONFLICT (workshop, kind, id) DO NOTHING`

	raiseDocument = `UPDATE documents SET version = version + 1
 WHERE workshop = $1 AND kind = $2 AND id = $3 AND version = $4`

	insertDocumentVersion = `INSERT INTO document_versions
 (workshop, kind, id, version, actor, server_us, erased_us, body) VALUES ($1, $2, $3, $4, $5, $6, 0, $7)`

	eraseDocument = `UPDATE document_versions SET body = $4, erased_us = $5
 WHERE workshop = $1 AND kind = $2 AND id = $3 AND erased_us = 0`
)

func scanDocument(rows *sql.Rows) (store.Document, error) {
	var d store.Document
	err := rows.Scan(&d.Kind, &d.ID, &d.Version, &d.Actor, &d.ServerUS, &d.ErasedUS, &d.Body)
	d.Body = nilIfEmpty(d.Body)
	return d, err
}

func (r *reader) Document(kind, id string) (store.Document, error) {
	return single(r, "read "+kind+" "+id, scanDocument, selectDocument, r.workshop, kind, id)
}

func (r *reader) DocumentVersion(kind, id string, version int64) (store.Document, error) {
	return single(r, fmt.Sprintf("read %s %s version %d", kind, id, version),
		scanDocument, selectDocumentVersion, r.workshop, kind, id, version)
}

func (r *reader) DocumentVersions(kind, id string, after int64, limit int) ([]store.Document, error) {
	return list(r, "list versions of "+kind+" "+id,
		scanDocument, selectDocumentVersions, r.workshop, kind, id, after, pageLimit(limit))
}

func (r *reader) Documents(q store.DocumentQuery) ([]store.Document, error) {
	operation := "list " + q.Kind
	end, bounded := behindPrefix(q.Prefix)
	if !bounded {
		return list(r, operation, scanDocument, selectDocuments,
			r.workshop, q.Kind, q.After, q.Prefix, pageLimit(q.Limit))
	}
	return list(r, operation, scanDocument, selectDocumentsBelow,
		r.workshop, q.Kind, q.After, q.Prefix, end, pageLimit(q.Limit))
}

func (t *tx) PutDocument(d store.Document, expected int64) (int64, error) {
	if err := checkKeys([]key{{"kind", d.Kind}, {"id", d.ID}}, key{"actor", d.Actor}); err != nil {
		return 0, t.refuse(err)
	}
	if expected < 0 {
		return 0, t.refuse(fmt.Errorf("%w: expected version %d", store.ErrInvalid, expected))
	}
	if err := t.startWritingIn(d.ServerUS); err != nil {
		return 0, err
	}
	what := d.Kind + " " + d.ID
	if err := t.raiseVersion(what, d.Kind, d.ID, expected); err != nil {
		return 0, err
	}
	_, err := t.exec("write "+what, insertDocumentVersion,
		t.workshop, d.Kind, d.ID, expected+1, d.Actor, d.ServerUS, notNil(d.Body))
	return expected + 1, err
}

// raiseVersion moves the current version on by one if it is the expected one.
func (t *tx) raiseVersion(what, kind, id string, expected int64) error {
	query, args := insertDocument, []any{t.workshop, kind, id}
	if expected > 0 {
		query, args = raiseDocument, append(args, expected)
	}
	n, err := t.exec("write "+what, query, args...)
	if err != nil || n == 1 {
		return err
	}
	current, err := t.Document(kind, id)
	if errors.Is(err, store.ErrNotFound) {
		return err
	}
	if err != nil {
		return t.refuse(err)
	}
	return t.refuse(&store.ConflictError{What: what, Expected: expected, Actual: current.Version})
}

func (t *tx) EraseDocument(kind, id string, atUS int64) error {
	return t.erase(kind+" "+id, atUS,
		func() error { _, err := t.Document(kind, id); return err },
		eraseDocument, t.workshop, kind, id, []byte{}, atUS)
}
