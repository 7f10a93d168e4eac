package tables

import (
	"yearmark/dating"
	"yearmark/dating/odds"
)

// shard is one feature's chances.
type shard struct {
	Feature  string      `json:"feature"`
	Outcomes int         `json:"outcomes"`
	Rows     [][]float64 `json:"rows"`
	Runs     []int       `json:"runs"`
	Patterns []pattern   `json:"patterns,omitempty"` // of a text feature
}

// pattern is one value of a text feature, and the program that matches it
// where it is more than plain words.
type pattern struct {
	Text    string  `json:"text"`
	Label   string  `json:"label,omitempty"` // where people write it otherwise
	Program [][]int `json:"program,omitempty"`
}

// shardFile gives a feature's file, which is that from before where the
// feature's table is.
func (b *builder) shardFile(i int) File {
	f := &b.engine.Features()[i]
	if b.before != nil {
		was, known := b.before.engine.FeatureAt(f.ID)
		if known && b.before.engine.Features()[was].Domain == f.Domain && sameTable(&b.before.engine.Table().Features[was], &b.engine.Table().Features[i]) {
			return b.before.shards[was]
		}
	}
	return named(f.ID, b.shard(i))
}

// sameTable says that two tables are one.
func sameTable(a, b *odds.Feature) bool {
	return a.Outcomes == b.Outcomes && len(a.Rows) == len(b.Rows) && len(a.RowOf) == len(b.RowOf) &&
		(len(a.Rows) == 0 || &a.Rows[0] == &b.Rows[0]) && (len(a.RowOf) == 0 || &a.RowOf[0] == &b.RowOf[0])
}

func (b *builder) shard(i int) shard {
	f := &b.engine.Table().Features[i]
	s := shard{Feature: f.ID, Outcomes: f.Outcomes, Rows: [][]float64{}, Runs: []int{}}
	for _, r := range f.Rows {
		row := []float64{r.Rest, flag(r.Silent)}
		for _, c := range r.Cells {
			row = append(row, float64(c.From), float64(c.To), c.Chance, flag(c.Possible))
		}
		s.Rows = append(s.Rows, row)
	}
	for _, r := range f.RowOf {
		s.Runs = count(s.Runs, int(r))
	}
	if w, ok := b.engine.Features()[i].Domain.(*dating.Wordings); ok {
		for _, p := range w.Patterns {
			one := pattern{Text: p.Text, Program: program(p.RE2)}
			if p.Label != p.Text {
				one.Label = p.Label
			}
			s.Patterns = append(s.Patterns, one)
		}
	}
	return s
}

func flag(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
