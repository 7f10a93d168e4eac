package schema

import (
	"cmp"
	"slices"
)

// Sureness is how sure the observer of a feature was.
type Sureness string

// The degrees of sureness. Sure is the default.
const (
	Sure   Sureness = "sure"
	Fairly Sureness = "fairly"
	Unsure Sureness = "unsure"
)

// Surenesses lists the degrees, surest first.
var Surenesses = []Sureness{Sure, Fairly, Unsure}

// Example is one surviving bow that someone examined.
type Example struct {
	Head       `yaml:"-"`
	Name       Text           `yaml:"name" jsonschema_description:"A short name, if it has one."`
	Model      Text           `yaml:"model" jsonschema_description:"The file name of its model's record, where known."`
	Either     []Text         `yaml:"either" jsonschema_description:"The models of which it is one, where nobody can tell which; it then has no model, is dated over all of these, and teaches none."`
	Seen       Span           `yaml:"seen" jsonschema_description:"The day it was examined."`
	By         Text           `yaml:"by" jsonschema_description:"Who examined it."`
	Observed   []*Observed    `yaml:"observed" jsonschema_description:"What was seen on it."`
	WeightMark Text           `yaml:"weight-mark" jsonschema_description:"The draw weight as stamped, to the letter."`
	Documented *Documented    `yaml:"documented" jsonschema_description:"Its year by a paper that came with it."`
	Attributed []*Attribution `yaml:"attributed" jsonschema_description:"What others hold its year to be; never evidence."`
	Condition  []*Condition   `yaml:"condition" jsonschema_description:"Its state, part by part."`
	Setup      *Setup         `yaml:"setup" jsonschema_description:"How its owner sets it up; no evidence of its year."`
	History    []*Event       `yaml:"history" jsonschema_description:"What is known to have been done to it."`
	Sales      []*Sale        `yaml:"sales" jsonschema_description:"Sales that were public."`
	Pictures   []*Shown       `yaml:"pictures" jsonschema_description:"Its photographs."`
	Submitted  *Submitted     `yaml:"submitted" jsonschema_description:"How it came in, where a visitor of the site sent it."`
	Formerly   []Text         `yaml:"formerly" jsonschema_description:"Names that this record had: their addresses lead on to it."`
	Private    []PrivateKey   `yaml:"private" jsonschema_description:"What must not leave the folder: owner, price, serial number …"`
}

// Title is the example's name, or "Example" and its identifier.
func (e *Example) Title() string {
	if e.Name.Value != "" {
		return e.Name.Value
	}
	return "Example " + e.ID
}

// Submitted says how an example was received that a visitor of the site sent.
type Submitted struct {
	Pos      Pos  `yaml:"-"`
	On       Span `yaml:"on" jsonschema:"required" jsonschema_description:"The day on which the visitor saved it."`
	Edition  Text `yaml:"edition" jsonschema_description:"The edition by which the visitor's page dated it."`
	Note     Text `yaml:"note" jsonschema_description:"What the visitor wrote, as plain text."`
	Sum      Text `yaml:"sum" jsonschema_description:"A checksum of what was sent, so that nothing is filed twice."`
	Reviewed Span `yaml:"reviewed" jsonschema_description:"The day on which the editor looked it over; until then it is unreviewed."`
}

// Unreviewed says that the example came from a visitor and the editor has not
// looked it over yet.
func (e *Example) Unreviewed() bool { return e.Submitted != nil && e.Submitted.Reviewed.IsZero() }

// Observed is one feature as seen. Several values mean that the observer
// cannot tell which of them it is.
type Observed struct {
	Pos     Pos    `yaml:"-"`
	Feature Text   `yaml:"feature" jsonschema:"required" jsonschema_description:"The feature looked at."`
	Value   []Text `yaml:"value" jsonschema:"required" jsonschema_description:"What was seen; several in brackets if it is one of them, something-else if it is none; of a number a figure or a range, as in 30..40."`
	Sure    Text   `yaml:"sure" jsonschema:"enum=sure,enum=fairly,enum=unsure" jsonschema_description:"sure (the default), fairly or unsure."`
	Note    Text   `yaml:"note" jsonschema_description:"A remark."`
	// Original is false of what an owner changed or set, which is no evidence of the year.
	Original Flag `yaml:"original" jsonschema_description:"false if it is known to be an owner's work: shown, and no evidence."`
}

// OwnersWork says that what was seen is known not to be the maker's.
func (o *Observed) OwnersWork() bool { return !o.Original.Pos.IsZero() && !o.Original.Value }

