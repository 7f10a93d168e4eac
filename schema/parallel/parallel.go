// Package parallel shares out work that is the same for many things. It knows
// nothing of records; every package above may use it.
package parallel

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// For calls do with every number below n, as many at once as there are
// processors, and returns when all calls have. A panic in one call is the
// caller's panic.
func For(n int, do func(i int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	failed := make([]any, max(min(runtime.GOMAXPROCS(0), n), 0))
	for w := range failed {
		wait.Go(func() {
			defer func() { failed[w] = recover() }()
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	wait.Wait()
	for _, f := range failed {
		if f != nil {
			panic(f)
		}
	}
}
