package server

import (
	"crypto/sha256"
	"fmt"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/server/store"
)

// A finder finds tools for one transaction, each read once. The first error
// other than a missing tool is kept in err: what was decided meanwhile does not
// hold.
type finder struct {
	server *Server
	r      store.Reader
	found  map[string]*procedure.Tool
	err    error
}

func (s *Server) newFinder(r store.Reader) *finder { return &finder{server: s, r: r} }

func (c *finder) find(id string) (*procedure.Tool, bool) {
	if t, known := c.found[id]; known {
		return t, t != nil
	}
	t, err := c.read(id)
	if err != nil && c.err == nil {
		c.err = err
	}
	if c.found == nil {
		c.found = map[string]*procedure.Tool{}
	}
	c.found[id] = t
	return t, t != nil
}

// read reads a tool; nil if there is none.
func (c *finder) read(id string) (*procedure.Tool, error) {
	d, err := c.r.Document(kindTool, id)
	if isMissing(err) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read tool %s: %w", id, err)
	}
	// Decoded tools are kept by what was decoded, so none is ever out of date.
	key := sha256.Sum256(d.Body)
	if t, ok := c.server.decoded.get(key); ok {
		return t, nil
	}
	_, t, err := decodeDocument[procedure.Tool](d)
	if err != nil {
		return nil, err
	}
	c.server.decoded.put(key, &t)
	return &t, nil
}
