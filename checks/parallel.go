package checks

import (
	"runtime"
	"sync"
)

// inParallel calls do with every number below n, a share to each processor. A
// panic in one call is the caller's panic.
func inParallel(n int, do func(i int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	failed := make([]any, workers)
	var wait sync.WaitGroup
	for w := range workers {
		wait.Go(func() {
			defer func() { failed[w] = recover() }()
			for i := w; i < n; i += workers {
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
