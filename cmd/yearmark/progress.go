package main

import (
	"io"
	"sync"

	"github.com/schollz/progressbar/v3"
)

// progress shows how far long work is, on a terminal only.
type progress struct {
	mu   sync.Mutex
	w    io.Writer
	what string
	bar  *progressbar.ProgressBar
}

func newProgress(w io.Writer, what string) *progress { return &progress{w: w, what: what} }

// step counts one piece of work of so many done; of is -1 where nobody knows
// how many there are, and may change. It is safe for concurrent use.
func (p *progress) step(of int) {
	if !onTerminal(p.w) {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar == nil {
		p.bar = progressbar.NewOptions(of, progressbar.OptionSetWriter(p.w), progressbar.OptionSetDescription(p.what),
			progressbar.OptionClearOnFinish(), progressbar.OptionShowCount())
	}
	if of != p.bar.GetMax() {
		p.bar.ChangeMax(of)
	}
	_ = p.bar.Add(1)
}

// end takes the bar away.
func (p *progress) end() {
	if p.bar != nil {
		_ = p.bar.Finish()
	}
}
