package schema

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"yearmark/schema/english"
	"yearmark/schema/transcript"
)

// SourcePlace is one place in a source: what it says there, where one sees or
// hears it, and how far it is to be believed.
type SourcePlace struct {
	Pos         Pos    `yaml:"-"`
	At          Text   `yaml:"at" jsonschema:"required" jsonschema_description:"The place, as citations name it: p. 2, sheet 9, cover; of a recording the time, as in 12:34."`
	Says        Text   `yaml:"says" jsonschema_description:"The words that stand there, to the letter."`
	By          Text   `yaml:"by" jsonschema_description:"Who says so, where several speak or write."`
	Scan        Text   `yaml:"scan" jsonschema_description:"A picture of the page, below the folder pictures: JPEG, PNG or SVG."`
	Region      Region `yaml:"region" jsonschema_description:"The part of the scan that holds the words, in per cent or pixels from its upper left corner: xywh=percent:8,41,46,12."`
	Own         Flag   `yaml:"own" jsonschema_description:"true if the writer saw it, whatever the source as a whole relies on."`
	ReliesOn    []Text `yaml:"relies-on" jsonschema_description:"The sources that this place took its facts from, in place of those of the whole source."`
	Kind        Text   `yaml:"kind" jsonschema:"enum=catalogue,enum=price-list,enum=advertisement,enum=factory-paper,enum=patent,enum=article,enum=book,enum=web,enum=letter,enum=recollection,enum=examined-example,enum=recording,enum=photograph,enum=sale-listing" jsonschema_description:"What it is, where that is another kind than the source's."`
	Hedge       Text   `yaml:"hedge" jsonschema:"enum=fairly,enum=unsure" jsonschema_description:"How sure the speaker or writer was, where they said so: fairly or unsure."`
	CorrectedAt Text   `yaml:"corrected-at" jsonschema_description:"The place at which the speaker or writer mended this slip."`

	locator Locator         // of At
	cue     *transcript.Cue // at that time
}

// Recording is what one hears of a source.
type Recording struct {
	Pos  Pos  `yaml:"-"`
	File Text `yaml:"file" jsonschema_description:"The kept file, below the folder recordings."`
	Link Text `yaml:"link" jsonschema_description:"An http or https address at which it can be heard."`
}

// Shows says how much of a source may leave the folder.
type Shows string

// How much of a source may leave the folder.
const (
	ShowsNone  Shows = "none"  // neither scans, recordings nor words
	ShowsWords Shows = "words" // the words of its places; the default
	ShowsAll   Shows = "all"   // scans and recordings too
)

// MayShow is how much of the source may leave the folder.
func (s *Source) MayShow() Shows {
	if s.Shown.Value == "" {
		return ShowsWords
	}
	return Shows(s.Shown.Value)
}

// Locator is the place read as citations are matched by it.
func (p *SourcePlace) Locator() Locator { return p.locator }

// PlacesAt gives the places of the source that a citation's place covers, in
// the record's order. Of places that lie within each other (p. 6; p. 6,
// footnote) it gives those that are most exact. A citation without a place
// covers none.
func (s *Source) PlacesAt(place string) []*SourcePlace {
	if len(s.Places)+len(s.cues) == 0 || place == "" {
		return nil
	}
	cited := ParseLocator(place)
	var found []*SourcePlace
	exact := 0
	for _, p := range s.EveryPlace() {
		switch n := len(p.locator.parts); {
		case !cited.Within(p.locator) || n < exact:
		case n > exact:
			found, exact = append(found[:0], p), n
		default:
			found = append(found, p)
		}
	}
	return found
}

// SaidBy names who speaks or wrote at the place, by the record or else by a voice tag
// of the transcript; it is empty where neither says so.
func (p *SourcePlace) SaidBy() string {
	if p.By.Value == "" && p.cue != nil {
		return p.cue.Speaker
	}
	return p.By.Value
}

// SpeakerAt is SaidBy, but empty where the whole source is by that person.
func (s *Source) SpeakerAt(p *SourcePlace) string {
	if by := p.SaidBy(); !strings.EqualFold(by, s.By.Value) {
		return by
	}
	return ""
}

// Quoted gives the places that a citation covers and of which something may be
// shown: words, a scan or a recording. It is empty where the source keeps all back.
func (r *Reference) Quoted(c Citation) []*SourcePlace {
	s, ok := r.Sources.Get(c.Source)
	if !ok || s.MayShow() == ShowsNone {
		return nil
	}
	return s.PlacesAt(c.Place)
}

// Quote is what stands or is said at a place.
type Quote struct {
	By    string // who says so, where that is not who made the whole source
	Words string
}

