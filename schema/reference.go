package schema

import (
	"fmt"
	"iter"
	"slices"
	"strconv"
	"strings"

	"yearmark/schema/edtf"
)

// Reference is one folder of records: what is checked and published together.
type Reference struct {
	Folder   string // as the caller named it
	Settings Settings
	Makers   Collection[*Maker]
	Models   Collection[*Model]
	Features Collection[*Feature]
	Sources  Collection[*Source]
	Examples Collection[*Example]
	Pages    Collection[*Page]
	Media
}

// Media lists a reference's files that are no records.
type Media struct {
	Pictures   []string // below the folder pictures, sorted
	Recordings []string // recordings and transcripts, below the folder recordings, sorted
}

// Settings is what reference.yaml says.
type Settings struct {
	Pos       Pos       `yaml:"-"`
	Source    []byte    `yaml:"-"` // the file as read
	Name      Text      `yaml:"name" jsonschema:"required" jsonschema_description:"The name of the reference."`
	Editor    Text      `yaml:"editor" jsonschema_description:"Who keeps it."`
	Language  Text      `yaml:"language" jsonschema_description:"The language of its prose, as in en."`
	PublicURL Text      `yaml:"address" jsonschema_description:"Its public address, if it has one."`
	Licence   Text      `yaml:"licence" jsonschema_description:"The licence of its text and data, as in CC-BY-4.0."`
	Years     Span      `yaml:"years" jsonschema:"required" jsonschema_description:"The years within which anything can fall, as in 1930/1985."`
	Edition   Span      `yaml:"edition" jsonschema_description:"The date printed on this edition; else the newest date in the records."`
	Judgement Judgement `yaml:"judgement" jsonschema_description:"The editor's defaults, all printed on the site."`
}

// Judgement holds the editor's defaults. Each has a value where reference.yaml is silent.
type Judgement struct {
	Pos        Pos                   `yaml:"-"`
	Circa      Whole                 `yaml:"circa" within:"0..50" jsonschema_description:"Years that ~ may be out by (default 2)."`
	Changeover Whole                 `yaml:"changeover" within:"0..20" jsonschema_description:"Years that two values of one feature may overlap at a change (default 1)."`
	Credence   map[SourceKind]Number `yaml:"credence" within:"0..1" jsonschema_description:"How far each kind of source is believed, from 0 to 1; no source by itself gives more than .999."`
	Looseness  map[string]Number     `yaml:"looseness" within:"0..1" jsonschema_description:"How often a bow departs from the maker's habit: firm, usual, loose."`
	Temper     Number                `yaml:"temper" within:"0<..1" jsonschema_description:"The power on the joint likelihood (default 1)."`
	Unrecorded Number                `yaml:"unrecorded" within:"0..0.99" jsonschema_description:"The chance, before anything is seen, that a bow is of no model on record (default 0.10); 0 leaves that out."`
	Teach      Teaching              `yaml:"teach" jsonschema_description:"How dated examples and counts teach; a weight of 0 turns it off."`
}

// Teaching says how what was met with on dated bows stands beside what is claimed.
type Teaching struct {
	Pos    Pos    `yaml:"-"`
	Weight Number `yaml:"weight" within:"0..1000" jsonschema_description:"How many dated bows the claims are worth (default 1); 0 for no teaching."`
	Years  Whole  `yaml:"years" within:"0..20" jsonschema_description:"Over how many years a dated bow is blurred, to either side (default 3)."`
	Steps  Whole  `yaml:"steps" within:"0..20" jsonschema_description:"Over how many steps a figure is blurred, to either side (default 2)."`
}

// DefaultJudgement is what holds where a reference says nothing: editorial
// judgement, not fact.
func DefaultJudgement() Judgement {
	return Judgement{
		Circa: Whole{Value: 2}, Changeover: Whole{Value: 1}, Temper: Number{Value: 1}, Unrecorded: Number{Value: .10},
		Teach: Teaching{Weight: Number{Value: 1}, Years: Whole{Value: 3}, Steps: Whole{Value: 2}}, // chosen by dating.TestOpenData
		Credence: map[SourceKind]Number{
			FactoryPaper: {Value: .99}, Catalogue: {Value: .98}, PriceList: {Value: .97}, Patent: {Value: .97},
			Advertisement: {Value: .95}, ExaminedExample: {Value: .90}, Book: {Value: .85}, Article: {Value: .80},
			Letter: {Value: .75}, Web: {Value: .60}, Recollection: {Value: .60},
			Photograph: {Value: .90}, Recorded: {Value: .75}, SaleListing: {Value: .55},
		},
		Looseness: map[string]Number{"firm": {Value: .01}, "usual": {Value: .05}, "loose": {Value: .20}},
	}
}

// Horizon is the years within which anything can fall.
func (r *Reference) Horizon() edtf.Range {
	first, okFirst := r.Settings.Years.Earliest()
	last, okLast := r.Settings.Years.Latest()
	if !okFirst || !okLast {
		return edtf.Range{First: 1850, Last: 2030}
	}
	return edtf.Range{First: first, Last: last}
}

