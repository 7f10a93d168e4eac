package schema

// Kind is the kind of a record, as its key `record` says.
type Kind string

// The record kinds.
const (
	KindMaker   Kind = "maker"
	KindModel   Kind = "model"
	KindFeature Kind = "feature"
	KindSource  Kind = "source"
	KindExample Kind = "example"
	KindPage    Kind = "page"
)

// Kinds lists the record kinds in the order in which people meet them.
var Kinds = func() (all []Kind) {
	for _, k := range kindTable {
		all = append(all, k.kind)
	}
	return all
}()

// Folder is the folder of a kind's records, and of its pages on the site: "makers".
func (k Kind) Folder() string { return string(k) + "s" }

// FileOf is the file of the record of that name, as in "models/plover.md".
func (k Kind) FileOf(id string) string { return k.Folder() + "/" + id + ".md" }

// Record is what all six kinds have in common.
type Record interface {
	Header() *Head
	// Title is the record's name for people.
	Title() string
	// Address is the record's page on the site, relative to its root: "models/plover.html".
	Address() string
}

// Head is what every record has besides its own keys.
type Head struct {
	Kind Kind   `yaml:"-"`
	ID   string `yaml:"-"` // the file name without its ending
	File string `yaml:"-"` // path below the reference's folder
	Body Prose  `yaml:"-"` // the Markdown after the front matter
	// Source is the whole file as read, for showing a finding's line.
	Source []byte `yaml:"-"`

	address string     // as Address gives it; empty of a record that was not read
	public  PublicFile // empty of a record that was not read, or not without a fault
}

// Prose is Markdown with the place where it begins.
type Prose struct {
	Text string
	Pos  Pos
}

// Header gives the head itself, so that a kind that embeds it is a Record.
func (h *Head) Header() *Head { return h }

// Address is the record's page on the site, relative to its root.
func (h *Head) Address() string {
	if h.address != "" {
		return h.address
	}
	return addressOf(h.Kind, h.ID)
}

func addressOf(kind Kind, id string) string { return kind.Folder() + "/" + id + ".html" }

// Pos is the first line of the record's file.
func (h *Head) Pos() Pos { return At(h.File, 1, 1) }

// Collection holds the records of one kind in order of identifier.
type Collection[R Record] struct {
	list     []R
	byID     map[string]R
	replaced bool // a record was put in the place of another of its name
}

// All gives the records in order of identifier. The caller must not change the slice.
func (s *Collection[R]) All() []R { return s.list }

// Get gives the record of that identifier.
func (s *Collection[R]) Get(id string) (R, bool) {
	r, ok := s.byID[id]
	return r, ok
}

func (s *Collection[R]) get(id string) (Record, bool) {
	if r, ok := s.byID[id]; ok {
		return r, true
	}
	return nil, false // of no type either, so that it is nil
}

// Len is the number of records.
func (s *Collection[R]) Len() int { return len(s.list) }
