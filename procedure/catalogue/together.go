package catalogue

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// together calls do for 0 to n-1, as many at a time as there are processors,
// and returns when all have returned. What do writes has to be its own.
func together(n int, do func(i int)) {
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	group.Wait()
}
