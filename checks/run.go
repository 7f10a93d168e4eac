package checks

import (
	"fmt"
	"io/fs"
	"runtime"
	"slices"
	"sync"
	"time"

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
	Judge    ExampleJudge         // nil: examples are not held against dating
	Files    fs.FS                // the folder of the reference; nil: pictures are not opened
	// Sound says what is wrong with the pixels of a photograph, or nothing; nil:
	// Sound of this package. It may remember its answers.
	Sound    func(photo []byte) error
	Patience time.Duration // how long one check may take; 0 stands for a minute, and more for many records
	Stop     func() bool   // nil, or asked often: once it says so the report comes soon and is not whole
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

// patienceForRecord is added to the patience for every record, so that a large
// reference on a busy machine is not taken for a check that never ends.
const patienceForRecord = 20 * time.Millisecond

// Run makes every check of the registry. The same input gives the same
// report, in whatever order the checks end.
func Run(in Input) Report { return run(in, registry) }

func run(in Input, list []Check) Report {
	if in.Timeline == nil {
		in.Timeline = chronology.Build(in.Ref)
	}
	if in.Weighing == nil {
		in.Weighing = provenance.Weigh(in.Ref)
	}
	if in.Sound == nil {
		in.Sound = Sound
	}
	if in.Patience == 0 {
		in.Patience = time.Minute + time.Duration(len(in.Ref.Records()))*patienceForRecord
	}
	s := newShared(in, list)
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
			if !s.stopped() {
				found[i] = s.attempt(&list[i])
			}
		})
	}
	wait.Wait()
	report.Findings = slices.Concat(found...)
	report.Findings = append(report.Findings, s.unregistered(list)...)
	slices.SortStableFunc(report.Findings, compareFindings)
	report.Findings = slices.CompactFunc(report.Findings, sameFinding)
	report.Counts = count(report.Findings)
	return report
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

// attempt makes one check and gives up on it when it takes too long. What it
// may still find after that is lost; nothing waits for it.
func (s *shared) attempt(c *Check) []Finding {
	p := &Pass{shared: s, check: c}
	done := make(chan *Finding, 1)
	go func() { done <- p.run() }()
	limit := time.NewTimer(s.Patience)
	defer limit.Stop()
	select {
	case failure := <-done:
		if failure != nil {
			p.findings = append(p.findings, *failure)
		}
		return p.findings
	case <-limit.C:
		return []Finding{unfinished(c, fmt.Sprintf("took longer than %s", s.Patience))}
	}
}

// run makes the check and turns a panic into a finding.
func (p *Pass) run() (failure *Finding) {
	defer func() {
		if r := recover(); r != nil {
			f := unfinished(p.check, fmt.Sprintf("failed: %v", r))
			failure = &f
		}
	}()
	p.check.Run(p)
	return nil
}

func unfinished(c *Check, why string) Finding {
	return Finding{
		Check: checkUnfinished.Name, Level: checkUnfinished.Level, Help: checkUnfinished.Remedy,
		Pos:     schema.At("reference.yaml", 1, 1),
		Message: fmt.Sprintf("the check %q %s", c.Name, why),
	}
}
