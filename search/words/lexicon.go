package words

import (
	"sync"
	"sync/atomic"
)

// Lexicon keeps the words met in texts: the term each stands for, and how
// often it was met. It may be shared by several Splitters at work.
type Lexicon struct {
	mu      sync.RWMutex
	entries map[string]*entry
}

type entry struct {
	word, term string
	stop       bool
	met        atomic.Int64
}

func newEntry(word string) *entry {
	return &entry{word: word, term: Stem(word), stop: IsStop(word)}
}

// entry finds or makes the entry of a word.
func (l *Lexicon) entry(word []byte) *entry {
	l.mu.RLock()
	e := l.entries[string(word)]
	l.mu.RUnlock()
	if e != nil {
		return e
	}
	made := newEntry(string(word))
	l.mu.Lock()
	defer l.mu.Unlock()
	if e := l.entries[made.word]; e != nil {
		return e
	}
	if l.entries == nil {
		l.entries = map[string]*entry{}
	}
	l.entries[made.word] = made
	return made
}

// Each calls f for every word met, in no order: the word, its term and how
// often it was met.
func (l *Lexicon) Each(f func(word, term string, met int)) {
	l.mu.RLock()
	defer l.mu.RUnlock()
	for _, e := range l.entries {
		if n := e.met.Load(); n > 0 {
			f(e.word, e.term, int(n))
		}
	}
}
