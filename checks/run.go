package checks

import (
	"context"
	"fmt"
	"io/fs"
	"runtime"
	"slices"
	"sync"

	"yearmark/chronology"
	"yearmark/provenance"
	"yearmark/schema"
)

// Input is what is checked.
type Input struct {
	Ref      *schema.Reference
	Problems schema.Problems      // what the reader found
	Timeline *chronology.Timeline // nil: built from Ref
	Weighing *provenance.Weighing // nil: built from Ref
	Dater    ExampleDater         // nil: examples are not held against dating
	Files    fs.FS                // the folder of the reference; nil: pictures are not opened
	// Looked says which pictures and recordings are looked into, by their paths in
	// the folder; nil: all.
	Looked func(file string) bool
	// Sound says what is wrong with the pixels of a photograph, or nothing; nil:
	// Sound of this package. It may remember its answers.
	Sound func(photo []byte) error
}

// Report is what was found.
type Report struct {
	Findings []Finding // by file, line, column, message and check; no two alike
	Counts   Counts
	Records  int      // how many records were looked at
	LeftOut  []string // checks that could not be made, with the reason: "documented-outside: …"
}

// Counts is how many findings of each level there are.
type Counts struct{ Error, Warning, Note int }

// Run makes every check of the registry. The same input gives the same
// report, in whatever order the checks end. The error is that of ctx, once it
// has ended; there is no report then.
func Run(ctx context.Context, in Input) (Report, error) { return run(ctx, in, registry) }

func run(ctx context.Context, in Input, list []Check) (Report, error) {
	if in.Timeline == nil {
		in.Timeline = chronology.Build(in.Ref)
	}
	if in.Weighing == nil {
		in.Weighing = provenance.Weigh(in.Ref, Contradictory(in.Ref, in.Timeline)...)
	}
	if in.Looked == nil {
		in.Looked = func(string) bool { return true }
	}
	if in.Sound == nil {
		in.Sound = Sound
	}
	s := newShared(ctx, in, list)
	found := make([][]Finding, len(list))
	report := Report{Records: len(in.Ref.Records())}
	var wait sync.WaitGroup
	turn := make(chan struct{}, runtime.GOMAXPROCS(0))
	for i := range list {
		if why := s.leftOut(&list[i]); why != "" {
			report.LeftOut = append(report.LeftOut, list[i].Name+": "+why)
			continue
		}
		wait.Go(func() {
			turn <- struct{}{}
			defer func() { <-turn }()
			if ctx.Err() == nil {
				found[i] = s.attempt(&list[i])
			}
		})
	}
	wait.Wait()
	if err := ctx.Err(); err != nil {
		return Report{}, err
	}
	report.Findings = slices.Concat(found...)
	report.Findings = append(report.Findings, s.unregistered(list)...)
	slices.SortStableFunc(report.Findings, compareFindings)
	report.Findings = slices.CompactFunc(report.Findings, sameFinding)
	follow(report.Findings)
	report.Counts = count(report.Findings)
	return report, nil
}

func count(list []Finding) Counts {
	var n Counts
	for _, f := range list {
		switch f.Level {
		case Error:
			n.Error++
		case Warning:
			n.Warning++
		default:
			n.Note++
		}
	}
	return n
}

// attempt makes one check and turns a panic into a finding.
func (s *shared) attempt(c *Check) (found []Finding) {
	p := &Pass{shared: s, check: c}
	defer func() {
		if r := recover(); r != nil {
			found = append(p.findings, unfinished(c, fmt.Sprintf("failed: %v", r)))
		}
	}()
	c.Run(p)
	return p.findings
}

func unfinished(c *Check, why string) Finding {
	return Finding{
		Check: checkUnfinished.Name, Level: checkUnfinished.Level, Help: checkUnfinished.Remedy,
		Pos:     schema.At("reference.yaml", 1, 1),
		Message: fmt.Sprintf("the check %q %s", c.Name, why),
	}
}
