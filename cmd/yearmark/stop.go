package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
	"time"
)

// grace is how long a command may take to end in order once it is told to.
// Longer than that it only computes, which can be cut off: what it began to
// write is cleared by the next run.
const grace = 800 * time.Millisecond

// stopped is why a command ends before its work is done.
type stopped struct{ signal os.Signal }

func (stopped) Error() string { return "stopped before the end; what stood before stands still" }

// say writes the one line of a command that was stopped and gives its status,
// which is by convention 128 and the signal's number.
func (s stopped) say(w io.Writer, err error) int {
	fmt.Fprintf(w, "yearmark: %v\n", err)
	if n, ok := s.signal.(syscall.Signal); ok {
		return 128 + int(n)
	}
	return exitFailed
}

// untilSignal gives a context that ends with Ctrl-C or SIGTERM. A second one
// ends the program at once, as it does where nobody asks for it.
func untilSignal(w io.Writer) (ctx context.Context, stop func()) {
	ctx, cancel := context.WithCancelCause(context.Background())
	signals, done := make(chan os.Signal, 1), make(chan struct{})
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	go func() {
		select {
		case <-done:
			return
		case sig := <-signals:
			signal.Stop(signals)
			cancel(stopped{sig})
			select {
			case <-done:
			case <-time.After(grace):
				os.Exit(stopped{sig}.say(w, stopped{sig}))
			}
		}
	}()
	return ctx, func() {
		signal.Stop(signals)
		close(done)
		cancel(nil)
	}
}