// Words gives what the places say that a citation covers, as far as it may be
// shown, each once and in the record's order.
func (r *Reference) Words(c Citation) []Quote {
	var words []Quote
	for _, p := range r.Quoted(c) {
		s, _ := r.Sources.Get(c.Source)
		if q := (Quote{s.SpeakerAt(p), p.Says.Value}); q.Words != "" && !slices.Contains(words, q) {
			words = append(words, q)
		}
	}
	return words
}

// OneSpeaker gives quotes as one text, and who says all of it; where that is
// more than one person each name stands before the words.
func OneSpeaker(quotes []Quote) (by, words string) {
	for i, q := range quotes {
		if i == 0 {
			by = q.By
		} else if by != q.By {
			return "", eachNamed(quotes)
		}
		words += " " + q.Words
	}
	return by, strings.TrimSpace(words)
}

func eachNamed(quotes []Quote) string {
	list := make([]string, len(quotes))
	for i, q := range quotes {
		if list[i] = q.Words; q.By != "" {
			list[i] = q.By + ": " + q.Words
		}
	}
	return strings.Join(list, " ")
}

// ScansKeptBack names the pictures, below the folder pictures, that are scans
// of sources of which no scans may be shown.
func (r *Reference) ScansKeptBack() map[string]bool {
	kept := map[string]bool{}
	for _, s := range r.Sources.All() {
		if s.MayShow() == ShowsAll {
			continue
		}
		for _, p := range s.Places {
			kept[p.Scan.Value] = true
		}
	}
	return kept
}

// sourcePlace holds one place's keys against each other.
func (d *decoder) sourcePlace(p *SourcePlace) {
	d.picture(p.Scan)
	d.ownIDs("the place", p.ReliesOn)
	p.locator = ParseLocator(p.At.Value)
	if p.locator.fault != "" {
		d.report(CheckMalformedPlace, p.At.Pos, fmt.Sprintf("%q is no time of a recording: %s", english.Clip(p.At.Value, 60), p.locator.fault), "Write minutes and seconds, as in 12:34, or hours too, as in 1:02:03.")
	}
	if !p.Region.Pos.IsZero() && p.Scan.Value == "" && !d.unread(p.Pos, "scan") {
		d.report(CheckMissingKey, p.Region.Pos, "a region stands without its scan", "Add scan: with the picture of the page, below the folder pictures, or delete the region.")
	}
	if p.Own.Value && len(p.ReliesOn) > 0 {
		d.report(CheckMisplacedKey, p.ReliesOn[0].Pos, "a place is both the writer's own and taken from elsewhere", "Keep own where the writer saw it, relies-on where it was copied; where both hold, list the place twice with the words of each.", Place{p.Own.Pos, "own is here"})
	}
	if p.CorrectedAt.Value != "" && ParseLocator(p.CorrectedAt.Value).same(p.locator) {
		d.report(CheckDuplicate, p.CorrectedAt.Pos, "a place is corrected at itself", "Write the place at which the mended words stand.")
	}
	d.scanKind(p.Scan)
}

// scanKind refuses scans that browsers do not show.
func (d *decoder) scanKind(scan Text) {
	switch ext := strings.ToLower(path.Ext(scan.Value)); ext {
	case ".pdf":
		d.report(CheckWrongType, scan.Pos, fmt.Sprintf("the scan %q is a PDF, which is no picture", english.Clip(scan.Value, 60)), "Save the one page as a JPEG or PNG, at about 150 dots to the inch: a PDF reader can export it, or print it to a picture.")
	case ".tif", ".tiff":
		d.report(CheckWrongType, scan.Pos, fmt.Sprintf("the scan %q is a TIFF, which browsers do not show", english.Clip(scan.Value, 60)), "Save it as a JPEG or PNG and keep the TIFF elsewhere.")
	}
}

// recordedAs holds a source's recording, transcript and rights to what they need.
func (d *decoder) recordedAs(s *Source) {
	if r := s.Recording; r != nil {
		d.below(r.File, RecordingsFolder, "recording", "talk-2019.mp3")
		d.address(r.Link)
		if r.File.Value == "" && r.Link.Value == "" && !d.unread(r.Pos, "file", "link") {
			d.report(CheckMissingKey, r.Pos, "a recording has neither file nor link", "Add file: with its name below the folder recordings, or link: with its address.")
		}
	}
	d.below(s.Transcript, RecordingsFolder, "transcript", "talk-2019.vtt")
	if s.MayShow() == ShowsAll && s.Rights.Value == "" && !d.unread(d.top, "rights") {
		d.report(CheckMissingKey, s.Shown.Pos, "all of the source is shown, and nobody is named who may allow it", "Add rights: with the holder and the permission, as in \"Drawn for this register; CC-BY-4.0\", or write shown: words.")
	}
}
