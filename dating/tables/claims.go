package tables

import (
	"encoding/json"

	"yearmark/dating"
	"yearmark/schema"
)

// claimsSize is about how large a file of claims grows, in bytes.
const claimsSize = 48 << 10

// claimsFile names a file of claims and says how many models, following on
// those of the file before, are in it.
type claimsFile struct {
	File   string `json:"file"`
	Models int    `json:"models"`
}

// claim is one claim as a page shows it behind an answer. From and To are the
// outcomes that it holds, Years the years in which it holds as [first, count, …].
type claim struct {
	Key     string `json:"key"`
	Address string `json:"address"`
	Value   string `json:"value"`
	Label   string `json:"label"`
	Span    string `json:"span"`
	Cites   []cite `json:"cites"`
	From    int    `json:"from"`
	To      int    `json:"to"`
	Years   []int  `json:"years"`
}

type cite struct {
	Words   string `json:"words"`
	Address string `json:"address"`
}

// modelClaims is a model's claims by feature.
type modelClaims map[string][]claim

// claims writes the files of claims, some models in each.
func (b *builder) claims() []claimsFile {
	list := []claimsFile{}
	if b.engine.Reference() == nil {
		return list
	}
	pending, size := []modelClaims{}, 0
	flush := func() {
		list = append(list, claimsFile{b.add("claims", pending), len(pending)})
		pending, size = []modelClaims{}, 0
	}
	for m := range b.engine.Table().Models {
		claims := b.claimsOf(m)
		pending = append(pending, claims)
		data, _ := json.Marshal(claims)
		if size += len(data); size >= claimsSize {
			flush()
		}
	}
	if len(pending) > 0 {
		flush()
	}
	return list
}

func (b *builder) claimsOf(m int) modelClaims {
	claims := modelClaims{}
	for i := range b.engine.Features() {
		f := &b.engine.Features()[i]
		for _, v := range b.engine.Voices(m, i) {
			claims[f.ID] = append(claims[f.ID], b.claim(f, v))
		}
	}
	return claims
}

func (b *builder) claim(f *dating.Feature, v dating.Voice) claim {
	c := claim{
		Key: v.Claim.Key(), Address: v.Claim.Address(), Value: v.Claim.Value.Value, Label: f.Domain.Label(outcomes(v)),
		Span: v.Years.String(), Cites: []cite{}, From: v.First, To: v.Last, Years: []int{},
	}
	if !v.Claim.Range.IsZero() {
		c.Value = v.Claim.Range.Written
	}
	for y := v.Years.A; !v.Years.Empty() && y <= v.Years.D; y++ {
		if v.Years.Possible(y) {
			c.Years = countUp(c.Years, y)
		}
	}
	for _, by := range v.Claim.Citations() {
		c.Cites = append(c.Cites, b.cite(by))
	}
	return c
}

// outcomes lists the outcomes that a claim holds.
func outcomes(v dating.Voice) []int {
	var list []int
	for i := v.First; i <= v.Last; i++ {
		list = append(list, i)
	}
	return list
}

func (b *builder) cite(by schema.Citation) cite {
	ref := b.engine.Reference()
	c := cite{Words: dating.CitationWords(ref, by)}
	if s, ok := ref.Sources.Get(by.Source); ok {
		c.Address = s.Address()
	} else if id, ok := by.ExampleID(); ok {
		if e, ok := ref.Examples.Get(id); ok {
			c.Address = e.Address()
		}
	}
	return c
}
