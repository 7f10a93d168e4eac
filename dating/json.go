package dating

import (
	"encoding/json"
	"io"
	"slices"

	"yearmark/schema"
)

// JSONVersion is the version of the JSON that JSON and a List write.
const JSONVersion = 1

// answerJSON is the documented form of an answer.
type answerJSON struct {
	Version    int            `json:"version"`
	Edition    string         `json:"edition"`
	Warnings   []string       `json:"warnings"` // what bears on the whole answer
	Observed   []Observation  `json:"observed"`
	Impossible bool           `json:"impossible"`
	Strict     Strict         `json:"strict"`
	Odds       []Odds         `json:"odds"`
	Models     []ModelChance  `json:"models"`
	Years      []YearChance   `json:"years"`
	Best       *Odds          `json:"best"`
	Likely     likelyJSON     `json:"likely"`
	Evidence   []evidenceJSON `json:"evidence"`
	Look       []Suggestion   `json:"look"`
	Advice     []string       `json:"advice"` // what practitioners say of bows of the model asked for
	Change     []Change       `json:"change"`
	Entropy    float64        `json:"entropy"`
}

type likelyJSON struct {
	Half []ModelYears `json:"50"`
	Most []ModelYears `json:"95"`
}

type evidenceJSON struct {
	Feature  string          `json:"feature"`
	Values   []string        `json:"values"`
	Sure     schema.Sureness `json:"sure"`
	Decibans float64         `json:"decibans"`
	Claims   []groundJSON    `json:"claims"`
}

type groundJSON struct {
	Claim     string   `json:"claim"`
	Label     string   `json:"label"`
	Span      string   `json:"span"`
	Cites     []string `json:"cites"`
	Says      []said   `json:"says,omitempty"`
	Against   []string `json:"against"`
	Witnesses int      `json:"witnesses"`
	Dissents  int      `json:"witnessesAgainst"`
	Credence  float64  `json:"credence"`
	Seen      bool     `json:"seen"`
	Holds     bool     `json:"holds"`
}

// said is what stands at a place cited.
type said struct {
	Cite  string   `json:"cite"`
	Words []string `json:"words"`
	By    []string `json:"by,omitempty"` // who says each of them, where somebody is named beside who made the source
}

// saidIn gives the words at the places cited, as far as they are known and may
// be shown.
func (a *Answer) saidIn(cites []schema.Citation) []said {
	var all []said
	for _, by := range cites {
		if a.engine.ref == nil {
			break
		}
		at := said{Cite: by.String()}
		for i, q := range a.engine.ref.Words(by) {
			at.Words = append(at.Words, q.Words)
			if q.By != "" {
				at.By = append(at.By, make([]string, i+1-len(at.By))...)
				at.By[i] = q.By
			}
		}
		if len(at.Words) > 0 {
			all = append(all, at)
		}
	}
	return all
}

// JSON writes the answer in the documented form. Lists are never null; best is
// null where nothing is left.
func JSON(w io.Writer, a *Answer, edition string) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(answerJSON{
		Version: JSONVersion, Edition: edition, Warnings: list(a.Warnings), Observed: list(a.Observed), Impossible: a.Impossible,
		Strict: Strict{list(a.Strict.Years), list(a.Strict.Conflicts), a.withOrders()},
		Odds:   list(a.Odds), Models: list(a.Models), Years: list(a.Years), Best: a.Best,
		Likely:   likelyJSON{list(a.Likely50), list(a.Likely95)},
		Evidence: evidenceOf(a), Look: list(a.Suggestion), Advice: a.practice(), Change: list(a.Changes()), Entropy: a.Entropy,
	})
}

// withOrders gives what is left without each observation, with the special
// orders that may explain it.
func (a *Answer) withOrders() []Without {
	all := slices.Clone(a.Strict.Without)
	for i, w := range all {
		if len(w.Years) > 0 {
			all[i].Orders = a.engine.specialOrders(w)
		}
	}
	return list(all)
}

// list gives an empty slice for none.
func list[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}

func evidenceOf(a *Answer) []evidenceJSON {
	all := []evidenceJSON{}
	for _, e := range a.Evidence {
		claims := []groundJSON{}
		for _, g := range e.Claims {
			claims = append(claims, groundJSON{g.Claim.Key(), g.Label, g.Years.String(), written(g.Claim.Citations()), a.saidIn(g.Claim.Citations()), written(g.Claim.Against), g.Witnesses, g.Dissents, g.Credence, g.Seen, g.Holds})
		}
		all = append(all, evidenceJSON{e.Feature, list(e.Values), e.Sure, e.Decibans, claims})
	}
	return all
}

// written gives citations as records write them.
func written(list []schema.Citation) []string {
	all := []string{}
	for _, by := range list {
		all = append(all, by.String())
	}
	return all
}