// Sureness is the observer's, Sure where the record gives none.
func (o *Observed) Sureness() Sureness {
	if o.Sure.Value == "" {
		return Sure
	}
	return Sureness(o.Sure.Value)
}

// Documented is a year that papers give for an example.
type Documented struct {
	Pos   Pos        `yaml:"-"`
	Span  Span       `yaml:"span" jsonschema:"required" jsonschema_description:"The year it was made."`
	Cites []Citation `yaml:"cites" jsonschema:"required" jsonschema_description:"The receipt, letter or label that says so."`
}

// Attribution is somebody's opinion of an example's year.
type Attribution struct {
	Pos   Pos        `yaml:"-"`
	Span  Span       `yaml:"span" jsonschema:"required" jsonschema_description:"The years they hold it to be of."`
	By    Text       `yaml:"by" jsonschema:"required" jsonschema_description:"Whose opinion it is."`
	From  []Text     `yaml:"from" jsonschema_description:"The features they go by."`
	Cites []Citation `yaml:"cites" jsonschema_description:"Where they say so."`
}

// Setup is how an owner sets a bow up.
type Setup struct {
	Pos          Pos   `yaml:"-"`
	Brace        Range `yaml:"brace" jsonschema_description:"The brace height, as in 7 1/4 in."`
	String       Range `yaml:"string" jsonschema_description:"The string's length, as in 62 in."`
	NockingPoint Text  `yaml:"nocking-point" jsonschema_description:"Where the nocking point is."`
	Arrow        Text  `yaml:"arrow" jsonschema_description:"The arrow that it shoots."`
	Shot         Text  `yaml:"shot" jsonschema_description:"How it shoots, and at what draw."`
}

// Event is something that was done to a bow, or happened to it.
type Event struct {
	Pos   Pos        `yaml:"-"`
	On    Span       `yaml:"on" jsonschema_description:"When, as in 2019-05."`
	What  Text       `yaml:"what" jsonschema:"required" jsonschema_description:"What was done."`
	Cites []Citation `yaml:"cites" jsonschema_description:"Who says so."`
}

// Sale is one public sale of a bow. It is no valuation.
type Sale struct {
	Pos   Pos        `yaml:"-"`
	On    Span       `yaml:"on" jsonschema:"required" jsonschema_description:"When it was sold."`
	Price Range      `yaml:"price" jsonschema_description:"What it fetched, as in USD 240 or £14 10s 6d."`
	Cites []Citation `yaml:"cites" jsonschema_description:"Where that stood."`
}

// Condition is the state of one part, in words, by its kind of fault, or both.
// For which faults a bow is not to be strung, package bench says.
type Condition struct {
	Pos   Pos  `yaml:"-"`
	Part  Text `yaml:"part" jsonschema:"required" jsonschema_description:"The part."`
	State Text `yaml:"state" jsonschema_description:"Its state in words."`
	Fault Text `yaml:"fault" jsonschema:"enum=crack,enum=lifting,enum=twist,enum=delamination,enum=loose,enum=worn,enum=missing,enum=repaired" jsonschema_description:"The kind of fault, if it is one: crack, lifting, twist, delamination, loose, worn, missing or repaired."`
	Found Text `yaml:"found" jsonschema:"enum=strung,enum=unstrung" jsonschema_description:"How the bow was found: strung or unstrung."`
}

// Words is the state with the kind of fault and how the bow was found.
func (c *Condition) Words() string {
	words := cmp.Or(c.State.Value, c.Fault.Value)
	if c.State.Value != "" && c.Fault.Value != "" {
		words += " (" + c.Fault.Value + ")"
	}
	if c.Found.Value != "" {
		words += ", found " + c.Found.Value
	}
	return words
}

// Faults gives the kinds of fault on record, each once, in the record's order.
func (e *Example) Faults() []string {
	var kinds []string
	for _, c := range e.Condition {
		if kind := c.Fault.Value; kind != "" && !slices.Contains(kinds, kind) {
			kinds = append(kinds, kind)
		}
	}
	return kinds
}

// Shown is one picture and what it shows.
type Shown struct {
	Pos   Pos  `yaml:"-"`
	File  Text `yaml:"file" jsonschema:"required" jsonschema_description:"The file below the folder pictures."`
	Shows Text `yaml:"shows" jsonschema_description:"What it shows, for people who cannot see it."`
}

// PrivateKey is one thing that never leaves the folder. In YAML they are the
// keys and values of one mapping.
type PrivateKey struct {
	Key   Text
	Value Text
}
