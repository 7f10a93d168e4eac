package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"time"

	"yearmark/schema/parallel"
)

// Where little is kept of all that a command makes, collecting less often
// costs memory and saves a fifth of the time. The bound is soft: near it the
// collector runs as often as it must. Where the heap is collected apart, less
// is held than the bound allows.
const (
	restingPercent    = 200
	restingBytes      = 1980 << 20
	restingBytesApart = 2200 << 20
)

// restCollector lets the collector rest below a bound, unless whoever runs the
// command has set it themselves by GOGC or GOMEMLIMIT.
func restCollector(bound int64) {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(restingPercent)
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(bound)
	}
}

// collectApart sees to it, until stop is called, that where the heap is large
// it is collected while no work goes on. The collector by itself takes a
// quarter of the processors beside the work: that lasts seconds, in which
// garbage piles up beyond what was planned and every pointer that is written
// costs extra. Apart it lasts half a second, and the most that is held is a
// sixteenth less.
func collectApart() (stop func()) {
	done := make(chan struct{})
	go func() {
		look := time.NewTicker(10 * time.Millisecond)
		defer look.Stop()
		for {
			select {
			case <-done:
				return
			case <-look.C:
			}
			if readHeap().due() {
				release := parallel.Hold()
				swept := collect()
				release()
				<-swept
			}
		}
	}()
	return func() { close(done) }
}

// collect collects the heap and returns once it is known what is garbage.
// Taking the garbage back is better done beside the work: swept is closed when
// that is over.
func collect() (swept <-chan struct{}) {
	before := collected()
	over := make(chan struct{})
	go func() {
		runtime.GC()
		close(over)
	}()
	look := time.NewTicker(time.Millisecond)
	defer look.Stop()
	for collected() == before {
		select {
		case <-over:
			return over
		case <-look.C:
		}
	}
	return over
}

// collected counts the collections of which it is known what was garbage.
func collected() uint64 {
	read := [...]metrics.Sample{{Name: "/gc/cycles/forced:gc-cycles"}}
	metrics.Read(read[:])
	return read[0].Value.Uint64()
}

// heap is the heap in bytes: what the last collection left, what is there now,
// garbage counted in, and what the collector means it to grow to.
type heap struct{ left, now, goal uint64 }

func readHeap() heap {
	read := [...]metrics.Sample{{Name: "/gc/heap/live:bytes"}, {Name: "/memory/classes/heap/objects:bytes"}, {Name: "/gc/heap/goal:bytes"}}
	metrics.Read(read[:])
	return heap{read[0].Value.Uint64(), read[1].Value.Uint64(), read[2].Value.Uint64()}
}

// Heaps are collected apart from a size on at which it matters, and shortly
// before the collector would begin by itself, which it does at seven tenths of
// the way to its goal at the earliest.
const (
	largeHeap = 600 << 20
	ofTheWay  = .66
)

func (h heap) due() bool {
	return h.now > largeHeap && h.goal > h.left && float64(h.now) > float64(h.left)+ofTheWay*float64(h.goal-h.left)
}
