package server

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"google.golang.org/protobuf/proto"

	"github.com/tightwright/tightwright/server/store"
)

// Kinds of documents.
const (
	kindPerson  = "person"
	kindName    = "person-name"
	kindSession = "session"
	kindSheet   = "sheet"
	kindPlan    = "plan"
	kindTool    = "tool"
)

// A written document holds, beside its value, a keyed digest of the whole
// request that wrote it, names and texts included. It tells a repeated call
// from another one with the same id, and goes when the document is erased.
type written[T any] struct {
	Value T    `json:"value"`
	Seal  seal `json:"seal,omitzero"`
}

type seal struct {
	Key []byte `json:"key,omitempty"`
	Sum []byte `json:"sum,omitempty"`
}

// sealOf makes the seal of a request under a fresh key.
func sealOf(random io.Reader, req proto.Message) (seal, error) {
	key := make([]byte, sha256.Size)
	if _, err := io.ReadFull(random, key); err != nil {
		return seal{}, fmt.Errorf("make a key: %w", err)
	}
	sum, err := sealSum(key, req)
	return seal{Key: key, Sum: sum}, err
}

func sealSum(key []byte, req proto.Message) ([]byte, error) {
	data, err := contentOf(proto.Clone(req))
	if err != nil {
		return nil, err
	}
	h := hmac.New(sha256.New, key)
	h.Write(data)
	return h.Sum(nil), nil
}

// sealed reports whether a request is the one that wrote a version of a
// document. Of an erased one nothing is left to compare.
func sealed(r store.Reader, kind, id string, version int64, req proto.Message) (bool, error) {
	d, err := r.DocumentVersion(kind, id, version)
	if err != nil {
		return false, fmt.Errorf("read %s %s: %w", kind, id, err)
	}
	if d.ErasedUS != 0 {
		return true, nil
	}
	var w written[json.RawMessage]
	if err := json.Unmarshal(d.Body, &w); err != nil {
		return false, fmt.Errorf("decode %s %s: %w", kind, id, err)
	}
	sum, err := sealSum(w.Seal.Key, req)
	return hmac.Equal(sum, w.Seal.Sum), err
}

// putDocument writes a value as the next version of a document.
func putDocument[T any](tx store.Tx, kind, id, actor string, at time.Time, value written[T], expected int64) (int64, error) {
	body, err := json.Marshal(value)
	if err != nil {
		return 0, fmt.Errorf("encode %s %s: %w", kind, id, err)
	}
	version, err := tx.PutDocument(store.Document{Kind: kind, ID: id, Actor: actor, ServerUS: at.UnixMicro(), Body: body}, expected)
	if err != nil {
		return 0, fmt.Errorf("write %s %s: %w", kind, id, err)
	}
	return version, nil
}

// readDocument reads the current version of a document. One that was erased
// has the zero value.
func readDocument[T any](r store.Reader, kind, id string) (store.Document, T, error) {
	d, err := r.Document(kind, id)
	if err != nil {
		var zero T
		return store.Document{}, zero, fmt.Errorf("read %s %s: %w", kind, id, err)
	}
	return decodeDocument[T](d)
}

// readVersion reads one version of a document.
func readVersion[T any](r store.Reader, kind, id string, version int64) (store.Document, T, error) {
	d, err := r.DocumentVersion(kind, id, version)
	if err != nil {
		var zero T
		return store.Document{}, zero, fmt.Errorf("read version %d of %s %s: %w", version, kind, id, err)
	}
	return decodeDocument[T](d)
}

func decodeDocument[T any](d store.Document) (store.Document, T, error) {
	var w written[T]
	if d.ErasedUS != 0 {
		return d, w.Value, nil
	}
	if err := json.Unmarshal(d.Body, &w); err != nil {
		return d, w.Value, fmt.Errorf("decode %s %s: %w", d.Kind, d.ID, err)
	}
	return d, w.Value, nil
}

func isMissing(err error) bool { return errors.Is(err, store.ErrNotFound) }

// etagOf and versionOf write and read the version in an etag.
func etagOf(version int64) string { return "v" + strconv.FormatInt(version, 10) }

func (f *fields) etag(path, etag string) int64 {
	digits, ok := strings.CutPrefix(etag, "v")
	n, err := strconv.ParseInt(digits, 10, 64)
	switch {
	case etag == "":
		f.add(path, "missing", "send the etag of the version that was changed")
	case !ok || err != nil || n < 1:
		f.add(path, "malformed-etag", "send the etag as it was received, not %q", clip(etag))
	}
	return n
}
