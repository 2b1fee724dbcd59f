// Package store is the contract of Tightwright's durable record: what an
// engine keeps, what is durable when, and how it fails. It knows bytes and the
// few columns that are searched; what the bytes mean is for the packages above
// it, which it never imports.
//
// # What is kept
//
// Everything belongs to one workshop; a [Reader] or [Tx] is bound to one and
// cannot see another.
//
//   - Entries: the append-only stream of each build. Nothing changes or removes
//     an entry. Within a build they are numbered 1, 2, 3 ... without a gap; over
//     the whole workshop they are the leaves 0, 1, 2 ... of its ledger, in the
//     order in which they were committed. Both numbers are given inside the
//     transaction that stores the entry, so a transaction that is not committed
//     leaves no gap in either.
//   - Documents: anything that is replaced as a whole (a build sheet, a plan, a
//     tool, a calibration, a person, a session). Each change is a new version,
//     every version stays, the highest is the current one.
//   - Attachments: free text and photos, each with the key of the HMAC that the
//     entry holds in its place, so that both can be erased without touching an
//     entry.
//   - Requests: the answer that was given to each request id.
//   - Indexes: builds, jobs, and the entries in which each tool was used.
//
// # What is durable when
//
// [Store.Update] returns nil only after the operating system has confirmed that
// the transaction is on stable storage (fsync on one machine; on a cluster, the
// synchronous standby has it as well). Callers that arrive while a transaction
// is being made durable share the next one; each still succeeds or fails alone.
//
// # Conventions
//
// All times are integer microseconds since 1970-01-01 UTC, and field names end
// in US. Ids and kinds are text of 1 to [MaxKeyLength] bytes, valid UTF-8 and
// without control characters; they sort by their bytes. Bytes are returned as
// they were given, empty ones as nil. Lists are read in pages
// by key: pass the key of the last row seen, or the zero value to start, and a
// limit. A limit of 0, or above [MaxPage], means MaxPage; a page shorter than
// that limit is the last one.
package store

import "context"

const (
	// MaxKeyLength is the longest id or kind, in bytes.
	MaxKeyLength = 200
	// MaxPage is the most rows one call returns.
	MaxPage = 1000
)

// Store is one engine, open. All methods may be called from any goroutine.
type Store interface {
	// Update runs fn in a transaction and returns once its outcome is durable.
	//
	// Updates of one workshop are serial: fn sees the effect of every update
	// before it, and no other runs until it has returned. Several callers share
	// one transaction and one sync, each behind a savepoint of its own:
	//
	//   - fn returns nil, and the shared commit succeeds: nil.
	//   - fn returns an error: only what this fn wrote is undone, and Update
	//     returns that error, still after the commit, because fn may have seen
	//     what others wrote in the same transaction.
	//   - the commit fails: everyone in it gets the cause, wrapped, and whether
	//     the writes survive a crash is unknown. Repeat with the same entry and
	//     request ids: if they did survive, they are found.
	//   - fn panics: what it wrote is undone, the panic goes on in the caller's
	//     goroutine, the others are not touched.
	//
	// A caller whose ctx ends before its turn has had no effect and gets an
	// error wrapping ctx.Err(). Once fn has started, ctx counts no more and
	// Update waits for the commit: an error is then never just "too late".
	//
	// Everybody waits while fn runs, so it must not block: no network, no sleep,
	// no Update, View or Close of the same store. It must not keep tx. An engine
	// that is shared by several servers may run fn again from the start when
	// its transaction had to be given up; fn should therefore reset whatever it
	// sets outside.
	//
	// When too many callers are waiting, Update fails at once with ErrBusy.
	// A workshop comes into being with the first write for it.
	Update(ctx context.Context, workshop string, fn func(tx Tx) error) error

	// View runs fn on a consistent snapshot that includes every Update that
	// returned before View was called. It never waits for writers. When ctx
	// ends, the reads of fn fail with an error wrapping ctx.Err(). A View that
	// stays open keeps old versions of the store on disk, so keep it short.
	View(ctx context.Context, workshop string, fn func(r Reader) error) error

	// Workshops lists the workshops by id, starting behind after.
	Workshops(ctx context.Context, after string, limit int) ([]Workshop, error)

	// Check reports whether the store can be read at the moment; it is meant
	// for a health probe and writes nothing.
	Check(ctx context.Context) error

	// Close ends the transaction that is under way, answers those still waiting
	// with ErrClosed, waits for open Views and releases the files. Closing
	// again does nothing.
	Close() error
}

// Workshop is one row of the list of workshops.
type Workshop struct {
	ID        string
	Size      int64 // number of entries, which is the size of the ledger
	CreatedUS int64 // server time of the first write
}

// Reader reads one workshop. It is valid only inside the function it was given
// to, and for one goroutine.
type Reader interface {
	EntryReader
	IndexReader
	DocumentReader
	AttachmentReader
	RequestReader
}

// Tx reads and writes one workshop. It sees its own writes.
//
// ErrNotFound is an answer. After any other error of one of its methods a Tx can
// only be undone: further calls return the same error, and so does Update where
// fn returns nil.
type Tx interface {
	Reader
	EntryWriter
	DocumentWriter
	AttachmentWriter
	RequestWriter
}
