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
// time, and the most memory that a larger run held.
//
// Beside it stands how the bare sum of BenchmarkPublish grows for the same
// records, in this process and without any bound of memory: what no publisher
// could leave out grows by more than ten times too, since more memory is
// further away.
//
// Records and sites lie in memory where there is room for them, and before
// every run as much memory is touched as the run will use. It takes long, and
// runs only with YEARMARK_LARGE=1.
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
		small, large := series{pages: 10_000}, series{pages: 100_000}
		for range 2 {
			small.three(b, command)
			large.run(b, command)
		}
		small.three(b, command)
		small.runBare(b)
		large.runBare(b)
		small.runBare(b)
		b.ReportMetric(large.wall().Seconds()/small.wall().Seconds(), "growth")
		b.ReportMetric(large.cpu().Seconds()/small.cpu().Seconds(), "cpu-growth")
		b.ReportMetric(large.bareWall().Seconds()/small.bareWall().Seconds(), "bare-growth")
		b.ReportMetric(large.bareCPU().Seconds()/small.bareCPU().Seconds(), "bare-cpu-growth")
		b.ReportMetric(large.wall().Seconds()/large.bareWall().Seconds(), "ratio")
		b.ReportMetric(large.wall().Seconds(), "publish-s")
		b.ReportMetric(float64(large.peak)/(1<<20), "peak-MiB")
		b.ReportMetric(0, "ns/op")
	}
}

// series is what runs over references of one size took.
type series struct {
	pages int
	took  []part  // of every run of the command
	bare  []clock // of every time that the bare parts were done
	peak  int64   // bytes resident at most
}

// wall is the median of the runs by the clock, or of two their mean.
func (s *series) wall() time.Duration {
	return middle(s.took, func(p part) time.Duration { return p.wall })
}

// cpu is the same by processor time.
func (s *series) cpu() time.Duration {
	return middle(s.took, func(p part) time.Duration { return p.cpu })
}

func (s *series) bareWall() time.Duration {
	return middle(s.bare, func(c clock) time.Duration { return c.wall() })
}

func (s *series) bareCPU() time.Duration {
	return middle(s.bare, func(c clock) time.Duration { return c.cpu() })
}

// middle is the median of a figure, or of an even number the mean of the two in the middle.
func middle[T any](list []T, figure func(T) time.Duration) time.Duration {
	var figures []time.Duration
	for _, one := range list {
		figures = append(figures, figure(one))
	}
	slices.Sort(figures)
	return (figures[(len(figures)-1)/2] + figures[len(figures)/2]) / 2
}

func (s *series) three(b *testing.B, command string) {
	for range 3 {
		s.run(b, command)
	}
}

// run publishes a made reference with the command.
func (s *series) run(b *testing.B, command string) {
	b.Helper()
	dir := s.room(b)
	defer os.RemoveAll(dir)
	cmd := exec.Command(command, "publish", filepath.Join(dir, "reference"), "--to", filepath.Join(dir, "site"))
	start := time.Now()
	if out, err := cmd.CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	wall, state := time.Since(start), cmd.ProcessState
	peak := int64(state.SysUsage().(*syscall.Rusage).Maxrss)
	if runtime.GOOS == "linux" {
		peak <<= 10 // Linux counts in KiB, others in bytes
	}
	s.peak = max(s.peak, peak)
	s.took = append(s.took, part{"publish", wall, state.UserTime() + state.SystemTime()})
	fmt.Fprintf(os.Stderr, "  %d records: %.1f s, %.1f s of processor, %d MiB at most\n", s.pages, wall.Seconds(), s.took[len(s.took)-1].cpu.Seconds(), peak>>20)
}

// runBare does the bare parts of publishing a made reference.
func (s *series) runBare(b *testing.B) {
	b.Helper()
	dir := s.room(b)
	defer os.RemoveAll(dir)
	folder, site := filepath.Join(dir, "reference"), filepath.Join(dir, "site")
	publish(b, folder, site)
	var took clock
	bareWorkOf(b, &took, folder, site, filepath.Join(dir, "bare"))
	s.bare = append(s.bare, took)
}

// room writes a made reference to a new folder, and touches as much memory as
// a run will use. A machine that must find that memory first, as one that
// shares its memory with others must, finds little faster than much.
func (s *series) room(b *testing.B) (dir string) {
	b.Helper()
	dir = memoryDir(b, 8<<30)
	if err := made.Write(filepath.Join(dir, "reference"), made.Options{Pages: s.pages, Seed: 1}); err != nil {
		b.Fatal(err)
	}
	const perRecord = 60 << 10
	touched, block := filepath.Join(dir, "touched"), make([]byte, 1<<20)
	f, err := os.Create(touched)
	for n := 0; err == nil && n < s.pages*perRecord; n += len(block) {
		_, err = f.Write(block)
	}
	if err == nil {
		err = f.Close()
	}
	if err == nil {
		err = os.Remove(touched)
	}
	if err != nil {
		b.Fatal(err)
	}
	return dir
}
