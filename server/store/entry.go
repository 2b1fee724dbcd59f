package store

// Entry is one record of a build, as stored. Envelope and Payload are what
// counts: together they are the leaf of the ledger, kept byte for byte. The
// other fields repeat those parts of the envelope that are searched.
type Entry struct {
	Workshop string // set by the store
	Build    string
	// Seq is the place in the build, from 1. In an entry to be appended, 0
	// takes the next place; any other value must be the next place, or Append
	// fails with ErrConflict.
	Seq int64
	// ID is made by the client and is unique in the workshop.
	ID     string
	Job    string // may be empty: the entry is about the build as a whole
	Schema int    // version of the envelope, from 1
	Kind   string
	Actor  string // may be empty: written by the server itself

	Tablet      string // may be empty: not written at a tablet
	TabletSeq   int64  // the tablet's own count
	Boot        string // changes each time the tablet starts; MonotonicUS compares only within one
	MonotonicUS int64  // since that start
	TabletUS    int64  // the tablet's clock; may be wrong, even in the future
	ServerUS    int64  // the server's clock
	OffsetUS    int64  // server clock minus tablet clock as measured; only if OffsetKnown
	OffsetKnown bool

	BasedOnSeq int64    // the last entry the author had seen; 0 for none
	Tools      []string // ids of the tools used, for IndexReader.ToolUses

	Envelope []byte // not empty
	Payload  []byte // may be empty

	// LedgerIndex is the number of the leaf in the workshop's ledger, from 0.
	// Set by Append; what is passed in does not count.
	LedgerIndex int64
}

// EntryReader reads the streams of entries.
type EntryReader interface {
	// Entries returns entries of a build in order, those with Seq > afterSeq.
	// An unknown build has none.
	Entries(build string, afterSeq int64, limit int) ([]Entry, error)
	// EntryByID returns one entry, or ErrNotFound.
	EntryByID(id string) (Entry, error)
	// Head returns the Seq of the last entry of a build, 0 if it has none.
	Head(build string) (int64, error)
	// Leaves returns entries in ledger order, those with LedgerIndex >= from.
	Leaves(from int64, limit int) ([]Entry, error)
	// LedgerSize returns the number of leaves in the workshop's ledger.
	LedgerSize() (int64, error)
}

// EntryWriter adds to the streams of entries.
type EntryWriter interface {
	// Append stores entries, which may be of several builds, in the order
	// given, and fills in their Workshop, Seq and LedgerIndex. The numbers are
	// final only once Update has returned nil.
	//
	// An id that is stored already gives a *DuplicateError with the stored
	// entry; to record the rest of a batch, look the ids up first.
	Append(entries []Entry) error
}

// BuildRow is one row of the list of builds.
type BuildRow struct {
	Build     string
	Head      int64 // Seq of the last entry
	OpenedUS  int64 // server time of the first entry
	ChangedUS int64 // server time of the last entry
}

// JobRow is one row of the list of jobs.
type JobRow struct {
	Build    string
	Job      string
	OpenSeq  int64 // Seq of the job's first entry
	OpenedUS int64 // server time of that entry
}

// ToolUse says that a tool was used in an entry.
type ToolUse struct {
	Tool     string
	ServerUS int64 // of the entry
	Build    string
	Seq      int64
}

// IndexReader reads the lists that are kept beside the entries.
type IndexReader interface {
	// Builds lists builds, the latest opened first. To go on, pass the last
	// row; a zero row starts.
	Builds(after BuildRow, limit int) ([]BuildRow, error)
	// Jobs lists jobs, the latest opened first; of one build, or of all if
	// build is empty. To go on, pass the last row; a zero row starts.
	Jobs(build string, after JobRow, limit int) ([]JobRow, error)
	// ToolUses lists where a tool was used, in order of server time, from
	// after.ServerUS on and before untilUS (0 for no end). To go on, pass the
	// last row. To start at a time, pass a row with only that time: its own
	// microsecond is included.
	ToolUses(tool string, after ToolUse, untilUS int64, limit int) ([]ToolUse, error)
}
