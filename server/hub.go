package server

import "sync"

// A hub wakes those who watch a build. It carries no entries: who wakes reads
// the store, so nothing is missed and nothing is held for a slow reader.
type hub struct {
	mu       sync.Mutex
	watchers map[foldKey]map[chan struct{}]bool
	closed   chan struct{}
	once     sync.Once
}

func newHub() *hub {
	return &hub{watchers: map[foldKey]map[chan struct{}]bool{}, closed: make(chan struct{})}
}

// watch returns a channel that has a token whenever something may be new since
// it was last read, and a function that ends the watch.
func (h *hub) watch(workshop, build string) (news <-chan struct{}, stop func()) {
	key, wake := foldKey{workshop, build}, make(chan struct{}, 1)
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.watchers[key] == nil {
		h.watchers[key] = map[chan struct{}]bool{}
	}
	h.watchers[key][wake] = true
	return wake, func() {
		h.mu.Lock()
		defer h.mu.Unlock()
		delete(h.watchers[key], wake)
		if len(h.watchers[key]) == 0 {
			delete(h.watchers, key)
		}
	}
}

// tell wakes everybody who watches a build. It never waits.
func (h *hub) tell(workshop, build string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for wake := range h.watchers[foldKey{workshop, build}] {
		select {
		case wake <- struct{}{}:
		default: // it has not looked since the last time
		}
	}
}

// close ends all watches for good.
func (h *hub) close() { h.once.Do(func() { close(h.closed) }) }
