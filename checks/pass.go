package checks

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"yearmark/schema"
	"yearmark/schema/parallel"
)

// Pass is one check at work: what it may look at, and where it reports.
type Pass struct {
	*shared
	check    *Check
	findings []Finding
}

// shared is what all checks of one run look at, each part computed once.
type shared struct {
	Input
	ctx            context.Context
	problems       map[string][]schema.Problem
	incomplete     bool // a record could not be read
	everyClaim     func() []*schema.Claim
	others         func() []statement
	timelines      func() []timeline
	cited          func() map[string]bool
	prose          func() []prose
	pictures       func() []picture
	recordings     func() []recording
	verdicts       func() []ExampleVerdict // of every example, in order of identifier
	contradictions map[string]func() []contradiction
}

func newShared(ctx context.Context, in Input, list []Check) *shared {
	s := &shared{Input: in, ctx: ctx, problems: map[string][]schema.Problem{}, contradictions: map[string]func() []contradiction{}}
	for _, p := range in.Problems {
		s.problems[p.Check] = append(s.problems[p.Check], p)
		s.incomplete = s.incomplete || losesRecord(p.Check)
	}
	s.everyClaim = sync.OnceValue(s.findClaims)
	s.others = sync.OnceValue(s.findOthers)
	s.timelines = sync.OnceValue(s.findTimelines)
	s.cited = sync.OnceValue(s.findCited)
	s.prose = sync.OnceValue(s.readProse)
	s.verdicts = sync.OnceValue(s.dateExamples)
	s.pictures = sync.OnceValue(s.openPictures)
	s.recordings = sync.OnceValue(s.openRecordings)
	for i := range list {
		if c := &list[i]; c.finds != nil {
			s.contradictions[c.Name] = sync.OnceValue(func() []contradiction { return c.finds(&Pass{shared: s, check: c}) })
		}
	}
	return s
}

// share calls do with every number below n, a share to each processor, until
// nobody wants the report any more.
func (s *shared) share(n int, do func(i int)) {
	_ = parallel.Each(s.ctx, n, func(i int) error { // run sees the context's end
		do(i)
		return nil
	})
}

// leftOut says why a check cannot be made on this input, or nothing.
func (s *shared) leftOut(c *Check) string {
	switch {
	case c.needsDater && s.Dater == nil:
		return "examples were not dated"
	case c.needsFiles && s.Files == nil:
		return "the files were not opened"
	case c.absence && s.incomplete:
		return "a record could not be read"
	}
	return ""
}

// Report adds a finding. Its check, its level and, where it has none of its
// own, its help are those of the check at work.
func (p *Pass) Report(f Finding) {
	f.Check, f.Level = p.check.Name, p.check.Level
	if f.Help == "" {
		f.Help = p.check.Remedy
	}
	p.findings = append(p.findings, f)
}

// Reportf adds a finding that needs no other places.
func (p *Pass) Reportf(pos schema.Pos, format string, args ...any) {
	p.Report(Finding{Pos: pos, Message: fmt.Sprintf(format, args...)})
}

// problems of the reading family are reported as the reader found them.
func reportProblems(p *Pass) {
	for _, problem := range p.problems[p.check.Name] {
		p.Report(fromProblem(problem))
	}
}

func fromProblem(problem schema.Problem) Finding {
	f := Finding{Pos: problem.Pos, Message: problem.Message, Help: problem.Help, Missing: problem.Missing, Remedies: problem.Remedies}
	for _, place := range problem.Why {
		f.Why = append(f.Why, Place{Pos: place.Pos, Message: place.Message})
	}
	return f
}

// unregistered gives the reader's problems that no check of the list stands
// for, so that none is ever lost.
func (s *shared) unregistered(list []Check) []Finding {
	var found []Finding
	for name, problems := range s.problems {
		if slices.ContainsFunc(list, func(c Check) bool { return c.Name == name }) {
			continue
		}
		for _, problem := range problems {
			f := fromProblem(problem)
			f.Check, f.Level = name, Error
			found = append(found, f)
		}
	}
	return found
}
