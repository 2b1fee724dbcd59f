// Package server answers the API of proto/tightwright/v1 over gRPC, and the
// same calls as JSON over plain HTTP.
//
// # What a call goes through
//
// Every call, from whichever port, passes the same interceptors: one log line
// without personal data, one table from errors to codes, recovery from panics,
// a limit on calls, a deadline, and a rule on who may call. The web port is a
// gateway that calls the gRPC server through a connection inside the process,
// so nothing is decided there a second time.
//
// # What is durable when
//
// A change is judged by package procedure and stored in one [store.Store]
// transaction, together with the answer to its request id. The caller, and
// everybody who watches, hears of it only after the store has said that it is
// on stable storage. A repeated call finds the answer and changes nothing.
//
// # State
//
// The server holds caches only: folds of builds, decoded plans, sessions. Every
// use of a fold compares it with the store, so no answer ever depends on one
// being right.
//
// # Personal data
//
// Names stand in documents of their own, free text and pictures in attachments;
// the record holds random ids and keyed digests. Fields that carry either are
// marked debug_redact in the API, and neither request digests nor logs see
// them.
package server
