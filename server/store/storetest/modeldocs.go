package storetest

import (
	"maps"
	"slices"
	"strings"

	"github.com/tightwright/tightwright/server/store"
)

func (m *model) versions(kind, id string) []store.Document { return m.documents[kind+"\x00"+id] }

func (m *model) Document(kind, id string) (store.Document, error) {
	all := slices.Clone(m.versions(kind, id))
	slices.Reverse(all)
	return found(m, all)
}

func (m *model) DocumentVersion(kind, id string, version int64) (store.Document, error) {
	return found(m, filter(m.versions(kind, id), func(d store.Document) bool { return d.Version == version }))
}

func (m *model) DocumentVersions(kind, id string, after int64, limit int) ([]store.Document, error) {
	return page(m, filter(m.versions(kind, id), func(d store.Document) bool { return d.Version > after }), limit)
}

func (m *model) Documents(q store.DocumentQuery) ([]store.Document, error) {
	var all []store.Document
	for _, key := range slices.Sorted(maps.Keys(m.documents)) {
		versions := m.documents[key]
		current := versions[len(versions)-1]
		if current.Kind == q.Kind && current.ID > q.After && strings.HasPrefix(current.ID, q.Prefix) {
			all = append(all, current)
		}
	}
	return page(m, all, q.Limit)
}

func (m *model) PutDocument(d store.Document, expected int64) (int64, error) {
	if m.err != nil {
		return 0, m.err
	}
	versions := m.versions(d.Kind, d.ID)
	actual := int64(len(versions))
	switch {
	case actual == expected:
	case actual == 0:
		return 0, store.ErrNotFound
	default:
		return 0, m.fail(&store.ConflictError{Expected: expected, Actual: actual})
	}
	d.Version, d.ErasedUS = expected+1, 0
	m.documents[d.Kind+"\x00"+d.ID] = append(versions, d)
	return d.Version, nil
}

func (m *model) EraseDocument(kind, id string, atUS int64) error {
	if m.err != nil {
		return m.err
	}
	versions := m.versions(kind, id)
	if len(versions) == 0 {
		return store.ErrNotFound
	}
	for i := range versions {
		if versions[i].ErasedUS == 0 {
			versions[i].Body, versions[i].ErasedUS = nil, atUS
		}
	}
	return nil
}

func (m *model) Attachment(id string) (store.Attachment, error) {
	a, ok := m.attachments[id]
	if m.err == nil && !ok {
		return a, store.ErrNotFound
	}
	return a, m.err
}

func (m *model) Attachments(q store.AttachmentQuery) ([]store.Attachment, error) {
	var all []store.Attachment
	for _, id := range slices.Sorted(maps.Keys(m.attachments)) {
		a := m.attachments[id]
		a.Body, a.Key = nil, nil
		if id > q.After && (q.Build == "" || q.Build == a.Build) && (q.Person == "" || q.Person == a.Person) {
			all = append(all, a)
		}
	}
	return page(m, all, q.Limit)
}

func (m *model) PutAttachment(a store.Attachment) error {
	if m.err != nil {
		return m.err
	}
	if _, ok := m.attachments[a.ID]; ok {
		return m.fail(store.ErrConflict)
	}
	a.ErasedUS = 0
	m.attachments[a.ID] = a
	return nil
}

func (m *model) EraseAttachment(id string, atUS int64) error {
	if m.err != nil {
		return m.err
	}
	a, ok := m.attachments[id]
	if !ok {
		return store.ErrNotFound
	}
	if a.ErasedUS == 0 {
		a.Body, a.Key, a.ErasedUS = nil, nil, atUS
		m.attachments[id] = a
	}
	return nil
}

func (m *model) Request(id string) (store.Request, error) {
	r, ok := m.requests[id]
	if m.err == nil && !ok {
		return r, store.ErrNotFound
	}
	return r, m.err
}

func (m *model) PutRequest(r store.Request) error {
	if m.err != nil {
		return m.err
	}
	if _, ok := m.requests[r.ID]; ok {
		return m.fail(store.ErrRequestReused)
	}
	m.requests[r.ID] = r
	return nil
}
