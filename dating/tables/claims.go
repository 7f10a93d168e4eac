package tables

import (
	"yearmark/dating"
	"yearmark/schema"
	"yearmark/schema/parallel"
)

// claimsSize is about how large a file of claims grows, in bytes.
const claimsSize = 48 << 10

// claimsFile names a file of claims and says how many models, following on
// those of the file before, are in it.
type claimsFile struct {
	File   string `json:"file"`
	Models int    `json:"models"`
}

// claimsData is a file of claims: what they cite, each once, and for each
// model its claims by feature.
type claimsData struct {
	Cites  []cite        `json:"cites"`
	Models []modelClaims `json:"models"`

	number map[cite]int
}

// claim is one claim as a page shows it behind an answer. Anchor is its place
// on the model's page. From and To are the outcomes that it holds, Years the
// years in which it holds as [first, count, …], Cites places in the file's cites.
type claim struct {
	Anchor string `json:"anchor"`
	Value  string `json:"value"`
	Label  string `json:"label"`
	Span   string `json:"span"`
	Cites  []int  `json:"cites"`
	From   int    `json:"from"`
	To     int    `json:"to"`
	Years  []int  `json:"years"`

	cites []cite // those not numbered yet
}

type cite struct {
	Words   string `json:"words"`
	Address string `json:"address"`
}

// modelClaims is a model's claims by feature.
type modelClaims map[string][]claim

// size is about how much room the claims take in a file.
func (c modelClaims) size() int {
	const frame, place = 100, 4 // of a claim's names, and of one citation's number
	size := len("{},")
	for feature, list := range c {
		size += len(feature)
		for i := range list {
			one := &list[i]
			size += frame + len(one.Anchor) + len(one.Value) + len(one.Label) + len(one.Span) + place*(len(one.cites)+len(one.Years))
		}
	}
	return size
}

// modelsAtOnce is how many models' claims are made ready before they are written.
const modelsAtOnce = 512

// claims writes the files of claims, some models in each.
func (b *builder) claims() []claimsFile {
	list := []claimsFile{}
	if b.engine.Reference() == nil {
		return list
	}
	models := len(b.engine.Table().Models)
	alike := b.likeBefore()
	var full []filing
	var open filing
	for from := 0; from < models; from += modelsAtOnce {
		ready := filing{first: from, models: make([]modelClaims, min(modelsAtOnce, models-from))}
		ready.kept = make([]*keptModel, len(ready.models))
		parallel.For(len(ready.models), func(i int) { ready.models[i], ready.kept[i] = b.keep(from+i, alike) })
		for i := range ready.models {
			open.models, open.kept = append(open.models, ready.models[i]), append(open.kept, ready.kept[i])
			if open.size += ready.kept[i].size; open.size >= claimsSize {
				full, open = append(full, open), filing{first: from + i + 1}
			}
		}
		list, full = b.writeClaims(list, full), nil
	}
	if len(open.models) > 0 {
		list = b.writeClaims(list, []filing{open})
	}
	return list
}

// filing is the models of one file of claims. Claims that are known from
// before are nil.
type filing struct {
	first, size int
	models      []modelClaims
	kept        []*keptModel
}

// writeClaims writes files of claims and lists them.
func (b *builder) writeClaims(list []claimsFile, full []filing) []claimsFile {
	files := make([]File, len(full))
	parallel.For(len(full), func(i int) { files[i] = b.file(full[i]) })
	b.files = append(b.files, files...)
	for i, f := range files {
		list = append(list, claimsFile{f.Name, len(full[i].models)})
		if !b.once {
			b.filed = append(b.filed, keptClaims{full[i].first, len(full[i].models), f})
			b.models = append(b.models, full[i].kept...)
		}
	}
	return list
}

// file gives a file of claims, which is that from before where it held the same.
func (b *builder) file(of filing) File {
	if f, same := b.filedBefore(of); same {
		return f
	}
	d := &claimsData{Cites: []cite{}, number: map[cite]int{}}
	for i, claims := range of.models {
		if claims == nil {
			claims = b.claimsOf(of.first+i, nil)
		}
		d.take(claims, b.engine.Features())
	}
	return named("claims", d)
}

// take adds a model's claims and numbers what they cite in the order of the features.
func (d *claimsData) take(claims modelClaims, features []dating.Feature) {
	for i := range features {
		list := claims[features[i].ID]
		for k := range list {
			for _, c := range list[k].cites {
				list[k].Cites = append(list[k].Cites, d.add(c))
			}
			list[k].cites = nil
		}
	}
	d.Models = append(d.Models, claims)
}

// claimsOf gives a model's claims, whose citations are not numbered yet. What
// they cite is noted in rests, which may be nil.
func (b *builder) claimsOf(m int, rests *rests) modelClaims {
	claims := modelClaims{}
	t := b.engine.Table()
	years := t.Years[t.Models[m].Start:t.Models[m].End]
	for i := range b.engine.Features() {
		f := &b.engine.Features()[i]
		for _, v := range b.engine.Voices(m, i) {
			claims[f.ID] = append(claims[f.ID], b.claim(f, v, years, rests))
		}
	}
	return claims
}

func (b *builder) claim(f *dating.Feature, v dating.Voice, years []int32, rests *rests) claim {
	c := claim{
		Anchor: v.Claim.Anchor(), Value: v.Claim.Value.Value, Label: f.Domain.Label(outcomes(v)),
		Span: v.Years.String(), Cites: []int{}, From: v.First, To: v.Last, Years: []int{},
	}
	if !v.Claim.Range.IsZero() {
		c.Value = v.Claim.Range.Written
	}
	for _, y := range years {
		if v.Years.Possible(int(y)) {
			c.Years = countUp(c.Years, int(y))
		}
	}
	for _, by := range v.Claim.Citations() {
		c.cites = append(c.cites, b.cite(by, rests))
	}
	return c
}

// add gives the place of what is cited, which it enters where it is new.
func (d *claimsData) add(c cite) int {
	n, known := d.number[c]
	if !known {
		n = len(d.Cites)
		d.number[c] = n
		d.Cites = append(d.Cites, c)
	}
	return n
}

// outcomes lists the outcomes that a claim holds.
func outcomes(v dating.Voice) []int {
	var list []int
	for i := v.First; i <= v.Last; i++ {
		list = append(list, i)
	}
	return list
}

// cite words a citation and leads to the cited place on its source's page.
func (b *builder) cite(by schema.Citation, rests *rests) cite {
	ref := b.engine.Reference()
	c := cite{Words: dating.CitationWords(ref, by)}
	r, known := ref.Cited(by.Source)
	if known {
		c.Address = r.Address() + "#" + by.Anchor()
	}
	rests.on(by.Source, r)
	return c
}
