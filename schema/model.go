package schema

// Model is one model of bow by one maker.
type Model struct {
	Head      `yaml:"-"`
	Name      Text         `yaml:"name" jsonschema:"required" jsonschema_description:"The model's name."`
	Also      []OtherName  `yaml:"also" jsonschema_description:"Other names that people know it by, each with the years and who says so where that is known."`
	Maker     Text         `yaml:"maker" jsonschema:"required" jsonschema_description:"The file name of its maker's record."`
	Use       []Text       `yaml:"use" jsonschema_description:"What it was sold for: target, field, hunting …"`
	Picture   Text         `yaml:"picture" jsonschema_description:"A drawing or photograph below the folder pictures."`
	Plate     *Plate       `yaml:"plate" jsonschema_description:"A large drawing with pointers to what tells the model and its years."`
	Made      *Claim       `yaml:"made" of:"made" jsonschema:"required" jsonschema_description:"When it was made."`
	Eras      []*Claim     `yaml:"eras" of:"era" jsonschema_description:"Named stretches of its life."`
	Features  []*Claim     `yaml:"features" of:"feature" jsonschema_description:"Which values its features had, and when."`
	Specs     []*Claim     `yaml:"specs" of:"spec" jsonschema_description:"Published figures, as ranges."`
	Order     []*Order     `yaml:"order" jsonschema_description:"What is known only relatively."`
	Related   []*Related   `yaml:"related" jsonschema_description:"Other models it came from or led to."`
	LookFirst []*Hint      `yaml:"look-first" jsonschema_description:"What practitioners look at first on a bow of this model, in their order."`
	NeverSeen []*NeverSeen `yaml:"never-seen" jsonschema_description:"Values that people who looked never saw on bows of this model; shown, and no evidence of the year."`
	Counted   []*Rate      `yaml:"counted" jsonschema_description:"On how many of the bows looked at a value was found, where the years are not said; shown, and no evidence of the year."`
	Output    []*Output    `yaml:"output" jsonschema_description:"How many were made, year by year, where known."`
	Withdrawn []*Withdrawn `yaml:"withdrawn" jsonschema_description:"Claims once published and since taken back."`
	Formerly  []Text       `yaml:"formerly" jsonschema_description:"Names that this record had: their addresses lead on to it."`
}

// Title is the model's name.
func (m *Model) Title() string { return m.Name.Value }

// Claims gives every dated statement of the model: made, eras, features, specs, in the record's order.
func (m *Model) Claims() []*Claim {
	all := make([]*Claim, 0, 1+len(m.Eras)+len(m.Features)+len(m.Specs))
	if m.Made != nil {
		all = append(all, m.Made)
	}
	all = append(all, m.Eras...)
	all = append(all, m.Features...)
	return append(all, m.Specs...)
}

// Claim finds a claim of this model by its identifier. An era answers to its
// own identifier and to "era-" before it.
func (m *Model) Claim(id string) (*Claim, bool) {
	for _, c := range m.Claims() {
		if c.ID.Value == id || c.About == AboutEra && "era-"+c.ID.Value == id {
			return c, true
		}
	}
	return nil, false
}

// Relation names one of Allen's thirteen relations between two spans of whole
// years; [a,b] is read as [a,b+1).
type Relation string

// Allen's thirteen relations, as records write them.
const (
	Before       Relation = "before"
	Meets        Relation = "meets"
	Overlaps     Relation = "overlaps"
	FinishedBy   Relation = "finished-by"
	Contains     Relation = "contains"
	Starts       Relation = "starts"
	Equals       Relation = "equals"
	StartedBy    Relation = "started-by"
	During       Relation = "during"
	Finishes     Relation = "finishes"
	OverlappedBy Relation = "overlapped-by"
	MetBy        Relation = "met-by"
	After        Relation = "after"
)

// Relations lists the thirteen in the order of Allen's table.
var Relations = []Relation{Before, Meets, Overlaps, FinishedBy, Contains, Starts, Equals, StartedBy, During, Finishes, OverlappedBy, MetBy, After}

// Order is what is known only relatively: either how two claims lie (First,
// How, Second), or how many years one of them lasted (Of, Lasts). A claim is
// named by its identifier in the same model, or as "model/claim".
type Order struct {
	Pos      Pos         `yaml:"-"`
	First    Text        `yaml:"first" jsonschema_description:"The claim that the statement begins with."`
	How      Text        `yaml:"how" jsonschema:"enum=before,enum=meets,enum=overlaps,enum=finished-by,enum=contains,enum=starts,enum=equals,enum=started-by,enum=during,enum=finishes,enum=overlapped-by,enum=met-by,enum=after" jsonschema_description:"How the first lies to the second."`
	Second   Text        `yaml:"second" jsonschema_description:"The other claim."`
	Of       Text        `yaml:"of" jsonschema_description:"The claim whose length is known."`
	Lasts    Range       `yaml:"lasts" jsonschema_description:"How many years it lasted, as in 2..3."`
	Cites    []Citation  `yaml:"cites" jsonschema_description:"Who says so."`
	Against  []Citation  `yaml:"against" jsonschema_description:"Who says otherwise."`
	Settled  *Settlement `yaml:"settled" jsonschema_description:"How a dispute was decided."`
	Disputed Dispute     `yaml:"disputed" jsonschema_description:"true if the dispute is open; with {with: [claim]} the claim that it is about."`

	// FirstClaim, SecondClaim and OfClaim are what the names stand for; nil where a name is wrong.
	FirstClaim, SecondClaim, OfClaim *Claim `yaml:"-"`

	home claimant // the record that it stands in
}

// Related ties one model to another.
type Related struct {
	Pos   Pos        `yaml:"-"`
	Model Text       `yaml:"model" jsonschema:"required" jsonschema_description:"The other model's file name."`
	How   Text       `yaml:"how" jsonschema:"required,enum=succeeded-by,enum=successor-of,enum=variant-of,enum=made-beside,enum=above,enum=below,enum=same-line,enum=look-alike" jsonschema_description:"How they are tied; above and below in the maker's range of prices, same-line of one family, look-alike where one is easily taken for the other."`
	Tell  Text       `yaml:"tell" jsonschema_description:"How to tell the two apart: wanted of a look-alike."`
	Cites []Citation `yaml:"cites" jsonschema_description:"Who says so."`
}

// LookAlike is the tie of models that are easily taken for each other.
const LookAlike = "look-alike"

// Output is how many of a model were made within a span.
type Output struct {
	Pos   Pos        `yaml:"-"`
	Span  Span       `yaml:"span" jsonschema:"required" jsonschema_description:"The years counted."`
	Made  Number     `yaml:"made" jsonschema:"required" within:"0..100000000" jsonschema_description:"How many were made in all of them."`
	Cites []Citation `yaml:"cites" jsonschema_description:"Who says so."`
}

// Withdrawn is a claim that was once published and has been taken back.
type Withdrawn struct {
	Pos     Pos  `yaml:"-"`
	ID      Text `yaml:"id" jsonschema:"required" jsonschema_description:"The identifier it was published under."`
	Because Text `yaml:"because" jsonschema:"required" jsonschema_description:"Why it was taken back."`
	On      Span `yaml:"on" jsonschema_description:"The day."`
}
