package pages

import (
	"net/url"
	"strings"

	"yearmark/schema"
	"yearmark/site/prose"
)

// quotes is what the citations of one page open, each place once.
type quotes struct {
	list  []boxView
	known map[schema.Citation]string // by citation without its position: the box
}

// boxView is what one citation opens: the words of the places that it covers.
type boxView struct {
	ID, Title, Href string
	Quotes          []quoteView
}

// quoteView is one place in a source: its words, and the picture or sound of them.
type quoteView struct {
	At        string
	Words     []string // paragraphs
	Cut       pictureView
	Scan      scanView
	Recording soundView
	Remarks   []string // who saw it, how sure they were
}

// soundView is a recording from one second on.
type soundView struct {
	Src  string // with the time as a media fragment; empty where none is kept
	Link string // where it can be heard elsewhere
	From string // "12:34"
}

// open gives the box that a citation opens, or nothing where there is nothing to
// show. href leads to its place.
func (q *quotes) open(p *page, s *schema.Source, c schema.Citation, href string) string {
	c.Pos = schema.Pos{}
	if id, known := q.known[c]; known {
		return id
	}
	box := boxView{ID: "Says" + number(len(q.list)+1), Title: s.Title() + ", " + c.Place, Href: href}
	for _, place := range p.ref.Quoted(c) {
		if quote := p.quote(s, place); !quote.empty() {
			quote.Scan = scanView{} // the source's page has it
			box.Quotes = append(box.Quotes, quote)
		}
	}
	if q.known == nil {
		q.known = map[schema.Citation]string{}
	}
	if len(box.Quotes) == 0 {
		box.ID = ""
	} else {
		q.list = append(q.list, box)
	}
	q.known[c] = box.ID
	return box.ID
}

// quotesOf gives what a citation opens on a page that a script makes.
func (s *Site) quotesOf(c schema.Citation) []Quote {
	source, known := s.ref.Sources.Get(c.Source)
	if !known {
		return nil
	}
	p := s.page("")
	var list []Quote
	for _, place := range s.ref.Quoted(c) {
		v := p.quote(source, place)
		if len(v.Words) > 0 || v.Cut.Src != "" || v.Recording.Src != "" {
			list = append(list, Quote{v.Words, v.Cut.Src, v.Cut.Width, v.Cut.Height, v.Cut.Alt, v.Recording.Src, v.Remarks})
		}
	}
	return list
}

func (q quoteView) empty() bool {
	return len(q.Words) == 0 && q.Cut.Src == "" && q.Scan.Picture.Src == "" && q.Recording == soundView{}
}

// quote shows one place of a source, as far as it may be shown.
func (p *page) quote(s *schema.Source, place *schema.SourcePlace) quoteView {
	v := quoteView{At: place.At.Value}
	if s.MayShow() == schema.ShowsNone {
		return v
	}
	v.Words = paragraphs(place.Says.Value)
	alt := "The words at " + place.At.Value
	if len(v.Words) == 0 {
		alt = place.At.Value + " of " + s.Title()
	}
	v.Cut, _ = p.cutOf(place, alt)
	v.Scan, _ = p.scan(place, place.At.Value+" of "+s.Title())
	v.Recording = p.sound(s, place)
	v.Remarks = p.remarks(s, place)
	return v
}

// paragraphs parts a text at its line ends.
func paragraphs(text string) []string {
	var list []string
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" {
			list = append(list, line)
		}
	}
	return list
}

// remarks says what bears on how far a place is believed.
func (p *page) remarks(s *schema.Source, place *schema.SourcePlace) []string {
	var list []string
	add := func(yes bool, words string) {
		if yes {
			list = append(list, words)
		}
	}
	witness := "writer"
	if s.Heard() {
		witness = "speaker"
	}
	by := s.SpeakerAt(place)
	said := "Said"
	if witness == "writer" {
		said = "Written"
	}
	add(by != "", said+" by "+strings.TrimSuffix(by, ".")+".")
	add(place.Own.Value, "The "+witness+" saw it.")
	var from []string
	for _, id := range place.ReliesOn {
		from = append(from, p.ref.CitationTitle(schema.Citation{Source: id.Value}))
	}
	add(len(from) > 0, "Taken from "+strings.Join(from, "; ")+".")
	add(place.Kind.Value != "", "Here it is "+article(kindWords[schema.SourceKind(place.Kind.Value)])+".")
	add(place.Hedge.Value == "fairly", "Said as fairly sure.")
	add(place.Hedge.Value == "unsure", "Said as unsure.")
	add(place.CorrectedAt.Value != "", "A slip, mended at "+place.CorrectedAt.Value+": it counts for nothing.")
	return list
}

// article puts "a" or "an" before a word.
func article(word string) string {
	if word != "" && strings.ContainsRune("aeiou", rune(word[0])) {
		return "an " + word
	}
	return "a " + word
}

// sound plays the recording of a source from a place that is a time.
func (p *page) sound(s *schema.Source, place *schema.SourcePlace) (v soundView) {
	span, timed := place.Locator().Time()
	if !timed || s.Recording == nil || s.MayShow() == schema.ShowsNone {
		return v
	}
	fragment := "#" + span.Fragment()
	v.From = place.At.Value
	if name := p.recordingOf(s); name != "" {
		v.Src = p.to(recordingsFolder+name) + fragment
	} else if link := s.Recording.Link.Value; prose.Outside(link) {
		if u, err := url.Parse(link); err == nil && u.Fragment == "" {
			link += fragment
		}
		v.Link = link
	} else {
		return soundView{}
	}
	return v
}

// recording is a source's recording as a whole.
func (p *page) recording(s *schema.Source) (v soundView) {
	if s.Recording == nil || s.MayShow() == schema.ShowsNone {
		return v
	}
	if name := p.recordingOf(s); name != "" {
		v.Src = p.to(recordingsFolder + name)
	} else if prose.Outside(s.Recording.Link.Value) {
		v.Link = s.Recording.Link.Value
	}
	return v
}
