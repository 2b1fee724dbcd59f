package server

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"

	"google.golang.org/protobuf/proto"
)

// pageSizes says how many rows a page has.
type pageSizes struct{ usual, most int32 }

var (
	usualPages = pageSizes{usual: 50, most: 200}
	foldPages  = pageSizes{usual: 50, most: 100} // each row needs a fold
	entryPages = pageSizes{usual: 100, most: 500}
)

// A pager is a request for a page.
type pager interface {
	proto.Message
	GetPageSize() int32
	GetPageToken() string
}

// A token says where the next page starts. It is bound to the query: the
// fields of the request beside the page itself.
type token struct {
	Query []byte          `json:"q"`
	Key   json.RawMessage `json:"k"`
}

// page reads the page of a request: its size, and in after the key it starts
// behind; after stays as it is on the first page.
func (f *fields) page(req pager, sizes pageSizes, after any) int {
	size := req.GetPageSize()
	switch {
	case size < 0:
		f.add("page_size", "out-of-range", "a page cannot be smaller than nothing: 0 means %d", sizes.usual)
	case size == 0:
		size = sizes.usual
	case size > sizes.most:
		size = sizes.most
	}
	if req.GetPageToken() == "" {
		return int(size)
	}
	if err := readToken(req, after); err != nil {
		f.add("page_token", "malformed-page-token", "send the next_page_token of the page before, with the same query")
	}
	return int(size)
}

func readToken(req pager, after any) error {
	data, err := base64.RawURLEncoding.DecodeString(req.GetPageToken())
	if err != nil {
		return fmt.Errorf("page token: %w", err)
	}
	var t token
	if err := json.Unmarshal(data, &t); err != nil {
		return fmt.Errorf("page token: %w", err)
	}
	query, err := queryDigest(req)
	if err != nil {
		return err
	}
	if string(query) != string(t.Query) {
		return fmt.Errorf("page token of another query")
	}
	if err := json.Unmarshal(t.Key, after); err != nil {
		return fmt.Errorf("page token: %w", err)
	}
	return nil
}

// nextToken makes the token of the page behind key.
func nextToken(req pager, key any) (string, error) {
	query, err := queryDigest(req)
	if err != nil {
		return "", err
	}
	k, err := json.Marshal(key)
	if err != nil {
		return "", fmt.Errorf("page token: %w", err)
	}
	data, err := json.Marshal(token{Query: query, Key: k})
	if err != nil {
		return "", fmt.Errorf("page token: %w", err)
	}
	return base64.RawURLEncoding.EncodeToString(data), nil
}

// queryDigest is the type of the request and its fields beside the page.
func queryDigest(req pager) ([]byte, error) {
	c := proto.Clone(req)
	m := c.ProtoReflect()
	for _, name := range []string{"page_size", "page_token"} {
		m.Clear(m.Descriptor().Fields().ByTextName(name))
	}
	data, err := proto.MarshalOptions{Deterministic: true}.Marshal(c)
	if err != nil {
		return nil, fmt.Errorf("page token: %w", err)
	}
	sum := sha256.Sum256(append([]byte(m.Descriptor().FullName()+"\n"), data...))
	return sum[:8], nil
}
