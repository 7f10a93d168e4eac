//go:build unix

package builder_test

import (
	"cmp"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"syscall"
	"testing"
	"time"

	"yearmark/testdata/made"
	"yearmark/testdata/need"
)

// BenchmarkPublishLarge runs the built command on 10,000 records, five times,
// and on 100,000 once, and reports how the time grows from the median of the
// five, by the clock and by processor time, and the most memory that the larger
// run held. Records and sites lie in memory where there is room for them. It
// takes long, and runs only with YEARMARK_LARGE=1.
func BenchmarkPublishLarge(b *testing.B) {
	if os.Getenv("YEARMARK_LARGE") == "" {
		return
	}
	command := filepath.Join(b.TempDir(), "yearmark")
	build := exec.Command("go", "build", "-o", command, "./cmd/yearmark")
	build.Dir = need.Root(b)
	if out, err := build.CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	for b.Loop() {
		var five []run
		for range 5 {
			five = append(five, runPublish(b, command, 10_000))
		}
		slices.SortFunc(five, func(a, b run) int { return cmp.Compare(a.wall, b.wall) })
		small, large := five[2], runPublish(b, command, 100_000)
		b.ReportMetric(large.wall.Seconds()/small.wall.Seconds(), "growth")
		b.ReportMetric(large.cpu.Seconds()/small.cpu.Seconds(), "cpu-growth")
		b.ReportMetric(large.wall.Seconds(), "publish-s")
		b.ReportMetric(float64(large.peak)/(1<<20), "peak-MiB")
		b.ReportMetric(0, "ns/op")
	}
}

// run is what one run of the command took.
type run struct {
	wall, cpu time.Duration
	peak      int64 // bytes resident at most
}

func runPublish(b *testing.B, command string, pages int) run {
	b.Helper()
	folder := filepath.Join(memoryDir(b, 5<<30), "reference")
	if err := made.Write(folder, made.Options{Pages: pages, Seed: 1}); err != nil {
		b.Fatal(err)
	}
	cmd := exec.Command(command, "publish", folder, "--to", filepath.Join(filepath.Dir(folder), "site"))
	start := time.Now()
	if out, err := cmd.CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	wall, state := time.Since(start), cmd.ProcessState
	if err := os.RemoveAll(filepath.Dir(folder)); err != nil {
		b.Fatal(err)
	}
	r := run{wall: wall, cpu: state.UserTime() + state.SystemTime(), peak: int64(state.SysUsage().(*syscall.Rusage).Maxrss)}
	if runtime.GOOS == "linux" {
		r.peak <<= 10 // Linux counts in KiB, others in bytes
	}
	fmt.Fprintf(os.Stderr, "  %d records: %.1f s, %.1f s of processor, %d MiB at most\n", pages, r.wall.Seconds(), r.cpu.Seconds(), r.peak>>20)
	return r
}
