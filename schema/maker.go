package schema

// Maker is a firm that made bows.
type Maker struct {
	Head          `yaml:"-"`
	Name          Text           `yaml:"name" jsonschema:"required" jsonschema_description:"The firm's name."`
	Also          []OtherName    `yaml:"also" jsonschema_description:"Other names that people know it by, each with the years and who says so where that is known."`
	Place         Text           `yaml:"place" jsonschema_description:"Where it worked."`
	Trading       *Claim         `yaml:"trading" of:"trading" jsonschema_description:"When it traded."`
	Owners        []*Claim       `yaml:"owners" of:"owner" jsonschema_description:"Who owned it, and when."`
	People        []*Person      `yaml:"people" jsonschema_description:"Who designed, made or owned, and when."`
	Features      []*Claim       `yaml:"features" of:"maker-feature" jsonschema_description:"What holds for every model of this maker, but those excepted."`
	Specs         []*Claim       `yaml:"specs" of:"maker-spec" jsonschema_description:"Published figures that hold for every model of this maker, but those excepted."`
	SpecialOrders *SpecialOrders `yaml:"special-orders" jsonschema_description:"What customers could choose: these features are held loosely then."`
	SaysNothing   []*SaysNothing `yaml:"says-nothing" jsonschema_description:"Features that date none of its bows, and why: they are not asked about."`
	LookFirst     []*Hint        `yaml:"look-first" jsonschema_description:"What practitioners look at first on a bow of this maker, in their order."`
	Namesakes     []*Namesake    `yaml:"namesakes" jsonschema_description:"Other makers of the same or a like name, and how to tell them apart."`
	Missing       []*Gap         `yaml:"missing" jsonschema_description:"What would tell more and never turned up."`
	NeverSeen     []*NeverSeen   `yaml:"never-seen" jsonschema_description:"Values that people who looked never saw on any bow of this maker, but models excepted; shown, and no evidence of the year."`
	Counted       []*Rate        `yaml:"counted" jsonschema_description:"On how many of the bows looked at a value was found, where neither model nor years are said; shown, and no evidence of the year."`
	WeightMarks   []*WeightMarks `yaml:"weight-marks" jsonschema_description:"How this maker's stamped draw weights read; several where the meaning changed, each with its years."`
	Order         []*Order       `yaml:"order" jsonschema_description:"What is known only relatively, across this maker's models."`
	Withdrawn     []*Withdrawn   `yaml:"withdrawn" jsonschema_description:"Claims once published and since taken back."`
	Formerly      []Text         `yaml:"formerly" jsonschema_description:"Names that this record had: their addresses lead on to it."`
}

// Person is somebody of a firm.
type Person struct {
	Pos   Pos        `yaml:"-"`
	Name  Text       `yaml:"name" jsonschema:"required" jsonschema_description:"The person's name."`
	Role  Text       `yaml:"role" jsonschema:"required,enum=designer,enum=bowyer,enum=owner" jsonschema_description:"What they were: designer, bowyer or owner."`
	Span  Span       `yaml:"span" jsonschema_description:"In which years, in EDTF."`
	Note  Text       `yaml:"note" jsonschema_description:"A remark."`
	Cites []Citation `yaml:"cites" jsonschema_description:"Who says so."`
}

// Title is the firm's name.
func (m *Maker) Title() string { return m.Name.Value }

// Claims gives what is said of the maker with dates: trading, owners, and what
// holds for its models: features, then specs.
func (m *Maker) Claims() []*Claim {
	var all []*Claim
	if m.Trading != nil {
		all = append(all, m.Trading)
	}
	all = append(all, m.Owners...)
	all = append(all, m.Features...)
	return append(all, m.Specs...)
}

// WeightMarks says what a sign before or after a stamped draw weight adds to it,
// and how far bows ran over or under their stamps. In YAML one may stand without a list.
type WeightMarks struct {
	Pos    Pos        `yaml:"-"`
	Span   Span       `yaml:"span" jsonschema_description:"The years in which they read so, in EDTF; all where none are given."`
	Before []MarkSign `yaml:"before" jsonschema_description:"Signs before the figure, each with what it adds, as in \"•\": -1 lb."`
	After  []MarkSign `yaml:"after" jsonschema_description:"Signs after the figure, each with what it adds."`
	Runs   Range      `yaml:"runs" jsonschema_description:"From how far under to how far over its stamp a bow was when new, as in 0..2 lb for up to two pounds over, -1..1 lb for a pound either way."`
	Cites  []Citation `yaml:"cites" jsonschema_description:"Who says so."`
}

// Signs gives what each sign before or after the figure adds to it, in pounds;
// nothing of a maker whose marks are not recorded.
func (w *WeightMarks) Signs() (before, after map[string]float64) {
	if w == nil {
		return nil, nil
	}
	adds := func(list []MarkSign) map[string]float64 {
		of := map[string]float64{}
		for _, s := range list {
			of[s.Sign.Value] = s.Adds.Low
		}
		return of
	}
	return adds(w.Before), adds(w.After)
}

// MarkSign is one sign and what it adds to the stamped weight. In YAML the
// signs are the keys of a mapping: {"•": -1 lb}.
type MarkSign struct {
	Sign Text
	Adds Range // a single figure
}
