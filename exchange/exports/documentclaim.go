package exports

// Claim is one dated statement.
type Claim struct {
	Key     string `json:"key" jsonschema_description:"Its permanent name in the whole reference."`
	About   string `json:"about" jsonschema:"enum=made,enum=era,enum=feature,enum=spec,enum=trading,enum=owner" jsonschema_description:"What kind of statement it is."`
	Model   string `json:"model,omitempty" jsonschema_description:"The model it belongs to."`
	Maker   string `json:"maker,omitempty" jsonschema_description:"The maker it belongs to."`
	Address string `json:"address" jsonschema_description:"Its permanent place on the site, relative to the root."`

	Name     string        `json:"name,omitempty" jsonschema_description:"The name of an era or owner."`
	Feature  string        `json:"feature,omitempty" jsonschema_description:"The feature it is about; of a spec, the figure."`
	Value    string        `json:"value,omitempty" jsonschema_description:"The value claimed; of a text feature, words or an RE2 pattern."`
	Range    *Range        `json:"range,omitempty" jsonschema_description:"The figures of a spec."`
	Span     string        `json:"span,omitempty" jsonschema_description:"The years as written, in EDTF."`
	Era      string        `json:"era,omitempty" jsonschema_description:"The era whose years it shares."`
	Attested []Attestation `json:"attested,omitempty" jsonschema_description:"Dated sightings: it held in that year at least."`
	Only     bool          `json:"only,omitempty" jsonschema_description:"Claimed to be found in no other year."`
	Held     string        `json:"held,omitempty" jsonschema:"enum=firm,enum=usual,enum=loose" jsonschema_description:"How strictly the maker kept to it."`

	Stated  *Years  `json:"stated" jsonschema_description:"The years as its record states them, cut to the made span; null where none is possible."`
	Years   *Years  `json:"years" jsonschema_description:"The years after all that bears on them; null where none is possible."`
	Derived []Bound `json:"derived,omitempty" jsonschema_description:"Each year that no record states, and what it follows from."`

	Cites    []Citation  `json:"cites" jsonschema_description:"Who says so, sightings included."`
	Against  []Citation  `json:"against,omitempty" jsonschema_description:"Who says otherwise."`
	Standing Standing    `json:"standing" jsonschema_description:"Who says so, who says otherwise, and how far it is believed."`
	Settled  *Settlement `json:"settled,omitempty" jsonschema_description:"How a dispute was decided."`
	Disputed bool        `json:"disputed,omitempty" jsonschema_description:"The dispute is open."`
	Note     string      `json:"note,omitempty" jsonschema_description:"A remark."`
}

// Years is what a span means in whole years.
type Years struct {
	Shape   string    `json:"shape" jsonschema:"enum=interval,enum=one-of,enum=all-of" jsonschema_description:"interval: from a start to an end. one-of: one unknown year. all-of: the members and no other."`
	Starts  Between   `json:"starts" jsonschema_description:"Between which years it started, both included."`
	Ends    Between   `json:"ends" jsonschema_description:"Between which years it ended, both included."`
	Certain []Stretch `json:"certain" jsonschema_description:"The years of which all are certain; empty where none is."`
	Members []int     `json:"members,omitempty" jsonschema_description:"The years of a one-of or all-of."`
	Words   string    `json:"words" jsonschema_description:"The same for people."`
}

// Between is the first and the last year that something can have been in.
type Between struct {
	Earliest int `json:"earliest"`
	Latest   int `json:"latest"`
}

// Bound is one derived year and its chain.
type Bound struct {
	Side  string `json:"side" jsonschema:"enum=earliest-start,enum=latest-start,enum=earliest-end,enum=latest-end"`
	Year  int    `json:"year"`
	Words string `json:"words" jsonschema_description:"As in: not after 1966."`
	Steps []Step `json:"steps" jsonschema_description:"The statements it follows from, in order."`
}

// Step is one statement of a chain or conflict.
type Step struct {
	Fact  string     `json:"fact"`
	Claim string     `json:"claim,omitempty" jsonschema_description:"The key of the claim it is about."`
	Cites []Citation `json:"cites,omitempty"`
}

// Attestation is a dated sighting.
type Attestation struct {
	Year  int        `json:"year"`
	Cites []Citation `json:"cites"`
}

// Citation is a source, or an example as example-ID, and a place in it.
type Citation struct {
	Source string `json:"source"`
	Place  string `json:"place,omitempty"`
}

// Range is two figures of one unit.
type Range struct {
	Low     float64 `json:"low"`
	High    float64 `json:"high"`
	Unit    string  `json:"unit,omitempty"`
	Written string  `json:"written"`
}

// Standing is who says so, who says otherwise, and how far it is believed.
type Standing struct {
	Credence float64   `json:"credence" jsonschema:"minimum=0,maximum=1" jsonschema_description:"How far it is believed: judgement in figures."`
	For      []Witness `json:"for" jsonschema_description:"Independent witnesses for it: sources that rely on no other, examples, rings."`
	Against  []Witness `json:"against,omitempty" jsonschema_description:"Independent witnesses against it."`
	Doubted  bool      `json:"doubted,omitempty" jsonschema_description:"Its span is written in doubt, which halves its credence."`
}

// Witness is one origin; however many citations lead to it, it counts once.
type Witness struct {
	Origin   string     `json:"origin" jsonschema_description:"A source, or an example as example-ID."`
	Ring     []string   `json:"ring,omitempty" jsonschema_description:"The sources of a ring that rely on each other and count as one."`
	Credence float64    `json:"credence" jsonschema:"minimum=0,maximum=1"`
	Cites    []Citation `json:"cites,omitempty" jsonschema_description:"The citations that lead to it."`
}

// Settlement is how a dispute was decided.
type Settlement struct {
	Because string `json:"because,omitempty"`
	By      string `json:"by,omitempty"`
	On      string `json:"on,omitempty"`
}

// Conflict is statements that cannot all be true.
type Conflict struct {
	Sentence string `json:"sentence"`
	Steps    []Step `json:"steps"`
	Settled  bool   `json:"settled" jsonschema_description:"The editor decided."`
	Disputed bool   `json:"disputed" jsonschema_description:"Marked as disputed."`
}