// Years gives the years of a span that belongs to no model.
func (r *Reference) Years(span Span) edtf.Years {
	return span.Years(edtf.Frame{Horizon: r.Horizon(), Circa: r.Settings.Judgement.Circa.Value})
}

// Records gives every record: makers, models, features, sources, examples, pages, each in order of identifier.
func (r *Reference) Records() []Record {
	var all []Record
	for _, k := range kindTable {
		all = k.recordList(r).appendTo(all)
	}
	return all
}

// RecordsOf gives the records of one kind in order of identifier; none of a kind
// that is not one of Kinds.
func (r *Reference) RecordsOf(k Kind) []Record {
	if row := k.row(); row != nil {
		return row.recordList(r).appendTo(nil)
	}
	return nil
}

// Record gives the record of a kind and identifier.
func (r *Reference) Record(k Kind, id string) (Record, bool) {
	if row := k.row(); row != nil {
		return row.recordList(r).get(id)
	}
	return nil, false
}

// ClaimNamed finds "padauk-riser" in the record itself, which may be nil,
// "plover/padauk-riser" in a model and "makers/halvane/trading" in a maker.
func (r *Reference) ClaimNamed(name string, within Record) (*Claim, bool) {
	if maker, claim, ok := strings.Cut(strings.TrimPrefix(name, "makers/"), "/"); ok && strings.HasPrefix(name, "makers/") {
		if within, ok = r.Record(KindMaker, maker); !ok {
			return nil, false
		}
		name = claim
	} else if model, claim, ok := strings.Cut(name, "/"); ok {
		if within, ok = r.Record(KindModel, model); !ok {
			return nil, false
		}
		name = claim
	}
	if m, ok := within.(*Model); ok {
		return m.Claim(name)
	}
	for _, c := range ClaimsOf(within) {
		if c.Anchor() == name {
			return c, true
		}
	}
	return nil, false
}

func (s *Collection[R]) appendTo(all []Record) []Record {
	all = slices.Grow(all, len(s.list))
	for _, r := range s.list {
		all = append(all, r)
	}
	return all
}

// NextNumber gives the number after the highest that an example has, or one of
// the further identifiers, with as many digits: four at least.
func (r *Reference) NextNumber(further ...string) string {
	highest, digits := 0, 4
	note := func(id string) {
		if n, err := strconv.Atoi(id); err == nil && n > highest {
			highest, digits = n, max(digits, len(id))
		}
	}
	for _, e := range r.Examples.All() {
		note(e.ID)
	}
	for _, id := range further {
		note(id)
	}
	return fmt.Sprintf("%0*d", digits, highest+1)
}

// CitationTitle gives the name for people of what a citation points at, or its identifier where nothing is there.
func (r *Reference) CitationTitle(c Citation) string {
	if cited, ok := r.Cited(c.Source); ok {
		return cited.Title()
	}
	return c.Source
}

// ClaimsOn gives what is claimed of a model's features and specs: its own
// claims, then those of its maker that hold for it. The caller must not change it.
func (r *Reference) ClaimsOn(m *Model) []*Claim {
	all := slices.Concat(m.Features, m.Specs)
	maker, known := r.Makers.Get(m.Maker.Value)
	if !known {
		return all
	}
	for _, list := range [...][]*Claim{maker.Features, maker.Specs} {
		for _, c := range list {
			if c.HoldsFor(m) {
				all = append(all, c)
			}
		}
	}
	return all
}

// Claims yields every claim: those of the models, then those of the makers.
func (r *Reference) Claims() iter.Seq[*Claim] {
	return func(yield func(*Claim) bool) {
		stopped := func(c *Claim) bool { return !yield(c) }
		for _, m := range r.Models.All() {
			if slices.ContainsFunc(m.Claims(), stopped) {
				return
			}
		}
		for _, m := range r.Makers.All() {
			if slices.ContainsFunc(m.Claims(), stopped) {
				return
			}
		}
	}
}

// Days gives the days that records name, with the record: bows seen, pages copied, disputes settled.
func (r *Reference) Days() iter.Seq2[Record, Span] {
	return func(yield func(Record, Span) bool) {
		for _, e := range r.Examples.All() {
			if !yield(e, e.Seen) {
				return
			}
		}
		for _, s := range r.Sources.All() {
			if s.Copied != nil && !yield(s, s.Copied.On) {
				return
			}
		}
		for _, m := range r.Models.All() {
			for _, c := range m.Claims() {
				if c.Settled != nil && !yield(m, c.Settled.On) {
					return
				}
			}
		}
	}
}

// Cited gives what a citation names: a source or, by "example-ID", an example.
func (r *Reference) Cited(name string) (Record, bool) {
	if s, ok := r.Sources.Get(name); ok {
		return s, true
	}
	if id, ok := (Citation{Source: name}).ExampleID(); ok {
		if e, ok := r.Examples.Get(id); ok {
			return e, true
		}
	}
	return nil, false
}

// MakerOf gives the maker of an example's model, or nil where it is not known.
func (r *Reference) MakerOf(e *Example) *Maker {
	m, known := r.Models.Get(e.Model.Value)
	if !known {
		return nil
	}
	maker, _ := r.Makers.Get(m.Maker.Value)
	return maker
}
