package server

import (
	"container/list"
	"sync"
)

// An lru is a cache of at most so many values; the one not used for longest
// goes first. It may be used from any goroutine.
type lru[K comparable, V any] struct {
	most  int
	mu    sync.Mutex
	byKey map[K]*list.Element
	used  *list.List // the latest used first
}

type lruItem[K comparable, V any] struct {
	key   K
	value V
}

func newLRU[K comparable, V any](most int) *lru[K, V] {
	return &lru[K, V]{most: most, byKey: map[K]*list.Element{}, used: list.New()}
}

// get returns the value of a key, or false.
func (c *lru[K, V]) get(key K) (V, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	e, ok := c.byKey[key]
	if !ok {
		var zero V
		return zero, false
	}
	c.used.MoveToFront(e)
	return e.Value.(lruItem[K, V]).value, true
}

// put keeps a value.
func (c *lru[K, V]) put(key K, value V) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.putLocked(key, value)
}

// getOr returns the value of a key, and makes one if there is none.
func (c *lru[K, V]) getOr(key K, fresh func() V) V {
	c.mu.Lock()
	defer c.mu.Unlock()
	if e, ok := c.byKey[key]; ok {
		c.used.MoveToFront(e)
		return e.Value.(lruItem[K, V]).value
	}
	value := fresh()
	c.putLocked(key, value)
	return value
}

func (c *lru[K, V]) putLocked(key K, value V) {
	if e, ok := c.byKey[key]; ok {
		c.used.Remove(e)
	}
	c.byKey[key] = c.used.PushFront(lruItem[K, V]{key, value})
	for c.used.Len() > c.most {
		last := c.used.Back()
		c.used.Remove(last)
		delete(c.byKey, last.Value.(lruItem[K, V]).key)
	}
}

// clear forgets everything.
func (c *lru[K, V]) clear() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.byKey = map[K]*list.Element{}
	c.used.Init()
}
