package schema

import (
	"cmp"
	"slices"
	"strings"
)

// About says what a claim is about.
type About string

// The kinds of dated statement that a record can make.
const (
	AboutMade    About = "made"    // when a model was made
	AboutEra     About = "era"     // a named stretch of a model's life
	AboutFeature About = "feature" // one value of a feature on a model
	AboutSpec    About = "spec"    // a published figure of a model, as a range
	AboutTrading About = "trading" // when a maker traded
	AboutOwner   About = "owner"   // who owned a maker, and when
)

// What a maker's record says of all its models has keys of its own, and is
// then about a feature or a spec like any other claim.
const (
	aboutMakerFeature About = "maker-feature"
	aboutMakerSpec    About = "maker-spec"
)

// Claim is one dated statement with its citations. One type serves every kind
// of statement; the tag `of` says in which kinds a key may be written, and
// `must` in which it has to be.
type Claim struct {
	About About  `yaml:"-"`
	Pos   Pos    `yaml:"-"` // where the statement begins
	Model *Model `yaml:"-"` // the model it belongs to, or nil
	Maker *Maker `yaml:"-"` // the maker it belongs to, or nil
	place int32  // among the claims of its record, from 1; 0 where its record does not hold it

	// ID is permanent once published. Where a record gives none it is made
	// from the feature, the value and, from the second one on, a number; its
	// Pos is then zero. See nameClaims for what keeps a made one stable.
	ID Text `yaml:"id" of:"era feature spec owner maker-feature maker-spec" jsonschema_description:"A permanent name for this claim, in small letters, digits and hyphens."`

	Name    Text  `yaml:"name" of:"era owner" must:"owner" jsonschema_description:"The name of the era or owner, as people say it."`
	Feature Text  `yaml:"feature" of:"feature maker-feature" must:"feature maker-feature" jsonschema_description:"The feature this claim is about: the file name of a record in features."`
	Value   Text  `yaml:"value" of:"feature maker-feature" must:"feature maker-feature" jsonschema_description:"The value claimed. For a text feature, plain words or a pattern."`
	Spec    Text  `yaml:"spec" of:"spec maker-spec" must:"spec maker-spec" jsonschema_description:"The feature of kind number that this range is about."`
	Range   Range `yaml:"range" of:"spec maker-spec" must:"spec maker-spec" jsonschema_description:"Two figures and a unit, as in 30..55 lb or 7 1/4..7 3/4 in."`

	Span     Span          `yaml:"span" of:"made era feature spec trading owner maker-feature maker-spec" jsonschema_description:"The years, in EDTF: 1965, 1964/1967, 1964~/1967, 196X."`
	Era      Text          `yaml:"era" of:"feature spec" jsonschema_description:"An era of this model whose years this claim shares."`
	Attested []Attestation `yaml:"attested" of:"feature spec maker-feature maker-spec" jsonschema_description:"Dated sightings: the claim held in that year at least."`
	Only     Flag          `yaml:"only" of:"feature maker-feature" jsonschema_description:"true if the value is claimed to be found in no other year."`
	Held     Text          `yaml:"held" of:"feature maker-feature" jsonschema:"enum=firm,enum=usual,enum=loose" jsonschema_description:"How strictly the maker kept to it: firm, usual or loose."`

	When    []Premise `yaml:"when" of:"feature spec maker-feature maker-spec" jsonschema_description:"What other features must be for it to hold: a value, several, or a range, as in {draw-weight: ..39 lb}."`
	Except  []Text    `yaml:"except" of:"maker-feature maker-spec" jsonschema_description:"Models of this maker for which the claim does not hold."`
	Counted []Count   `yaml:"counted" of:"feature maker-feature" jsonschema_description:"How many bows of a year a source counted with this value."`

	Cites    []Citation  `yaml:"cites" of:"made era feature spec trading owner maker-feature maker-spec" jsonschema_description:"Who says so: a source and a place in it, as in list-1964, p. 6."`
	Against  []Citation  `yaml:"against" of:"made era feature spec trading owner maker-feature maker-spec" jsonschema_description:"Who says otherwise."`
	Settled  *Settlement `yaml:"settled" of:"made era feature spec trading owner maker-feature maker-spec" jsonschema_description:"How a dispute was decided."`
	Disputed Dispute     `yaml:"disputed" of:"made era feature spec trading owner maker-feature maker-spec" jsonschema_description:"true if the dispute is open, so that both sides are shown; with {with: [claim]} the other claim that it is about."`
	Note     Text        `yaml:"note" of:"made era feature spec trading owner maker-feature maker-spec" jsonschema_description:"A remark shown with the claim."`
}

// Attestation is a dated sighting of a claim: it held in that year at least.
type Attestation struct {
	Pos   Pos        `yaml:"-"`
	Bare  bool       `yaml:"-"` // written as a year alone, resting on the claim's citations
	Year  Whole      `yaml:"year" jsonschema:"required" within:"1..9999" jsonschema_description:"The year of the sighting."`
	Cites []Citation `yaml:"cites" jsonschema:"required" jsonschema_description:"Where it was seen."`
}

