package tables

import (
	"cmp"

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

	number map[citeKey]int
}

// claim is one claim as a page shows it behind an answer. Anchor is its place
// on the model's page or, where Maker is true, on its maker's. From and To are the outcomes that it holds, Years the
// years in which it holds as [first, count, …], Cites places in the file's cites.
type claim struct {
	Anchor string `json:"anchor"`
	Maker  bool   `json:"maker,omitempty"`
	Value  string `json:"value"`
	Label  string `json:"label"`
	Span   string `json:"span"`
	Cites  []int  `json:"cites"`
	From   int    `json:"from"`
	To     int    `json:"to"`
	Years  []int  `json:"years"`
	// Disputed says that somebody speaks against it and nobody has settled it.
	Disputed bool `json:"disputed,omitempty"`
	// When words the conditions on which it holds, as they follow the label; or empty.
	When string `json:"when,omitempty"`
	// Against are the places in the file's cites of who speaks against it, Settled
	// is why that is settled, or "yes", and Witnesses and Dissents are the
	// independent ones on either side where they are fewer than the citations.
	Against   []int  `json:"against,omitempty"`
	Settled   string `json:"settled,omitempty"`
	Witnesses int    `json:"witnesses,omitempty"`
	Dissents  int    `json:"dissents,omitempty"`

	cites, against []cite // those not numbered yet
}

type cite struct {
	Words   string `json:"words"`
	Address string `json:"address"`
	By      string `json:"by,omitempty"`   // who says them, where that is not who made the source
	Says    string `json:"says,omitempty"` // its first words, where they are known
	// Quotes are all its words, and pictures and recordings of them.
	Quotes []Quote `json:"quotes,omitempty"`
}

// citeKey tells citations apart.
type citeKey struct{ words, address string }

func (c cite) key() citeKey { return citeKey{c.Words, c.Address} }

// Quote is what one place in a source says and shows. Only what may be shown is
// in it. The paths are below the site's root.
type Quote struct {
	Words   []string `json:"words,omitempty"` // paragraphs
	Cut     string   `json:"cut,omitempty"`   // the path of the picture of them
	Width   int      `json:"width,omitempty"` // of that picture, in pixels
	Height  int      `json:"height,omitempty"`
	Alt     string   `json:"alt,omitempty"`   // what it shows
	Sound   string   `json:"sound,omitempty"` // the path of the recording, with the time as a media fragment
	Remarks []string `json:"remarks,omitempty"`
}

// modelClaims is a model's claims by feature.
type modelClaims map[string][]claim

// size is about how many bytes the claims take in a file.
func (c modelClaims) size() int {
	const frame, place = 100, 4 // of a claim's names, and of one citation's number
	size := len("{},")
	for feature, list := range c {
		size += len(feature)
		for i := range list {
			one := &list[i]
			size += frame + len(one.Anchor) + len(one.Value) + len(one.Label) + len(one.Span) + len(one.Settled) + place*(len(one.cites)+len(one.against)+len(one.Years))
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
	var open []modelClaims
	size := 0
	for from := 0; from < models; from += modelsAtOnce {
		ready := make([]modelClaims, min(modelsAtOnce, models-from))
		parallel.For(len(ready), func(i int) { ready[i] = b.claimsOf(from + i) })
		for _, claims := range ready {
			open = append(open, claims)
			if size += claims.size(); size >= claimsSize {
				list, open, size = append(list, b.claimsFile(open)), nil, 0
			}
		}
	}
	if len(open) > 0 {
		list = append(list, b.claimsFile(open))
	}
	return list
}

// claimsFile writes a file of claims.
func (b *builder) claimsFile(models []modelClaims) claimsFile {
	d := &claimsData{Cites: []cite{}, number: map[citeKey]int{}}
	for _, claims := range models {
		d.take(claims, b.engine.Features())
	}
	return claimsFile{b.add("claims", d), len(models)}
}

// take adds a model's claims and numbers what they cite in the order of the features.
func (d *claimsData) take(claims modelClaims, features []dating.Feature) {
	for i := range features {
		list := claims[features[i].ID]
		for k := range list {
			for _, c := range list[k].cites {
				list[k].Cites = append(list[k].Cites, d.add(c))
			}
			for _, c := range list[k].against {
				list[k].Against = append(list[k].Against, d.add(c))
			}
			list[k].cites, list[k].against = nil, nil
		}
	}
	d.Models = append(d.Models, claims)
}

// claimsOf gives a model's claims, whose citations are not numbered yet.
func (b *builder) claimsOf(m int) modelClaims {
	claims := modelClaims{}
	t := b.engine.Table()
	years := t.Years[t.Models[m].Start:t.Models[m].End]
	for i := range b.engine.Features() {
		f := &b.engine.Features()[i]
		for _, v := range b.engine.ClaimsAbout(m, i) {
			claims[f.ID] = append(claims[f.ID], b.claim(f, v, years))
		}
	}
	return claims
}

func (b *builder) claim(f *dating.Feature, v dating.ClaimEvidence, years []int32) claim {
	c := claim{
		Anchor: v.Claim.Anchor(), Maker: v.Claim.Maker != nil, Value: v.Claim.Value.Value, Label: f.Domain.Label(outcomes(v)),
		Span: v.Years.String(), Cites: []int{}, From: v.First, To: v.Last, Years: []int{},
		When:     b.engine.Reference().Conditions(v.Claim.When),
		Disputed: v.Claim.Disputed.Value || len(v.Claim.Against) > 0 && v.Claim.Settled == nil,
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
		c.cites = append(c.cites, b.quoted(by))
	}
	for _, by := range v.Claim.Against {
		c.against = append(c.against, b.quoted(by))
	}
	if s := v.Claim.Settled; s != nil {
		c.Settled = cmp.Or(s.Because.Value, "yes")
	}
	if v.Witnesses < len(c.cites) {
		c.Witnesses = v.Witnesses
	}
	if v.Dissents < len(c.against) {
		c.Dissents = v.Dissents
	}
	return c
}

// add gives the place of what is cited, which it enters where it is new.
func (d *claimsData) add(c cite) int {
	n, known := d.number[c.key()]
	if !known {
		n = len(d.Cites)
		d.number[c.key()] = n
		d.Cites = append(d.Cites, c)
	}
	return n
}

// outcomes lists the outcomes that a claim holds.
func outcomes(v dating.ClaimEvidence) []int {
	var list []int
	for i := v.First; i <= v.Last; i++ {
		list = append(list, i)
	}
	return list
}

// cite words a citation and leads to the cited place on its source's page.
func (b *builder) cite(by schema.Citation) cite {
	ref := b.engine.Reference()
	c := cite{Words: dating.CitationWords(ref, by)}
	c.By, c.Says = dating.SaidAt(ref, by)
	if r, known := ref.Cited(by.Source); known {
		c.Address = r.Address() + "#" + by.Anchor()
	}
	return c
}

// quoted is cite with what may be shown of the place.
func (b *builder) quoted(by schema.Citation) cite {
	c := b.cite(by)
	if b.quotes != nil {
		c.Quotes = b.quotes(by)
	}
	return c
}
