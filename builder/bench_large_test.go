//go:build unix

package builder_test

import (
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

// BenchmarkPublishLarge runs the built command on 10,000 records, nine times,
// and on 100,000 twice, between them: a machine that grows slower or faster
// meanwhile then does so for both. It reports how the time grows from the
// median of the nine to the mean of the two, by the clock and by processor
// time, and the most memory that a larger run held. Records and sites lie in
// memory where there is room for them. It takes long, and runs only with
// YEARMARK_LARGE=1.
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
		var small, large []run
		for len(large) < 2 {
			small = append(small, threeSmall(b, command)...)
			large = append(large, runPublish(b, command, 100_000))
		}
		small = append(small, threeSmall(b, command)...)
		wall, cpu := (large[0].wall+large[1].wall)/2, (large[0].cpu+large[1].cpu)/2
		b.ReportMetric(wall.Seconds()/median(small, func(r run) time.Duration { return r.wall }).Seconds(), "growth")
		b.ReportMetric(cpu.Seconds()/median(small, func(r run) time.Duration { return r.cpu }).Seconds(), "cpu-growth")
		b.ReportMetric(wall.Seconds(), "publish-s")
		b.ReportMetric(float64(max(large[0].peak, large[1].peak))/(1<<20), "peak-MiB")
		b.ReportMetric(0, "ns/op")
	}
}

func threeSmall(b *testing.B, command string) (list []run) {
	for range 3 {
		list = append(list, runPublish(b, command, 10_000))
	}
	return list
}

// median gives the median of a figure of an odd number of runs.
func median(runs []run, figure func(run) time.Duration) time.Duration {
	var list []time.Duration
	for _, r := range runs {
		list = append(list, figure(r))
	}
	slices.Sort(list)
	return list[len(list)/2]
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
