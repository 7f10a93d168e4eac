package checks

import (
	"yearmark/schema"
)

// ExampleDater says what dating makes of an example. It is passed in, because
// checks and dating do not know of each other.
type ExampleDater interface {
	// Date dates the example from its features alone: what rests on it is
	// left out. It must be safe for concurrent use.
	Date(e *schema.Example) ExampleVerdict
	// Temper is the temper that the register's own dated bows speak clearly for,
	// or 0 where they do for none but the editor's.
	Temper() float64
}

// ExampleVerdict is what dating makes of one example.
type ExampleVerdict struct {
	// Dated is false where there is nothing to date it by; the rest is then empty.
	Dated bool
	// Years are those in which every observation can be true at its word,
	// sorted; none where the observations exclude each other.
	Years []int
	// Conflicts are the smallest sets of features that cannot share a year.
	Conflicts [][]string
	// Likely are the years of the 95 % set, sorted.
	Likely []int
}

// dateExamples dates every example once, a share to each processor. A
// dater that fails on one example fails the checks that ask it, and no more.
func (s *shared) dateExamples() []ExampleVerdict {
	examples := s.Ref.Examples.All()
	all := make([]ExampleVerdict, len(examples))
	s.share(len(examples), func(i int) { all[i] = s.Dater.Date(examples[i]) })
	return all
}
