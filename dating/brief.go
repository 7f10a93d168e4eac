package dating

import (
	"sync"

	"yearmark/dating/odds"
	"yearmark/schema"
)

// Brief is an answer without its reasons, as lists and tables tell it. It holds
// nothing of the engine that gave it.
type Brief struct {
	// Observed is how many features were seen.
	Observed   int
	Impossible bool // as in Answer
	Best       *Odds
	// Likely50 and Likely95 are as in Answer.
	Likely50, Likely95 []ModelYears
	Strict             Strict
}

// Account is a Brief with its reasons, as the page of an example tells them. It
// holds nothing of the engine that gave it.
type Account struct {
	Brief
	Models   []ModelChance // as in Answer
	Years    []YearChance
	Evidence []Evidence
}

// brief answers a question without odds, evidence and looks.
func (e *Engine) brief(q Question) (*Brief, error) {
	query, asked, err := e.resolve(q)
	if err != nil {
		return nil, err
	}
	b, _ := e.briefly(query, asked, e.understood(q, query, asked))
	return &b, nil
}

// briefly gives the brief of a question that is resolved, and the odds.
func (e *Engine) briefly(query odds.Query, asked []int, observed []Observation) (Brief, *odds.Posterior) {
	b := Brief{Observed: len(asked), Strict: e.strict(query, asked, observed)}
	p := e.table.Posterior(query)
	if b.Impossible = p.Impossible; !p.Impossible {
		best := e.pair(p, p.Best())
		b.Best, b.Likely50, b.Likely95 = &best, e.group(p, p.Smallest(.50)), e.group(p, p.Smallest(.95))
	}
	return b, p
}

// account answers a question without the odds of pairs, and without looks: the
// bow is seldom at hand.
func (e *Engine) account(q Question) (*Account, error) {
	query, asked, err := e.resolve(q)
	if err != nil {
		return nil, err
	}
	a, _ := e.reasoned(query, asked, e.understood(q, query, asked))
	return a, nil
}

// reasoned gives the account of a question that is resolved, and the odds.
func (e *Engine) reasoned(query odds.Query, asked []int, observed []Observation) (*Account, *odds.Posterior) {
	b, p := e.briefly(query, asked, observed)
	a := &Account{Brief: b}
	if !b.Impossible {
		a.Models, a.Years = e.chances(p)
		a.Evidence = e.evidence(query, asked, observed, p.Pair(p.Best()))
	}
	return a, p
}

// kept keeps what was worked out for examples.
type kept[T any] struct {
	mu    sync.Mutex
	known map[*schema.Example]func() (T, error)
}

func (k *kept[T]) of(ex *schema.Example, work func() (T, error)) (T, error) {
	k.mu.Lock()
	made, known := k.known[ex]
	if !known {
		if k.known == nil {
			k.known = map[*schema.Example]func() (T, error){}
		}
		made = sync.OnceValues(work)
		k.known[ex] = made
	}
	k.mu.Unlock()
	return made()
}
