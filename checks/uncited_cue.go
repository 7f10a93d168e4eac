package checks

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

var uncitedCue = Check{
	Name: "uncited-cue", Family: Provenance, Level: Note, absence: true,
	Meaning: "A piece of a transcript names a year, a model or a feature, and no claim cites it: knowledge that is still to be taken in, or nothing of use.",
	Example: `[0:12] The oval mark? Till nineteen sixty-four, I'd say.
→ nothing cites 00:12, which names oval, mark, nineteen sixty-four: "The oval mark? Till nineteen sixty-four, I'd say."`,
	Remedy: "Write down what is said there as a claim that cites the source and the time, or leave it.",
	Run: func(p *Pass) {
		var words map[string]bool
		for _, s := range p.Ref.Sources.All() {
			if s.TranscriptText() == nil {
				continue
			}
			if words == nil {
				words = p.tradeWords()
			}
			p.reportUncited(s, p.uncited(s, words))
		}
	},
}

// manyCues is how many pieces of one transcript are told one by one; of more
// there is one finding, with the pieces as its reasons.
const manyCues = 3

func (p *Pass) reportUncited(s *schema.Source, pieces []Place) {
	if len(pieces) <= manyCues {
		for _, piece := range pieces {
			p.Reportf(piece.Pos, "nothing cites %s", piece.Message)
		}
		return
	}
	p.Report(Finding{
		Pos: s.Transcript.Pos, Message: fmt.Sprintf("nothing cites %d pieces of the transcript, which name years, models or features", len(pieces)), Why: pieces,
		Help: "Write down what is said there as claims that cite the source and the time, or leave them.",
	})
}

// uncited gives the pieces of a transcript that name something of the trade and
// that nothing cites: "00:12, which names oval: …".
func (p *Pass) uncited(s *schema.Source, words map[string]bool) []Place {
	var pieces []Place
	cited := p.citedPlaces(s)
	for _, place := range s.EveryPlace() {
		if place.Cue() == nil || cited[place] || place.CorrectedAt.Value != "" {
			continue
		}
		named := p.namedIn(place.Says.Value, words)
		switch {
		case len(named) == 0:
		case s.MayShow() == schema.ShowsNone:
			pieces = append(pieces, Place{Pos: place.Pos, Message: place.At.Value + ", which names a year, a model or a feature"})
		default:
			pieces = append(pieces, Place{Pos: place.Pos, Message: fmt.Sprintf("%s, which names %s: %s", place.At.Value, strings.Join(named, ", "), quote(place.Says.Value))})
		}
	}
	return pieces
}

// citedPlaces gives the places of a source that a statement cites, for or against.
func (p *Pass) citedPlaces(s *schema.Source) map[*schema.SourcePlace]bool {
	cited := map[*schema.SourcePlace]bool{}
	for st := range p.statements {
		for _, c := range slices.Concat(st.cites, st.against) {
			if c.Source != s.ID {
				continue
			}
			for _, place := range s.PlacesAt(c.Place) {
				cited[place] = true
			}
		}
	}
	return cited
}

// tradeWords are the words of models', features' and values' names, as plainWord
// has them, but for those that every talk is full of.
func (p *Pass) tradeWords() map[string]bool {
	words := map[string]bool{}
	add := func(name string) {
		for word := range wordsIn(name) {
			if plain := plainWord(word); len(plain) > 3 && !everyday[plain] {
				words[plain] = true
			}
		}
	}
	for _, m := range p.Ref.Models.All() {
		add(m.Title())
	}
	for _, f := range p.Ref.Features.All() {
		add(f.Title())
		for _, v := range f.Values {
			add(f.ValueName(v.ID.Value))
		}
	}
	return words
}

var everyday = map[string]bool{"none": true, "plain": true, "present": true, "absent": true, "place": true, "asked": true, "with": true, "from": true, "number": true, "offered": true, "height": true, "length": true, "centre": true, "card": true}

// wordsIn yields the words of a text: letters, figures and what joins them.
func wordsIn(text string) func(func(string) bool) {
	return strings.FieldsFuncSeq(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '\'' && r != '’' })
}

// plainWord takes capitals, the genitive and the plural off.
func plainWord(word string) string {
	word = strings.ToLower(word)
	for _, ending := range []string{"'s", "’s", "s'", "s’", "s"} {
		if short, found := strings.CutSuffix(word, ending); found {
			return short
		}
	}
	return word
}

// namedIn lists the words of the trade and the years in a text, each once, in its order.
func (s *shared) namedIn(text string, words map[string]bool) []string {
	var named []string
	add := func(word string) {
		if !slices.Contains(named, word) {
			named = append(named, word)
		}
	}
	for word := range wordsIn(text) {
		if words[plainWord(word)] {
			add(strings.ToLower(word))
		}
	}
	for _, m := range edtf.Mentions(text) { // a weight in pounds may be among them
		mention := text[m.From:m.To]
		if slices.ContainsFunc(s.yearsMentioned(mention), edtf.OverRange(s.Ref.Horizon()).Overlaps) {
			add(strings.ToLower(mention))
		}
	}
	return named
}
