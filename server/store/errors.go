package store

import (
	"errors"
	"fmt"
)

// What went wrong with a call.
var (
	// ErrNotFound: there is no such row in this workshop.
	ErrNotFound = errors.New("not found")
	// ErrConflict: the row is not in the state the call was based on.
	ErrConflict = errors.New("changed in the meantime")
	// ErrDuplicateEntry: the entry id is stored already.
	ErrDuplicateEntry = errors.New("entry id is stored already")
	// ErrRequestReused: the request id was used before, with another content.
	ErrRequestReused = errors.New("request id was used for another call")
	// ErrInvalid: an argument breaks a rule of this package.
	ErrInvalid = errors.New("invalid argument")
)

// What is wrong with the store as a whole.
var (
	// ErrClosed: the store was closed.
	ErrClosed = errors.New("store is closed")
	// ErrBusy: too many callers are waiting, or someone else holds a lock for
	// too long. Nothing was written; try again later.
	ErrBusy = errors.New("store is busy")
	// ErrFull: no room is left where the store is kept. Nothing was written.
	ErrFull = errors.New("no room left for the store")
	// ErrReadOnly: the place where the store is kept cannot be written.
	ErrReadOnly = errors.New("store cannot be written")
	// ErrCorrupt: the stored bytes are damaged. Stop and restore a backup.
	ErrCorrupt = errors.New("store is damaged")
	// ErrInUse: another process has the store open for writing.
	ErrInUse = errors.New("store is open in another process")
	// ErrNewerStore: the store was written by a newer version of the program.
	ErrNewerStore = errors.New("store was written by a newer version of this program")
	// ErrForeign: the file holds something else than a Tightwright store.
	ErrForeign = errors.New("not a tightwright store")
)

// DuplicateError says which stored entry has the id of one to be appended, so
// that an identical retry can be answered from it. It is ErrDuplicateEntry.
type DuplicateError struct {
	Existing Entry
}

func (e *DuplicateError) Error() string {
	return fmt.Sprintf("entry %s: %v as number %d of build %s",
		e.Existing.ID, ErrDuplicateEntry, e.Existing.Seq, e.Existing.Build)
}

func (e *DuplicateError) Unwrap() error { return ErrDuplicateEntry }

// ConflictError says in which state a row was found. It is ErrConflict.
type ConflictError struct {
	What     string // such as "tool tw-03" or "build b-17"
	Expected int64  // the version or sequence number the call was based on
	Actual   int64  // the one that is current
}

func (e *ConflictError) Error() string {
	return fmt.Sprintf("%s: %v: expected %d, found %d", e.What, ErrConflict, e.Expected, e.Actual)
}

func (e *ConflictError) Unwrap() error { return ErrConflict }
