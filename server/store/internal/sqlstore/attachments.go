package sqlstore

import (
	"database/sql"
	"fmt"

	"github.com/tightwright/tightwright/server/store"
)

const (
	selectAttachment = `SELECT id, build, person, media_type, server_us, erased_us, body, hmac_key
 FROM attachments WHERE workshop = $1 AND id = $2`

	listAttachments = `SELECT id, build, person, media_type, server_us, erased_us
 FROM attachments WHERE workshop = $1 AND id > $2`

	selectAttachments         = listAttachments + ` ORDER BY id LIMIT $3`
	selectAttachmentsOfBuild  = listAttachments + ` AND build = $3 ORDER BY id LIMIT $4`
	selectAttachmentsOfPerson = listAttachments + ` AND person = $3 ORDER BY id LIMIT $4`
	selectAttachmentsOfBoth   = listAttachments + ` AND build = $3 AND person = $4 ORDER BY id LIMIT $5`

	insertAttachment = `INSERT INTO attachments
 (workshop, id, build, person, media_type, server_us, erased_us, body, hmac_key)
 VALUES ($1, $2, $3, $4, $5, $6, 0, $7, $8) ON CONFLICT (workshop, id) DO NOTHING`

	eraseAttachment = `UPDATE attachments SET body = $3, hmac_key = $3, erased_us = $4
 WHERE workshop = $1 AND id = $2 AND erased_us = 0`
)

func (r *reader) Attachment(id string) (store.Attachment, error) {
	scan := func(rows *sql.Rows) (store.Attachment, error) {
		var a store.Attachment
		err := rows.Scan(&a.ID, &a.Build, &a.Person, &a.MediaType, &a.ServerUS, &a.ErasedUS, &a.Body, &a.Key)
		a.Body, a.Key = nilIfEmpty(a.Body), nilIfEmpty(a.Key)
		return a, err
	}
	return single(r, "read attachment "+id, scan, selectAttachment, r.workshop, id)
}

func (r *reader) Attachments(q store.AttachmentQuery) ([]store.Attachment, error) {
	scan := func(rows *sql.Rows) (store.Attachment, error) {
		var a store.Attachment
		err := rows.Scan(&a.ID, &a.Build, &a.Person, &a.MediaType, &a.ServerUS, &a.ErasedUS)
		return a, err
	}
	query, args := selectAttachments, []any{r.workshop, q.After}
	switch {
	case q.Build != "" && q.Person != "":
		query, args = selectAttachmentsOfBoth, append(args, q.Build, q.Person)
	case q.Build != "":
		query, args = selectAttachmentsOfBuild, append(args, q.Build)
	case q.Person != "":
		query, args = selectAttachmentsOfPerson, append(args, q.Person)
	}
	return list(r, "list attachments", scan, query, append(args, pageLimit(q.Limit))...)
}

func (t *tx) PutAttachment(a store.Attachment) error {
	err := checkKeys([]key{{"attachment id", a.ID}, {"media type", a.MediaType}},
		key{"build", a.Build}, key{"person", a.Person})
	if err != nil {
		return t.refuse(err)
	}
	if err := t.startWritingIn(a.ServerUS); err != nil {
		return err
	}
	n, err := t.exec("write attachment "+a.ID, insertAttachment, t.workshop,
		a.ID, a.Build, a.Person, a.MediaType, a.ServerUS, notNil(a.Body), notNil(a.Key))
	if err != nil {
		return err
	}
	if n == 0 {
		return t.refuse(fmt.Errorf("write attachment %s: it exists already: %w", a.ID, store.ErrConflict))
	}
	return nil
}

func (t *tx) EraseAttachment(id string, atUS int64) error {
	return t.erase("attachment "+id, atUS,
		func() error { _, err := t.Attachment(id); return err },
		eraseAttachment, t.workshop, id, []byte{}, atUS)
}

// erase runs a statement that empties rows not erased yet. If there was none,
// exists tells whether the row is missing or was erased before.
func (t *tx) erase(what string, atUS int64, exists func() error, query string, args ...any) error {
	if atUS <= 0 {
		return t.refuse(fmt.Errorf("%w: time of erasing is %d", store.ErrInvalid, atUS))
	}
	if err := t.startWriting(); err != nil {
		return err
	}
	n, err := t.exec("erase "+what, query, args...)
	if err != nil {
		return err
	}
	if n == 0 {
		return exists()
	}
	t.erased = true
	return nil
}
