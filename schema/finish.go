package schema

import (
	"fmt"
	"net/url"
	"path"
	"regexp"
	"strings"

	"yearmark/schema/english"
)

func (d *decoder) maker(m *Maker) {
	for i, c := range m.Claims() {
		c.Maker, c.place = m, int32(i+1)
	}
	setAbout(AboutTrading, m.Trading)
	setAbout(AboutOwner, m.Owners...)
	setAbout(AboutFeature, m.Features...)
	setAbout(AboutSpec, m.Specs...)
	for _, c := range m.Claims() {
		d.ownIDs("the claim", c.Except)
	}
	d.claims(m.Claims(), m.Withdrawn, nil)
	d.weightMarks(m.WeightMarks)
	d.orders(m.Order)
}

func setAbout(about About, claims ...*Claim) {
	for _, c := range claims {
		if c != nil {
			c.About = about
		}
	}
}

func (d *decoder) model(m *Model) {
	for i, c := range m.Claims() {
		c.Model, c.place = m, int32(i+1)
	}
	setAbout(AboutMade, m.Made)
	setAbout(AboutEra, m.Eras...)
	setAbout(AboutFeature, m.Features...)
	setAbout(AboutSpec, m.Specs...)
	d.picture(m.Picture)
	d.plate(m.Plate)
	for _, r := range m.Related {
		switch {
		case r.Model.Value == m.ID && m.ID != "":
			d.report(CheckDuplicate, r.Model.Pos, "a model is tied to itself", "Write the other model's file name.")
		case r.How.Value == LookAlike && r.Tell.Value == "" && !d.unread(r.Pos, "tell"):
			d.report(CheckMissingKey, r.Pos, "a look-alike has no key \"tell\"", "Add tell: with how to tell the two apart, as in tell: \"The Dunlin's limbs are wider at the fades\".")
		}
	}
	d.claims(m.Claims(), m.Withdrawn, m.Order)
	d.orders(m.Order)
}

// claims names the claims of a record and looks at each one's years.
func (d *decoder) claims(list []*Claim, withdrawn []*Withdrawn, orders []*Order) {
	d.nameClaims(list, withdrawn)
	placed := map[string]bool{}
	for _, o := range orders {
		placed[o.First.Value], placed[o.Second.Value] = true, true
	}
	for _, c := range list {
		d.years(c, placed[c.ID.Value] || placed[c.Anchor()])
	}
}

// years wants a claim to say when, once; of a claim that an order places beside
// another that may be all that is known.
func (d *decoder) years(c *Claim, placed bool) {
	hasSpan, hasEra := !c.Span.Pos.IsZero(), c.Era.Value != ""
	switch {
	case hasSpan && hasEra:
		d.report(CheckTwoSpans, c.Era.Pos, "the claim has both a span and an era", "Keep one: the era's years, or years of the claim's own.", Place{c.Span.Pos, "the span is here"})
		d.offer(Erase("Keep the era, and take the span out", c.Span.Pos), Erase("Keep the span, and take the era out", c.Era.Pos))
	case hasSpan || hasEra || len(c.Attested) > 0 || d.unread(c.Pos, "span", "era", "attested"):
	case c.Maker != nil && (c.About == AboutFeature || c.About == AboutSpec):
		d.report(CheckNoYears, c.Pos, "the claim does not say in which years it holds", "Add span: with the years, as in 1964/1967, or attested: with the years in which it was seen.")
	case placed && (c.About == AboutFeature || c.About == AboutEra):
	case c.About == AboutFeature || c.About == AboutSpec:
		d.report(CheckNoYears, c.Pos, "the claim does not say in which years it holds", "Add span: with the years, as in 1964/1967; 1964/ where the end is not known, /1967 where the start is not. Or era: with the name of one, or attested: with the years in which it was seen. Where only the order of two features is known, say it under order: and leave the span away.")
	case c.About == AboutEra:
		d.report(CheckNoYears, c.Pos, "an era has no years", "Add span: with the years, as in 1964/1967; 1964/ where the end is not known, /1967 where the start is not. Where only its order to another is known, say it under order: and leave the span away.")
	default:
		d.report(CheckNoYears, c.Pos, fmt.Sprintf("%s has no years", aboutNouns[c.About]), "Add span: with the years, as in 1964/1967.")
	}
	for i := range c.Attested {
		a := &c.Attested[i]
		if !a.Bare {
			continue
		}
		a.Cites = c.Cites
		if len(c.Cites) == 0 {
			d.report(CheckMissingKey, a.Pos, fmt.Sprintf("nobody is named who saw it in %d", a.Year.Value), fmt.Sprintf("Write {year: %d, cites: [\"…\"]}, or give the claim itself cites.", a.Year.Value))
		}
	}
}

func (d *decoder) orders(list []*Order) {
	for _, o := range list {
		between := o.First.Value != "" || o.How.Value != "" || o.Second.Value != "" || d.unread(o.Pos, "first", "how", "second")
		lasting := o.Of.Value != "" || !o.Lasts.IsZero() || d.unread(o.Pos, "of", "lasts")
		switch {
		case between && lasting:
			d.report(CheckMisplacedKey, o.Pos, "the statement mixes two forms", "Write either first, how and second, or of and lasts; two statements for both.")
		case !between && !lasting:
			d.report(CheckMissingKey, o.Pos, "the order statement names no claims", "Write first, how and second, as in {first: oval-mark, how: meets, second: script-mark}, or of and lasts.")
		case between:
			d.wantKeys(o.Pos, "an order statement", []string{"first", "how", "second"}, o.First, o.How, o.Second)
		default:
			d.wantKeys(o.Pos, "an order statement", []string{"of"}, o.Of)
			d.lasts(o)
		}
	}
}

