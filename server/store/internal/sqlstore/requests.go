package sqlstore

import (
	"database/sql"
	"fmt"

	"github.com/tightwright/tightwright/server/store"
)

const (
	selectRequest = `SELECT request_id, digest, answer, server_us FROM requests
 WHERE workshop = $1 AND request_id = $2`

	insertRequest = `INSERT INTO requests (workshop, request_id, digest, answer, server_us)
 VALUES ($1, $2, $3, $4, $5) ON CONFLICT (workshop, request_id) DO NOTHING`
)

func (r *reader) Request(id string) (store.Request, error) {
	scan := func(rows *sql.Rows) (store.Request, error) {
		var q store.Request
		err := rows.Scan(&q.ID, &q.Digest, &q.Answer, &q.ServerUS)
		q.Answer = nilIfEmpty(q.Answer)
		return q, err
	}
	return single(r, "read request "+id, scan, selectRequest, r.workshop, id)
}

func (t *tx) PutRequest(q store.Request) error {
	if err := checkKey("request id", q.ID); err != nil {
		return t.refuse(err)
	}
	if len(q.Digest) == 0 {
		return t.refuse(fmt.Errorf("%w: request %s has no digest", store.ErrInvalid, q.ID))
	}
	if err := t.startWritingIn(q.ServerUS); err != nil {
		return err
	}
	n, err := t.exec("write request "+q.ID, insertRequest,
		t.workshop, q.ID, q.Digest, notNil(q.Answer), q.ServerUS)
	if err != nil {
		return err
	}
	if n == 0 {
		return t.refuse(fmt.Errorf("write request %s: %w", q.ID, store.ErrRequestReused))
	}
	return nil
}
