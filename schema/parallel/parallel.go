// Package parallel shares out work that is the same for many things. It knows
// nothing of records; every room above may use it.
package parallel

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// still is locked while Hold is in force; held says so without a lock.
var (
	still sync.RWMutex
	held  atomic.Bool
)

// Hold keeps For from beginning further calls, whoever called it, until release
// is called; calls under way go on. It must not be called from within a call.
func Hold() (release func()) {
	still.Lock()
	held.Store(true)
	return func() {
		held.Store(false)
		still.Unlock()
	}
}

// pass waits until nobody holds.
func pass() {
	if held.Load() {
		still.RLock()
		still.RUnlock()
	}
}

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
				pass()
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
