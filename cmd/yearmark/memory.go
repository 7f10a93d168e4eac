package main

import (
	"os"
	"runtime/debug"
)

// Where little is kept of all that a command makes, collecting less often
// costs memory and saves a fifth of the time. The bound is soft: near it the
// collector runs as often as it must.
const (
	restingPercent = 200
	restingBytes   = 1980 << 20
)

// restCollector lets the collector rest, unless whoever runs the command has
// set it themselves by GOGC or GOMEMLIMIT.
func restCollector() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(restingPercent)
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(restingBytes)
	}
}
