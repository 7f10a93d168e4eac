package parallel

import (
	"sync/atomic"
	"testing"
	"time"
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

// TestHoldKeepsCallsFromBeginning holds within a run, sees that nothing more
// begins, and lets it end.
func TestHoldKeepsCallsFromBeginning(t *testing.T) {
	const n = 1000
	var begun atomic.Int32
	some, ended := make(chan struct{}, n), make(chan struct{})
	go func() {
		For(n, func(int) {
			begun.Add(1)
			some <- struct{}{}
			time.Sleep(time.Millisecond)
		})
		close(ended)
	}()
	<-some
	release := Hold()
	time.Sleep(20 * time.Millisecond) // calls under way end
	before := begun.Load()
	time.Sleep(50 * time.Millisecond)
	if after := begun.Load(); after != before || after == n {
		t.Errorf("%d calls had begun when held, %d later, of %d", before, after, n)
	}
	release()
	<-ended
	if got := begun.Load(); got != n {
		t.Errorf("%d calls were made, want %d", got, n)
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
