package schema

// SourceKind is what a source is; its default credence follows from it.
type SourceKind string

// The source kinds.
const (
	Catalogue       SourceKind = "catalogue"
	PriceList       SourceKind = "price-list"
	Advertisement   SourceKind = "advertisement"
	FactoryPaper    SourceKind = "factory-paper"
	Patent          SourceKind = "patent"
	Article         SourceKind = "article"
	Book            SourceKind = "book"
	Web             SourceKind = "web"
	Letter          SourceKind = "letter"
	Recollection    SourceKind = "recollection"
	ExaminedExample SourceKind = "examined-example"
	Recorded        SourceKind = "recording"
	Photograph      SourceKind = "photograph"
	SaleListing     SourceKind = "sale-listing"
)

// SourceKinds lists the kinds in the order of their default credence.
var SourceKinds = []SourceKind{FactoryPaper, Catalogue, PriceList, Patent, Advertisement, ExaminedExample, Photograph, Book, Article, Letter, Recorded, Web, Recollection, SaleListing}

// HasPages says whether a place in the source is expected of every citation.
func (k SourceKind) HasPages() bool {
	switch k {
	case Catalogue, PriceList, Advertisement, Patent, Article, Book:
		return true
	}
	return false
}

// Source is a thing that claims rest on.
type Source struct {
	Head      `yaml:"-"`
	Name      Text        `yaml:"name" jsonschema:"required" jsonschema_description:"The source's title or description."`
	Also      []OtherName `yaml:"also" jsonschema_description:"Other names that people know it by, each with the years and who says so where that is known."`
	Kind      Text        `yaml:"kind" jsonschema:"required,enum=catalogue,enum=price-list,enum=advertisement,enum=factory-paper,enum=patent,enum=article,enum=book,enum=web,enum=letter,enum=recollection,enum=examined-example,enum=recording,enum=photograph,enum=sale-listing" jsonschema_description:"What it is."`
	Credence  Number      `yaml:"credence" within:"0..1" jsonschema_description:"How far it is believed, in place of what holds for its kind: from 0 to 1; no source by itself gives more than .999."`
	By        Text        `yaml:"by" jsonschema_description:"Who wrote or issued it."`
	Issued    Span        `yaml:"issued" jsonschema_description:"When it was issued or written down, in EDTF."`
	ReliesOn  []Text      `yaml:"relies-on" jsonschema_description:"The sources it took its facts from."`
	Kept      Text        `yaml:"kept" jsonschema_description:"Where it can be consulted."`
	Link      Text        `yaml:"link" jsonschema_description:"An http or https address, with a kept copy beside it."`
	Copied    *Copied     `yaml:"copied" jsonschema_description:"The kept copy of what the link showed."`
	Consulted Flag        `yaml:"consulted" jsonschema_description:"false if nobody of the register has seen it."`

	Places     []*SourcePlace `yaml:"places" jsonschema_description:"What stands at its places: the words, the scan, who saw it."`
	Recording  *Recording     `yaml:"recording" jsonschema_description:"What one hears of it."`
	Transcript Text           `yaml:"transcript" jsonschema_description:"The transcript's file, below the folder recordings."`
	Speakers   []Text         `yaml:"speakers" jsonschema_description:"In a transcript without voice tags: the names before a colon that are those of speakers."`
	Mend       []*Mending     `yaml:"mend" jsonschema_description:"What the transcript misheard."`
	Shown      Text           `yaml:"shown" jsonschema:"enum=none,enum=words,enum=all" jsonschema_description:"What may leave the folder: none, words (the default), or all, scans and recordings too."`
	Rights     Text           `yaml:"rights" jsonschema_description:"Who holds the rights, and what they permit."`
	Separate   Flag           `yaml:"separate-places" jsonschema_description:"true if its places do not depend on one another, as the entries of a ledger: a bow that one of them documents is then dated without that place only, not without the whole source."`
	Formerly   []Text         `yaml:"formerly" jsonschema_description:"Names that this record had: their addresses lead on to it."`

	cues       []*SourcePlace // of the transcript, but for those at which Places has one
	transcript []byte
}

// Title is the source's title or description.
func (s *Source) Title() string { return s.Name.Value }

// Heard says that the source is heard, so that its places are times.
func (s *Source) Heard() bool {
	return SourceKind(s.Kind.Value) == Recorded || s.Recording != nil || s.Transcript.Value != ""
}

// Copied says when a copy of a linked page was kept, and its checksum.
type Copied struct {
	Pos    Pos  `yaml:"-"`
	On     Span `yaml:"on" jsonschema:"required" jsonschema_description:"The day of the copy."`
	SHA256 Text `yaml:"sha256" jsonschema_description:"The copy's SHA-256 checksum, 64 hexadecimal digits."`
}
