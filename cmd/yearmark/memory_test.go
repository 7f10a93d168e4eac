package main

import (
	"runtime"
	"runtime/debug"
	"testing"
	"time"
)

func TestHeapIsDue(t *testing.T) {
	for _, c := range []struct {
		left, now, goal uint64 // in MiB
		want            bool
	}{
		{700, 1300, 1700, false}, {700, 1380, 1700, true}, {700, 1690, 1700, true},
		{100, 290, 300, false},    // small
		{1700, 1750, 1700, false}, // the collector is at work without rest as it is
	} {
		if got := (heap{c.left << 20, c.now << 20, c.goal << 20}).due(); got != c.want {
			t.Errorf("%d MiB left, %d now, %d meant: due %v", c.left, c.now, c.goal, got)
		}
	}
}

// TestTheHeapIsCollectedApart lets garbage pile up.
func TestTheHeapIsCollectedApart(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(-1))
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(1200 << 20))
	runtime.GC()
	stop := collectApart()
	defer stop()
	before := askedFor()
	var kept []byte
	for range 100 {
		kept = make([]byte, 10<<20)
		time.Sleep(2 * time.Millisecond)
	}
	runtime.KeepAlive(kept)
	if askedFor() == before {
		t.Error("of a gigabyte of garbage nothing was collected but by the collector itself")
	}
}

// askedFor is how many collections were asked for.
func askedFor() uint32 {
	var stats runtime.MemStats
	runtime.ReadMemStats(&stats)
	return stats.NumForcedGC
}