// Count is how many bows a source counted with a claim's value, of how many.
type Count struct {
	Pos   Pos        `yaml:"-"`
	Year  Whole      `yaml:"year" jsonschema:"required" within:"1..9999" jsonschema_description:"The year counted."`
	With  Whole      `yaml:"with" jsonschema:"required" within:"0..1000000" jsonschema_description:"How many bows had the value."`
	Of    Whole      `yaml:"of" jsonschema:"required" within:"1..1000000" jsonschema_description:"How many bows were counted in all."`
	Cites []Citation `yaml:"cites" jsonschema_description:"Who counted; the claim's own citations where this is left out."`
}

// Settlement records how a dispute was decided, by whom and when. It covers
// those that it names: what is cited under against, and the claims of Over.
type Settlement struct {
	Pos     Pos    `yaml:"-"`
	Because Text   `yaml:"because" jsonschema_description:"The reason, in a sentence."`
	By      Text   `yaml:"by" jsonschema_description:"Who decided."`
	On      Span   `yaml:"on" jsonschema_description:"The day of the decision, as in 2026-11-02."`
	Over    []Text `yaml:"over" jsonschema_description:"The claims that are not followed: claim in this record, model/claim or makers/maker/claim in another."`
}

// Dispute says that a dispute is open. It covers those that it names: what is
// cited under against, and the claims of With. In YAML it is true, or {with: [claim]}.
type Dispute struct {
	Pos   Pos    `yaml:"-"`
	Value bool   `yaml:"-"`
	With  []Text `yaml:"with" jsonschema:"required" jsonschema_description:"The claims that it is disputed with: claim in this record, model/claim or makers/maker/claim in another."`
}

// Place is the claim's place among the claims of its record, from 0; ok is
// false for a claim that its record does not hold.
func (c *Claim) Place() (place int, ok bool) { return int(c.place) - 1, c.place > 0 }

// Key names the claim in the whole reference: "plover/padauk-riser", or
// "makers/halvane/trading" for what is said of a maker.
func (c *Claim) Key() string {
	if c.Maker != nil {
		return "makers/" + c.Maker.ID + "/" + c.Anchor()
	}
	return c.Model.ID + "/" + c.Anchor()
}

// HoldsFor says whether the claim is one of the model: its own, or one of its
// maker's that speaks of every model and does not except this one.
func (c *Claim) HoldsFor(m *Model) bool {
	if c.Maker == nil {
		return c.Model == m
	}
	return (c.About == AboutFeature || c.About == AboutSpec) && c.Maker.ID == m.Maker.Value &&
		!slices.ContainsFunc(c.Except, func(t Text) bool { return t.Value == m.ID })
}

// Anchor names the claim within its record's page: its identifier, with
// "era-" before it where it is an era.
func (c *Claim) Anchor() string {
	if c.About == AboutEra {
		return "era-" + c.ID.Value
	}
	return c.ID.Value
}

// Address is the claim's permanent place on the published site, relative to its root.
func (c *Claim) Address() string {
	if c.Maker != nil {
		return c.Maker.Address() + "#" + c.Anchor()
	}
	return c.Model.Address() + "#" + c.Anchor()
}

// Statement says what is claimed so that it can be understood away from its
// record: "Plover, riser wood: Padauk". Feature and value are the names of what
// a feature claim or a spec is about, in the words that the caller has for them.
func (c *Claim) Statement(feature, value string) string {
	of := ""
	if c.Model != nil {
		of = c.Model.Title()
	} else if c.Maker != nil {
		of = c.Maker.Title()
	}
	switch c.About {
	case AboutMade, AboutTrading:
		return of + ", " + string(c.About)
	case AboutEra, AboutOwner:
		return of + ", " + string(c.About) + ": " + c.Name.Value
	}
	return of + ", " + feature + ": " + value
}

// Statement is a claim's Statement with the names that the feature's record has.
func (r *Reference) Statement(c *Claim) string {
	name, value := c.FeatureID(), c.Value.Value
	if f, ok := r.Features.Get(name); ok {
		name, value = f.Title(), f.ClaimedName(value)
		if FeatureKind(f.Kind.Value) == Wording {
			value = "“" + value + "”"
		}
	}
	if c.About == AboutSpec {
		value = c.Range.Written
	}
	return c.Statement(name, value)
}

// FeatureID gives the feature that a feature claim or spec is about, else "".
func (c *Claim) FeatureID() string {
	if c.About == AboutSpec {
		return c.Spec.Value
	}
	return c.Feature.Value
}

// Citations gives all that speaks for the claim: its own citations and those
// of its attestations. An attestation that is a bare year rests on the claim's
// own citations, which are not counted again. The caller must not change the slice.
func (c *Claim) Citations() []Citation {
	all := c.Cites[:len(c.Cites):len(c.Cites)]
	for _, a := range c.Attested {
		if !a.Bare {
			all = append(all, a.Cites...)
		}
	}
	return all
}

// madeID is the identifier that a claim without one of its own is given.
func (c *Claim) madeID() string {
	switch c.About {
	case AboutFeature:
		return Slug(c.Feature.Value + "-" + c.Value.Value)
	case AboutSpec:
		return Slug(c.Spec.Value)
	case AboutOwner:
		return Slug("owner-" + c.Name.Value)
	case AboutEra:
		return cmp.Or(Slug(c.Name.Value), string(AboutEra))
	}
	return string(c.About)
}

// Slug makes an identifier of a name: it keeps small letters and digits and
// joins the rest with single hyphens. It is empty where nothing is left.
func Slug(s string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return strings.Trim(b.String(), "-")
}
