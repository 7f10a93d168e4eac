package tables

import (
	"yearmark/dating"
	"yearmark/schema"
)

// numbers is what a page needs to look a number up, wherever it is typed.
type numbers struct {
	First    int            `json:"first"` // the years in which anything can fall
	Last     int            `json:"last"`
	Makers   []numberMaker  `json:"makers"`
	Models   []numberModel  `json:"models"` // those with a number
	Features []numbersOf    `json:"features"`
	Cites    []cite         `json:"cites"`
	Names    []otherName    `json:"names"` // other names
	places   map[string]int // of models
	cited    map[citeKey]int
}

type otherName struct {
	Name  string `json:"name"`
	Words string `json:"words"`
}

// numberMaker is a maker, with how its weight marks read where that is recorded.
type numberMaker struct {
	Name    string              `json:"name"`
	Address string              `json:"address"`
	Stamps  []dating.Convention `json:"stamps,omitempty"`
}

type numberModel struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Maker int    `json:"maker"`
}

// numbersOf is a text feature: its values, and by value the claims that hold it.
type numbersOf struct {
	ID     string         `json:"id"`
	Name   string         `json:"name"`
	Values []pattern      `json:"values"`
	Claims []numberClaims `json:"claims"`
}

// numberClaims are the claims of one value, in order of models.
type numberClaims []numberClaim

type numberClaim struct {
	Model   int    `json:"model"`
	Span    string `json:"span"`
	Address string `json:"address"`
	Cites   []int  `json:"cites"`
}

// numbers gathers all that is recorded of numbers. It is nil without records.
func (b *builder) numbers() *numbers {
	ref := b.engine.Reference()
	if ref == nil {
		return nil
	}
	n := &numbers{First: ref.Horizon().First, Last: ref.Horizon().Last, Makers: []numberMaker{}, Models: []numberModel{}, Features: []numbersOf{}, Cites: []cite{}, Names: []otherName{}, places: map[string]int{}, cited: map[citeKey]int{}}
	for _, other := range dating.OtherNames(ref) {
		n.Names = append(n.Names, otherName(other))
	}
	makers := map[string]int{}
	for _, m := range ref.Makers.All() {
		makers[m.ID] = len(n.Makers)
		one := numberMaker{Name: m.Title(), Address: m.Address()}
		one.Stamps = dating.Conventions(ref, m)
		n.Makers = append(n.Makers, one)
	}
	for i := range b.engine.Features() {
		f := &b.engine.Features()[i]
		w, ok := f.Domain.(*dating.Wordings)
		if !ok || len(w.Patterns) == 0 {
			continue
		}
		of := numbersOf{ID: f.ID, Name: f.Name(), Claims: make([]numberClaims, len(w.Patterns))}
		for k, p := range w.Patterns {
			of.Values, of.Claims[k] = append(of.Values, patternOf(p)), numberClaims{}
		}
		for m, model := range b.engine.Table().Models {
			record, known := ref.Models.Get(model.ID)
			maker, made := makers[makerOf(record)]
			if !known || !made {
				continue
			}
			for _, c := range b.engine.ClaimsAbout(m, i) {
				of.Claims[c.First] = append(of.Claims[c.First], b.numberClaim(n, c, numberModel{record.ID, record.Title(), maker}))
			}
		}
		n.Features = append(n.Features, of)
	}
	return n
}

func (b *builder) numberClaim(n *numbers, c dating.ClaimEvidence, m numberModel) numberClaim {
	at, known := n.places[m.ID]
	if !known {
		at = len(n.Models)
		n.places[m.ID] = at
		n.Models = append(n.Models, m)
	}
	one := numberClaim{Model: at, Span: c.Years.String(), Address: c.Claim.Address(), Cites: []int{}}
	for _, by := range c.Claim.Citations() {
		words := b.cite(by)
		place, known := n.cited[words.key()]
		if !known {
			place = len(n.Cites)
			n.cited[words.key()] = place
			n.Cites = append(n.Cites, words)
		}
		one.Cites = append(one.Cites, place)
	}
	return one
}

func makerOf(m *schema.Model) string {
	if m == nil {
		return ""
	}
	return m.Maker.Value
}
