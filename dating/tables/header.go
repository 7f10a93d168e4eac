package tables

import (
	"math"

	"yearmark/dating"
	"yearmark/dating/odds"
	"yearmark/schema"
)

// header is what a page needs before the first question.
type header struct {
	Version  int                         `json:"version"`
	Temper   float64                     `json:"temper"`
	Sure     map[schema.Sureness]float64 `json:"sure"`
	Makers   []maker                     `json:"makers"`
	Models   []model                     `json:"models"`
	Features []feature                   `json:"features"`
	Claims   []claimsFile                `json:"claims"`
	// Dependences names what conditions tie together; absent where nothing is.
	Dependences *dependencesFile `json:"dependences,omitempty"`
}

type maker struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Address string `json:"address"`
	// Mute says of features that date none of its bows why, by their identifiers.
	Mute map[string]string `json:"mute,omitempty"`
	// Orders say of features of which it took special orders when, and on whose word.
	Orders map[string]string `json:"orders,omitempty"`
}

// model is one model, or what is not on record where it has no ID: its years as [first, count, …] and their priors as
// [prior, count, …].
type model struct {
	ID      string    `json:"id"`
	Name    string    `json:"name"`
	Maker   int       `json:"maker"` // place in makers, or -1
	Address string    `json:"address"`
	Years   []int     `json:"years"`
	Prior   []float64 `json:"prior"`
	Advice  []string  `json:"advice,omitempty"` // what practitioners say of such a bow
	Alike   []alike   `json:"alike,omitempty"`  // models that its record says it is easily taken for
}

// alike is a model that another is easily taken for, and a sentence that tells the two apart.
type alike struct {
	Model string `json:"model"`
	Words string `json:"words"`
}

// feature is one question. Low, High and Step are those of a number. Bits is
// what a look tells before anything is known.
type feature struct {
	ID      string             `json:"id"`
	Name    string             `json:"name"`
	Ask     string             `json:"ask"`
	Look    string             `json:"look"`
	Kind    schema.FeatureKind `json:"kind"`
	Effort  schema.Effort      `json:"effort"`
	Picture string             `json:"picture"`
	Address string             `json:"address"`
	Unit    schema.Unit        `json:"unit"`
	Low     float64            `json:"low"`
	High    float64            `json:"high"`
	Step    float64            `json:"step"`
	Values  []value            `json:"values"`
	Altered []string           `json:"altered"`         // the values that later owners bring about
	Means   []string           `json:"means,omitempty"` // what it and its values are said to mean
	Bits    float64            `json:"bits"`
	Shard   string             `json:"shard"`
}

type value struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Tell    string `json:"tell"`
	Picture string `json:"picture"`
}

// header gives all but the names of the other files.
func (b *builder) header() header {
	e := b.engine
	h := header{Version: Version, Temper: e.Table().Temper, Sure: e.Observers(), Makers: []maker{}, Models: []model{}, Features: []feature{}}
	makers := map[string]int{}
	if ref := e.Reference(); ref != nil {
		for _, m := range ref.Makers.All() {
			makers[m.ID] = len(h.Makers)
			h.Makers = append(h.Makers, maker{m.ID, m.Title(), m.Address(), mute(m), b.orders(m)})
		}
	}
	for i := range e.Table().Models {
		h.Models = append(h.Models, b.model(i, makers))
	}
	everything := e.Table().Posterior(odds.Query{})
	for i := range e.Features() {
		f := describe(&e.Features()[i])
		if r := e.Features()[i].Record; r != nil && e.Reference() != nil {
			f.Means = dating.MeaningWords(e.Reference(), r)
		}
		f.Bits = math.Round(everything.Gain(i)*1e6) / 1e6 // alike on every machine
		h.Features = append(h.Features, f)
	}
	return h
}

// mute gives what a maker's record says of features that date none of its bows.
func mute(m *schema.Maker) map[string]string {
	list := map[string]string{}
	for _, s := range m.SaysNothing {
		list[s.Feature.Value] = s.Because.Value
	}
	return list
}

func (b *builder) orders(m *schema.Maker) map[string]string {
	list := map[string]string{}
	if m.SpecialOrders != nil {
		for _, f := range m.SpecialOrders.Features {
			if words := b.engine.SpecialOrders(m.ID, f.Value); words != "" {
				list[f.Value] = words
			}
		}
	}
	return list
}

func (b *builder) model(i int, makers map[string]int) model {
	t := b.engine.Table()
	row := t.Models[i]
	ref := b.engine.Reference()
	m := model{ID: row.ID, Name: dating.BowName(ref, row.ID, row.Maker), Maker: -1, Years: []int{}, Prior: []float64{}}
	of := row.Maker
	if ref != nil {
		if record, ok := ref.Models.Get(row.ID); ok {
			of, m.Address, m.Advice = record.Maker.Value, record.Address(), dating.Advice(ref, record)
			words, others := dating.AlikeWords(ref, record)
			for i, other := range others {
				m.Alike = append(m.Alike, alike{other, words[i]})
			}
		}
	}
	if at, ok := makers[of]; ok {
		m.Maker = at
	}
	for h := row.Start; h < row.End; h++ {
		m.Years = countUp(m.Years, int(t.Years[h]))
		m.Prior = count(m.Prior, t.Prior[h])
	}
	return m
}

// countUp adds a year to runs of years that follow one another.
func countUp(runs []int, year int) []int {
	if n := len(runs); n > 0 && runs[n-2]+runs[n-1] == year {
		runs[n-1]++
		return runs
	}
	return append(runs, year, 1)
}

// count adds a value to runs of equal values.
func count[N int | float64](runs []N, v N) []N {
	if n := len(runs); n > 0 && runs[n-2] == v {
		runs[n-1]++
		return runs
	}
	return append(runs, v, 1)
}

// describe gives what the form asks and shows of a feature.
func describe(f *dating.Feature) feature {
	d := feature{ID: f.ID, Name: f.Name(), Kind: f.Kind(), Effort: schema.Glance, Values: []value{}, Altered: []string{}}
	if r := f.Record; r != nil {
		d.Ask, d.Look, d.Effort, d.Address, d.Picture = r.Ask.Value, r.Look.Value, r.LookEffort(), r.Address(), r.Picture.Value
		if r.Altered != nil && r.Altered.Chance.Value > 0 {
			for _, to := range r.Altered.To {
				d.Altered = append(d.Altered, to.Value)
			}
		}
	}
	switch domain := f.Domain.(type) {
	case *dating.Scale:
		d.Low, d.Step, d.Unit = domain.Low, domain.Step, domain.Unit
		d.High = domain.Low + float64(float64(domain.Steps-1)*domain.Step)
	case *dating.Values:
		for i, id := range domain.IDs {
			v := value{ID: id, Name: domain.Label([]int{i})}
			if f.Record != nil {
				if declared, ok := f.Record.Value(id); ok {
					v.Tell, v.Picture = declared.Tell.Value, declared.Picture.Value
				}
			}
			d.Values = append(d.Values, v)
		}
	}
	return d
}
