package tables

import (
	"slices"

	"yearmark/dating"
)

// shard is one feature's chances.
type shard struct {
	Feature  string      `json:"feature"`
	Outcomes int         `json:"outcomes"`
	Rows     [][]float64 `json:"rows"`
	Runs     []int       `json:"runs"`
	Patterns []pattern   `json:"patterns,omitempty"` // of a text feature
}

// pattern is one value of a text feature, and the programs that match it, as
// written and squeezed, where it is more than plain words. Without Loose the
// program does for both.
type pattern struct {
	Text    string  `json:"text"`
	Label   string  `json:"label,omitempty"` // where people write it otherwise
	Program [][]int `json:"program,omitempty"`
	Loose   [][]int `json:"loose,omitempty"`
}

func patternOf(p dating.Pattern) pattern {
	one := pattern{Text: p.Text, Program: program(p.RE2)}
	if p.Label != p.Text {
		one.Label = p.Label
	}
	if loose := program(p.Loose); !slices.EqualFunc(loose, one.Program, slices.Equal) {
		one.Loose = loose
	}
	if p.RE2 != "" && p.Loose == "" {
		one.Loose = [][]int{{0}, {opFail}}
	}
	return one
}

// shard gives a feature's table.
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
			s.Patterns = append(s.Patterns, patternOf(p))
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
