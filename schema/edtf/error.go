package edtf

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// SyntaxError says why a text is no EDTF expression and what to write instead,
// in words for somebody who has never heard of EDTF.
type SyntaxError struct {
	Text    string   // the whole text that was to be read
	Offset  int      // where reading stopped, in bytes from its start
	Reason  string   // what is wrong with it
	Remedy  string   // what to do
	Instead []string // expressions that may have been meant, likeliest first; every one can be read
}

// Error gives the text, the reason and the remedy in one line.
func (e *SyntaxError) Error() string {
	return fmt.Sprintf("date %q cannot be read: %s; %s", clipped(e.Text), e.Reason, e.Remedy)
}

// clipped shortens a text that is too long to be shown whole.
func clipped(s string) string {
	const most = 60
	if len(s) <= most {
		return s
	}
	end := most
	for end > 0 && !utf8.RuneStart(s[end]) {
		end--
	}
	return s[:end] + "…"
}

// fault is a SyntaxError in the making: the text is filled in by Parse.
func fault(offset int, reason, remedy string, instead ...string) *SyntaxError {
	return &SyntaxError{Offset: offset, Reason: reason, Remedy: remedy, Instead: instead}
}

// within puts what may be written instead of a part back into the whole.
func (e *SyntaxError) within(before, after string) *SyntaxError {
	for i := range e.Instead {
		e.Instead[i] = before + e.Instead[i] + after
	}
	return e
}

// write makes the remedy that offers the given expressions.
func write(instead ...string) string { return "write " + strings.Join(instead, " or ") }
