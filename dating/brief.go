package dating

import (
	"sync"

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

// brief answers a question without odds, evidence and looks.
func (e *Engine) brief(q Question) (*Brief, error) {
	query, asked, err := e.resolve(q)
	if err != nil {
		return nil, err
	}
	b := &Brief{Observed: len(asked), Strict: e.strict(query, asked, e.understood(q, query, asked))}
	p := e.table.Posterior(query)
	if p.Impossible {
		b.Impossible = true
		return b, nil
	}
	best := e.pair(p, p.Best())
	b.Best, b.Likely50, b.Likely95 = &best, e.group(p, p.Smallest(.50)), e.group(p, p.Smallest(.95))
	return b, nil
}

// kept keeps what was worked out for examples: of all of them, or of so many.
type kept[T any] struct {
	mu    sync.Mutex
	known map[*schema.Example]func() (T, error)
	most  int // 0 for no bound
}

func (k *kept[T]) of(ex *schema.Example, work func() (T, error)) (T, error) {
	k.mu.Lock()
	made, known := k.known[ex]
	if !known {
		if k.known == nil || k.most > 0 && len(k.known) >= k.most {
			k.known = map[*schema.Example]func() (T, error){}
		}
		made = sync.OnceValues(work)
		k.known[ex] = made
	}
	k.mu.Unlock()
	return made()
}

// Brief is Date without its reasons. It is worked out once for an example and
// kept; the caller must not change it.
func (a *Apart) Brief(ex *schema.Example) (*Brief, error) {
	return a.briefs.of(ex, func() (*Brief, error) {
		e, independent := a.engineFor(ex)
		if !independent && ex.Documented != nil {
			// While its engine is there: a later one would cost as much again.
			_, _ = a.tried.of(ex, func() (attempt, error) { return e.try(ex, independent), nil })
		}
		return e.brief(QuestionOf(ex))
	})
}
