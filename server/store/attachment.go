package store

// Attachment is free text or a photo. It is never in an entry: the entry holds
// an HMAC of Body under Key, so that the entry proves what the body was as long
// as both are kept, and nothing once they are erased.
type Attachment struct {
	ID        string
	Build     string // may be empty
	Person    string // whose words or picture; may be empty
	MediaType string
	ServerUS  int64
	ErasedUS  int64  // when it was erased; 0 if it was not
	Body      []byte // empty if erased, and in lists
	Key       []byte // empty if erased, and in lists
}

// AttachmentQuery says which attachments to list, by id. Build and Person
// narrow the list where they are not empty.
type AttachmentQuery struct {
	Build  string
	Person string
	After  string // only ids behind this one; empty to start
	Limit  int
}

// AttachmentReader reads attachments.
type AttachmentReader interface {
	// Attachment returns one attachment, or ErrNotFound. An erased one is
	// found, with ErasedUS set and without Body and Key.
	Attachment(id string) (Attachment, error)
	// Attachments lists attachments in the order of their ids, without Body
	// and Key.
	Attachments(q AttachmentQuery) ([]Attachment, error)
}

// AttachmentWriter writes and erases attachments.
type AttachmentWriter interface {
	// PutAttachment stores a new attachment. An id that exists already gives
	// ErrConflict: attachments are not changed.
	PutAttachment(a Attachment) error
	// EraseAttachment deletes body and key and keeps the row with the time
	// atUS, which must not be 0. Erasing again changes nothing; an unknown id
	// gives ErrNotFound. Once Update has returned, no reader sees the content
	// any more; an engine with files of its own also overwrites it there, at
	// once or as soon as no View still needs it, and at the latest in Close.
	// Copies made before, such as backups, are not reached.
	EraseAttachment(id string, atUS int64) error
}
