package parallel

import (
	"sync/atomic"
	"testing"
)

func TestForCallsEveryNumberOnce(t *testing.T) {
	for _, n := range []int{-1, 0, 1, 2, 1000} {
		calls := make([]atomic.Int32, max(n, 0))
		For(n, func(i int) { calls[i].Add(1) })
		for i := range calls {
			if got := calls[i].Load(); got != 1 {
				t.Errorf("of %d, number %d was called %d times", n, i, got)
			}
		}
	}
}

func TestForHandsAPanicOn(t *testing.T) {
	defer func() {
		if got := recover(); got != "seven" {
			t.Errorf("recovered %v", got)
		}
	}()
	For(20, func(i int) {
		if i == 7 {
			panic("seven")
		}
	})
	t.Error("the panic was lost")
}
