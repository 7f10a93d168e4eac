package search

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"strings"
	"sync"
)

// made gives n documents of invented words: about 2 KB each, with the
// frequencies of running English (Zipf-Mandelbrot over 60,000 words), titles, makers, models,
// features and years. The same n gives the same documents.
func made(n int) []Document {
	m := &maker{rng: rand.New(rand.NewPCG(1947, uint64(n))), voc: vocabulary()}
	docs := make([]Document, 0, n)
	for i := range n {
		docs = append(docs, m.document(i))
	}
	return docs
}

// madeWords is the size of the vocabulary.
const madeWords = 60_000

// maker makes documents.
type maker struct {
	rng *rand.Rand
	voc *invented
}

// invented is a vocabulary in order of frequency and the running sum of its frequencies.
type invented struct {
	words []string
	sums  []float64
}

var vocabulary = sync.OnceValue(func() *invented {
	rng := rand.New(rand.NewPCG(1, 2))
	v := &invented{words: strings.Fields("the of and a to in is was for it with as on be at by this had not are but from or have an they which one you were all her she there would their we him been has when who more no if out so said what up its about into than them can only other time new some could these two may first then do any like my now over such our man me even most made after also did many off before must through years where much your way well down should because each just those people how too good make still between both under never same another know while last might great old year come since against go came right used take three"),
		sums: make([]float64, 0, madeWords)}
	seen := map[string]bool{}
	for _, w := range v.words {
		seen[w] = true
	}
	onsets := strings.Fields("b bl br c ch cl cr d dr f fl fr g gl gr h j k l m n p pl pr qu r s sc sh sk sl sm sn sp st str sw t th tr v w wh y z")
	vowels := strings.Fields("a e i o u ai ea ee oa oo ou ie")
	codas := append(strings.Fields("b ck d ft g l ll lt m mp n nd ng nk nt p r rd rk rm rn rt s sk ss st t th x"), "", "", "")
	endings := append(strings.Fields("s ed ing er ers ly tion ness able ment al ive ous ation izer ies y"), "", "", "", "", "", "")
	pick := func(list []string) string { return list[rng.IntN(len(list))] }
	for len(v.words) < madeWords {
		var b strings.Builder
		for range 1 + rng.IntN(3) {
			b.WriteString(pick(onsets) + pick(vowels) + pick(codas))
		}
		b.WriteString(pick(endings))
		if w := b.String(); !seen[w] {
			seen[w] = true
			v.words = append(v.words, w)
		}
	}
	sum := 0.0
	for r := range v.words {
		sum += 1 / math.Pow(float64(r)+3.7, 1.07)
		v.sums = append(v.sums, sum)
	}
	return v
})

// word draws a word by its frequency.
func (m *maker) word() string {
	x := m.rng.Float64() * m.voc.sums[len(m.voc.sums)-1]
	return m.voc.words[sort.SearchFloat64s(m.voc.sums, x)]
}

// rare draws a word that is not among the commonest.
func (m *maker) rare() string { return m.voc.words[200+m.rng.IntN(8000)] }

func (m *maker) text(words int) string {
	var b strings.Builder
	for i := range words {
		switch {
		case i > 0 && i%90 == 0:
			b.WriteString(".\n")
		case i > 0 && i%14 == 0:
			b.WriteString(". ")
		case i > 0:
			b.WriteByte(' ')
		}
		switch x := m.rng.IntN(200); {
		case x == 0:
			fmt.Fprintf(&b, "%d", 1930+m.rng.IntN(56))
		case x == 1:
			fmt.Fprintf(&b, "%c-%d", 'A'+m.rng.IntN(26), 10+m.rng.IntN(90))
		case x == 2:
			fmt.Fprintf(&b, "%d %d/8 in", 5+m.rng.IntN(60), 1+m.rng.IntN(7))
		default:
			b.WriteString(m.word())
		}
	}
	return b.String()
}

// madeKinds is the mixture of kinds among twenty documents.
var madeKinds = []string{
	KindModel, KindModel, KindModel, KindEra, KindEra, KindEra, KindEra, KindEra, KindExample, KindExample,
	KindExample, KindExample, KindExample, KindExample, KindSource, KindSource, KindSource, KindValue, KindPage, KindMaker,
}

func (m *maker) document(i int) Document {
	kind := madeKinds[i%len(madeKinds)]
	id := fmt.Sprintf("%s-%s-%d", m.rare(), m.rare(), i)
	d := Document{
		Kind: kind, ID: id, Address: kind + "s/" + id + ".html",
		Title: strings.Title(m.rare() + " " + m.word() + " " + m.rare()), //nolint:staticcheck // ASCII words
		Text:  m.text(250 + m.rng.IntN(150)),
	}
	d.About = m.text(10)
	switch kind {
	case KindModel:
		d.Summary = d.Title + fmt.Sprintf("\n%c-%d", 'A'+m.rng.IntN(26), 10+m.rng.IntN(90))
	case KindPage, KindValue, KindFeature:
		d.Summary = d.About
	}
	if kind == KindPage || kind == KindMaker || kind == KindValue {
		return d
	}
	d.Maker = fmt.Sprintf("maker-%d", m.rng.IntN(40))
	d.Model = fmt.Sprintf("model-%d", m.rng.IntN(500))
	d.First = 1935 + m.rng.IntN(40)
	d.Last = d.First + m.rng.IntN(12)
	if kind == KindSource {
		return d
	}
	for f := range 12 {
		first := d.First + m.rng.IntN(d.Last-d.First+1)
		value := m.rng.IntN(3 + f)
		d.Holds = append(d.Holds, Held{
			Feature: fmt.Sprintf("feature-%d", f), Value: fmt.Sprintf("value-%d", value), Name: m.voc.words[500+40*f+value] + " " + m.voc.words[300+f],
			First: first, Last: first + m.rng.IntN(d.Last-first+1), Claim: d.Address + fmt.Sprintf("#f%d", f),
		})
	}
	return d
}

// madeDocs is a reference of 10,000 documents, madeIndex its index and madeFiles the index's files, each made
// once for all tests.
var (
	madeDocs  = sync.OnceValue(func() []Document { return made(10_000) })
	madeIndex = sync.OnceValues(func() (*Index, error) { return Build(context.Background(), madeDocs()) })
	madeFiles = sync.OnceValues(func() ([]File, error) {
		ix, err := madeIndex()
		if err != nil {
			return nil, err
		}
		return ix.Shards(context.Background())
	})
)