func (d *decoder) wantKeys(at Pos, noun string, names []string, values ...Text) {
	for i, v := range values {
		if v.Value == "" && !d.unread(at, names[i]) {
			d.report(CheckMissingKey, at, fmt.Sprintf("%s has no key %q", noun, names[i]), fmt.Sprintf("Add the key %s: the identifier of a claim, or for how one of the relations such as meets.", names[i]))
		}
	}
}

func (d *decoder) lasts(o *Order) {
	r := o.Lasts
	switch {
	case d.unread(o.Pos, "lasts"):
	case r.IsZero():
		d.report(CheckMissingKey, o.Pos, "an order statement has no key \"lasts\"", "Add lasts: with the number of years, as in 2..3.")
	case r.Unit != "":
		d.report(CheckWrongUnit, r.Pos, fmt.Sprintf("the years of %q have a unit", r.Written), "Leave the unit out: years are meant already.")
	case r.Low < 1 || r.High > 1000 || r.Low != float64(int(r.Low)) || r.High != float64(int(r.High)):
		d.report(CheckOutOfBounds, r.Pos, fmt.Sprintf("%q is not a number of whole years", r.Written), "Write whole years, from 1 to 1000, as in 2..3: a thing made within one year lasts 1.")
	}
}

// picture keeps a picture's path within the folder pictures.
func (d *decoder) picture(t Text) { d.below(t, PicturesFolder, "picture", "woods/padauk.svg") }

// below keeps a file's path within a folder.
func (d *decoder) below(t Text, folder, noun, such string) {
	p := t.Value
	if p == "" || path.Clean("/"+p) == "/"+p && !strings.ContainsAny(p, "\\:") {
		return
	}
	help := fmt.Sprintf("Write the path below the folder %s, with forward slashes, as in %s.", folder, such)
	d.report(CheckOutsideFolder, t.Pos, fmt.Sprintf("the %s %q does not lie in the folder %s", noun, english.Clip(p, 60), folder), help)
}

func (d *decoder) source(s *Source) {
	d.address(s.Link)
	d.ownIDs("the source", s.ReliesOn)
	for _, p := range s.Places {
		d.sourcePlace(p)
	}
	d.recordedAs(s)
	if s.Copied != nil && s.Copied.SHA256.Value != "" && !sha256Form.MatchString(s.Copied.SHA256.Value) {
		d.report(CheckWrongType, s.Copied.SHA256.Pos, "\"sha256\" wants 64 hexadecimal digits", "Copy the whole checksum, 64 of the characters 0 to 9 and a to f.")
	}
}

var sha256Form = regexp.MustCompile(`^[0-9a-fA-F]{64}$`)

// ownIDs refuses a name that is listed twice.
func (d *decoder) ownIDs(noun string, list []Text) {
	first := map[string]Pos{}
	for _, t := range list {
		if at, twice := first[t.Value]; twice {
			d.report(CheckDuplicate, t.Pos, fmt.Sprintf("%s names %q twice", noun, t.Value), "Delete one of the two.", Place{at, "the first is here"})
			continue
		}
		first[t.Value] = t.Pos
	}
}

// maxAddress is the longest address that every browser follows.
const maxAddress = 2000

// address admits http and https, and answers whether it did.
func (d *decoder) address(t Text) bool {
	if t.Value == "" {
		return true
	}
	u, err := url.Parse(t.Value)
	if err == nil && (u.Scheme == "http" || u.Scheme == "https") && u.Hostname() != "" && u.User == nil && len(u.Port()) <= len("65535") && len(t.Value) <= maxAddress {
		return true
	}
	d.report(CheckBadAddress, t.Pos, fmt.Sprintf("%q is not an address that a page may link to", english.Clip(t.Value, 60)), "Write a whole address that begins with https:// or http://, without a name or password in it.")
	return false
}

func (d *decoder) example(e *Example) {
	for _, o := range e.Observed {
		d.ownIDs("the observation", o.Value)
		if o.Value != nil && len(o.Value) == 0 && !d.unread(o.Pos, "value") {
			d.report(CheckMissingKey, o.Pos, "an observation has no value", "Write what was seen, as in value: padauk, or delete the observation.")
		}
	}
	for _, c := range e.Condition {
		if c.State.Value == "" && c.Fault.Value == "" && !d.unread(c.Pos, "state", "fault") {
			d.report(CheckMissingKey, c.Pos, "a condition has neither state nor fault", "Say in words how the part is, as in state: \"slight twist\", or name the kind of fault, as in fault: twist.")
		}
	}
	for _, p := range e.Pictures {
		d.picture(p.File)
	}
	if s := e.Setup; s != nil {
		d.lengthOf("brace", s.Brace)
		d.lengthOf("string", s.String)
	}
	for _, s := range e.Sales {
		if r := s.Price; !r.IsZero() && !r.Unit.IsCurrency() {
			d.report(CheckWrongUnit, r.Pos, fmt.Sprintf("the price %q does not say in which money", r.Written), "Write the currency's three capital letters (ISO 4217) before the figure, as in USD 240, or old British money as £14 10s 6d.")
		}
	}
}

// lengthOf wants a figure of the set-up to be a length.
func (d *decoder) lengthOf(name string, r Range) {
	if !r.IsZero() && r.Unit != Inch && r.Unit != Centimetre && r.Unit != Millimetre {
		d.report(CheckWrongUnit, r.Pos, fmt.Sprintf("%q is no length: %q", name, r.Written), "Write the figure with in, cm or mm, as in 7 1/4 in.")
	}
}
