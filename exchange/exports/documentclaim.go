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
	When     []Premise     `json:"when,omitempty" jsonschema_description:"What other features must be for it to hold; all of these."`
	Except   []string      `json:"except,omitempty" jsonschema_description:"Of a maker's claim about all its models: those for which it does not hold."`
	Counted  []Count       `json:"counted,omitempty" jsonschema_description:"How many bows of a year a source counted with the value."`
	Held     string        `json:"held,omitempty" jsonschema:"enum=firm,enum=usual,enum=loose" jsonschema_description:"How strictly the maker kept to it."`

	Stated  *Years  `json:"stated" jsonschema_description:"The years as its record states them, cut to the made span; null where none is possible."`
	Years   *Years  `json:"years" jsonschema_description:"The years after all that bears on them; null where none is possible."`
	Derived []Bound `json:"derived,omitempty" jsonschema_description:"Each year that no record states, and what it follows from."`

	Cites      []Citation  `json:"cites" jsonschema_description:"Who says so, sightings included."`
	Against    []Citation  `json:"against,omitempty" jsonschema_description:"Who says otherwise."`
	Assessment Assessment  `json:"assessment" jsonschema_description:"Who says so, who says otherwise, and how far it is believed."`
	Settled    *Settlement `json:"settled,omitempty" jsonschema_description:"How a dispute was decided."`
	Disputed   bool        `json:"disputed,omitempty" jsonschema_description:"The dispute is open."`
	With       []string    `json:"disputed-with,omitempty" jsonschema_description:"The claims that it is disputed with, as the record names them."`
	Note       string      `json:"note,omitempty" jsonschema_description:"A remark."`
}

// Count is how many bows had a value, of how many.
type Count struct {
	Year  int        `json:"year"`
	With  int        `json:"with"`
	Of    int        `json:"of"`
	Cites []Citation `json:"cites,omitempty" jsonschema_description:"Who counted; the claim's own citations where they are absent."`
}

// Premise is a feature and the values of which it must have one.
type Premise struct {
	Feature string   `json:"feature"`
	Values  []string `json:"values" jsonschema_description:"Of a number one range, which may be open at one end: ..39 lb."`
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

// Assessment is how far a claim is believed, and by how many independent witnesses.
type Assessment struct {
	Credence  float64 `json:"credence" jsonschema:"minimum=0,maximum=1" jsonschema_description:"How far it is believed: judgement in figures."`
	For       Side    `json:"for" jsonschema_description:"Who says so."`
	Against   *Side   `json:"against,omitempty" jsonschema_description:"Who says otherwise."`
	Doubted   bool    `json:"doubted,omitempty" jsonschema_description:"Its span is written in doubt, which halves its credence."`
	Estimated bool    `json:"estimated,omitempty" jsonschema_description:"Worked out from the likeliest ways alone, since too many sources are shared."`
}

// Side is one side of a claim.
type Side struct {
	Witnesses int       `json:"witnesses" jsonschema_description:"Independent witnesses: the most ways back to origins that share no source."`
	Chance    float64   `json:"chance" jsonschema:"minimum=0,maximum=1" jsonschema_description:"That some way back consists of reliable sources only."`
	Citations []Support `json:"citations"`
}

// Support is one citation and what it goes back to.
type Support struct {
	Citation
	Chance float64 `json:"chance" jsonschema:"minimum=0,maximum=1" jsonschema_description:"That some way from it consists of reliable sources only."`
	Ways   []Way   `json:"ways" jsonschema_description:"From it to origins, the likeliest first; empty where sources rely on each other alone."`
	More   bool    `json:"more,omitempty" jsonschema_description:"There are more ways than these."`
}

// Way leads from a source cited along what it relies on to an origin.
type Way struct {
	Sources []string `json:"sources" jsonschema_description:"Sources, or examples as example-ID, from the one cited to the origin."`
	Place   string   `json:"place,omitempty" jsonschema_description:"The place whose own entry says where it has its facts from; absent where that is said of the source as a whole."`
}

// Settlement is how a dispute was decided.
type Settlement struct {
	Because string   `json:"because,omitempty"`
	By      string   `json:"by,omitempty"`
	On      string   `json:"on,omitempty"`
	Over    []string `json:"over,omitempty" jsonschema_description:"The claims that are not followed, as the record names them."`
}

// Conflict is statements that cannot all be true.
type Conflict struct {
	Sentence string `json:"sentence"`
	Steps    []Step `json:"steps"`
	Settled  bool   `json:"settled" jsonschema_description:"The editor decided."`
	Disputed bool   `json:"disputed" jsonschema_description:"Marked as disputed."`
}
