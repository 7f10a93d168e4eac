// Package parallel shares out work that is the same for many things. It knows
// nothing of records; every package above may use it.
package parallel

import (
	"context"
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

// Each is For with calls that may fail: once ctx ends or a call has failed no
// more begin. The error is that of the first number that failed, or ctx's.
func Each(ctx context.Context, n int, do func(i int) error) error {
	errs := make([]error, max(n, 0))
	var failed atomic.Bool
	For(n, func(i int) {
		if failed.Load() || ctx.Err() != nil {
			return
		}
		if errs[i] = do(i); errs[i] != nil {
			failed.Store(true)
		}
	})
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return ctx.Err()
}
