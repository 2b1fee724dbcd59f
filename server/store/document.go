package store

// Document is one version of a document.
type Document struct {
	Kind    string
	ID      string
	Version int64 // from 1; set by the store
	Actor   string
	// ServerUS is when this version was written.
	ServerUS int64
	// ErasedUS is when the body was erased; 0 if it was not.
	ErasedUS int64
	Body     []byte // empty if erased
}

// DocumentQuery says which documents to list, by id.
type DocumentQuery struct {
	Kind   string
	Prefix string // only ids that begin so; empty for all
	After  string // only ids behind this one; empty to start
	Limit  int
}

// DocumentReader reads documents.
type DocumentReader interface {
	// Document returns the current version, or ErrNotFound.
	Document(kind, id string) (Document, error)
	// DocumentVersion returns one version, or ErrNotFound.
	DocumentVersion(kind, id string, version int64) (Document, error)
	// DocumentVersions lists the versions of a document, oldest first, those
	// above after.
	DocumentVersions(kind, id string, after int64, limit int) ([]Document, error)
	// Documents lists the current versions in the order of their ids.
	Documents(q DocumentQuery) ([]Document, error)
}

// DocumentWriter writes documents.
type DocumentWriter interface {
	// PutDocument stores a new version and returns its number. expected is the
	// version that the change was based on, 0 for a document that must not
	// exist yet. If the current version is another one, it fails with a
	// *ConflictError; if expected is above 0 and there is no such document,
	// with ErrNotFound. Version and ErasedUS of d do not count.
	PutDocument(d Document, expected int64) (version int64, err error)
	// EraseDocument erases the body of every version and keeps the rows, so
	// that who changed what and when can still be told; see
	// AttachmentWriter.EraseAttachment for what erasing means. Versions
	// written later are not erased.
	EraseDocument(kind, id string, atUS int64) error
}
