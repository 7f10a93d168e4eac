package exports

// Version is the version of reference.json's form. It grows when a key changes
// its meaning or goes; new keys do not change it.
const Version = 2

// SchemaName is the name of the file that describes reference.json.
const SchemaName = "reference.schema.json"

// Document is reference.json. Names of keys are those of the records; what is
// worked out has names of its own.
type Document struct {
	Schema    string     `json:"$schema" jsonschema_description:"The file that describes this one."`
	Version   int        `json:"version" jsonschema:"enum=2" jsonschema_description:"The version of this file's form."`
	Name      string     `json:"name" jsonschema_description:"The name of the reference."`
	Editor    string     `json:"editor,omitempty" jsonschema_description:"Who keeps it."`
	Language  string     `json:"language,omitempty" jsonschema_description:"The language of its prose."`
	Address   string     `json:"address,omitempty" jsonschema_description:"Its public address; the addresses below are relative to it."`
	Licence   string     `json:"licence,omitempty" jsonschema_description:"The licence of its text and data."`
	Edition   Edition    `json:"edition" jsonschema_description:"Which published state this is."`
	Horizon   Stretch    `json:"horizon" jsonschema_description:"The years within which anything can fall."`
	Judgement Judgement  `json:"judgement" jsonschema_description:"The editor's judgement behind the figures; not fact."`
	Makers    []Maker    `json:"makers" jsonschema_description:"Firms, by identifier."`
	Models    []Model    `json:"models" jsonschema_description:"Models, by identifier."`
	Claims    []Claim    `json:"claims" jsonschema_description:"Every dated statement: those of the models, then those of the makers."`
	Conflicts []Conflict `json:"conflicts" jsonschema_description:"Every set of statements that cannot all be true, decided or not."`
	Features  []Feature  `json:"features" jsonschema_description:"Properties that one can see or measure on a bow, and published figures."`
	Sources   []Source   `json:"sources" jsonschema_description:"What claims rest on."`
	Examples  []Example  `json:"examples" jsonschema_description:"Bows that were examined, without what is private."`
	Pages     []Page     `json:"pages" jsonschema_description:"Essays."`
}

// Stretch is some years in a row.
type Stretch struct {
	First int `json:"first"`
	Last  int `json:"last"`
}

// Judgement is the editor's.
type Judgement struct {
	Circa      int                `json:"circa" jsonschema_description:"Years that ~ may be out by."`
	Changeover int                `json:"changeover" jsonschema_description:"Years that two values of one feature may overlap at a change."`
	Credence   map[string]float64 `json:"credence" jsonschema_description:"How far each kind of source is believed, from 0 to 1."`
	Looseness  map[string]float64 `json:"looseness" jsonschema_description:"How often a bow departs from the maker's habit."`
	Temper     float64            `json:"temper" jsonschema_description:"The power on the joint likelihood in dating."`
	Unrecorded float64            `json:"unrecorded" jsonschema_description:"The chance, before anything is seen, that a bow is of no model on record."`
	Teach      *Teaching          `json:"teach,omitempty" jsonschema_description:"How bows whose papers date them teach; absent where they do not."`
}

// Teaching is how dated bows teach.
type Teaching struct {
	Weight float64 `json:"weight" jsonschema_description:"How many dated bows the claims are worth."`
	Years  int     `json:"years" jsonschema_description:"Over how many years a bow is spread, to either side."`
	Steps  int     `json:"steps" jsonschema_description:"Over how many steps a figure is spread, to either side."`
}

// Record is what all records have.
type Record struct {
	ID      string `json:"id" jsonschema_description:"The record's identifier, unique in its kind."`
	Name    string `json:"name" jsonschema_description:"Its name for people."`
	Address string `json:"address" jsonschema_description:"Its page, relative to the site's root."`
	Text    string `json:"text,omitempty" jsonschema_description:"Its prose, as Markdown."`
}

// Maker is a firm.
type Maker struct {
	Record
	Also          []string       `json:"also,omitempty" jsonschema_description:"Other names."`
	Called        []OtherName    `json:"called,omitempty" jsonschema_description:"Those of its other names of which the years or who says so are known."`
	Place         string         `json:"place,omitempty"`
	People        []Person       `json:"people,omitempty"`
	SpecialOrders *SpecialOrders `json:"special-orders,omitempty" jsonschema_description:"What customers could choose: these features are held loosely then."`
	SaysNothing   []SaysNothing  `json:"says-nothing,omitempty" jsonschema_description:"Features that date none of its bows, and why."`
	LookFirst     []Hint         `json:"look-first,omitempty" jsonschema_description:"What practitioners look at first, in their order."`
	Namesakes     []Namesake     `json:"namesakes,omitempty" jsonschema_description:"Other makers of a like name."`
	Missing       []Gap          `json:"missing,omitempty" jsonschema_description:"What would tell more and never turned up."`
	NeverSeen     []NeverSeen    `json:"never-seen,omitempty" jsonschema_description:"What people who looked never saw on its bows; no evidence."`
	Counted       []Rate         `json:"counted,omitempty" jsonschema_description:"On how many of its bows values were found, where the years are not said; no evidence."`
	WeightMarks   *WeightMarks   `json:"weight-marks,omitempty" jsonschema_description:"How its stamped draw weights read, where that is the same in all years."`
	Stamps        []WeightMarks  `json:"stamps,omitempty" jsonschema_description:"How its stamped draw weights read: once for all years, or for some years each."`
	Order         []Order        `json:"order,omitempty"`
	Withdrawn     []Withdrawn    `json:"withdrawn,omitempty" jsonschema_description:"Claims once published and taken back."`
}

// OtherName is a name by which something was known in some years, or by some.
type OtherName struct {
	Name  string     `json:"name"`
	Span  string     `json:"span,omitempty" jsonschema_description:"In EDTF."`
	Cites []Citation `json:"cites,omitempty"`
}

// Person is somebody of a firm.
type Person struct {
	Name  string     `json:"name"`
	Role  string     `json:"role" jsonschema:"enum=designer,enum=bowyer,enum=owner"`
	Span  string     `json:"span,omitempty" jsonschema_description:"In EDTF."`
	Note  string     `json:"note,omitempty"`
	Cites []Citation `json:"cites,omitempty"`
}

// NeverSeen is a value that people who looked never saw.
type NeverSeen struct {
	Feature string     `json:"feature"`
	Value   string     `json:"value"`
	When    string     `json:"when,omitempty" jsonschema_description:"What other features are on the bows meant."`
	Span    string     `json:"span,omitempty" jsonschema_description:"Of bows of which years, in EDTF; of all where it is absent."`
	Except  []string   `json:"except,omitempty" jsonschema_description:"Models of which it is not said."`
	Of      int        `json:"of,omitempty" jsonschema_description:"How many were looked at, where that is said."`
	Note    string     `json:"note,omitempty"`
	Cites   []Citation `json:"cites"`
	Against []Citation `json:"against,omitempty" jsonschema_description:"Who has seen one."`
}

// Rate is on how many of the bows looked at a value was found.
type Rate struct {
	Feature string     `json:"feature"`
	Value   string     `json:"value"`
	With    int        `json:"with" jsonschema_description:"How many had it."`
	Of      int        `json:"of" jsonschema_description:"How many were looked at."`
	Note    string     `json:"note,omitempty"`
	Cites   []Citation `json:"cites"`
}

// SpecialOrders is of which features a maker took a customer's wish, and when.
type SpecialOrders struct {
	Features []string   `json:"features"`
	Span     string     `json:"span,omitempty" jsonschema_description:"In EDTF; all of its trading where it is absent."`
	Cites    []Citation `json:"cites,omitempty"`
}

// SaysNothing is a feature that dates none of a maker's bows.
type SaysNothing struct {
	Feature string     `json:"feature"`
	Because string     `json:"because"`
	Cites   []Citation `json:"cites,omitempty"`
}

// WeightMarks is what signs before and after a stamped weight add.
type WeightMarks struct {
	Span   string     `json:"span,omitempty" jsonschema_description:"In which years, in EDTF; in all where it is absent."`
	Before []MarkSign `json:"before,omitempty"`
	After  []MarkSign `json:"after,omitempty"`
	Runs   *Range     `json:"runs,omitempty" jsonschema_description:"From how far under to how far over its stamp a bow was when new."`
	Cites  []Citation `json:"cites,omitempty"`
}

// MarkSign is one sign.
type MarkSign struct {
	Sign string `json:"sign"`
	Adds Range  `json:"adds"`
}

// Model is a model of bow.
type Model struct {
	Record
	Also      []string    `json:"also,omitempty" jsonschema_description:"Other names."`
	Called    []OtherName `json:"called,omitempty" jsonschema_description:"Those of its other names of which the years or who says so are known."`
	Maker     string      `json:"maker" jsonschema_description:"The maker's identifier."`
	Use       []string    `json:"use,omitempty" jsonschema_description:"What it was sold for."`
	Made      Years       `json:"made" jsonschema_description:"The years in which it was made, after all that is known."`
	Plate     *Plate      `json:"plate,omitempty" jsonschema_description:"A drawing with pointers to what tells its years."`
	Order     []Order     `json:"order,omitempty" jsonschema_description:"What is known only relatively."`
	Related   []Related   `json:"related,omitempty"`
	Output    []Output    `json:"output,omitempty" jsonschema_description:"How many were made."`
	LookFirst []Hint      `json:"look-first,omitempty" jsonschema_description:"What practitioners look at first, in their order."`
	NeverSeen []NeverSeen `json:"never-seen,omitempty" jsonschema_description:"What people who looked never saw on it; no evidence. Its maker's are with the maker."`
	Counted   []Rate      `json:"counted,omitempty" jsonschema_description:"On how many of those looked at values were found, where the years are not said; no evidence. Its maker's are with the maker."`
	Withdrawn []Withdrawn `json:"withdrawn,omitempty" jsonschema_description:"Claims once published and taken back."`
}

// Order is what is known only relatively: how two claims lie, by Allen's
// relations between spans of whole years, or how many years one lasted.
type Order struct {
	First   string      `json:"first,omitempty" jsonschema_description:"A claim's key."`
	How     string      `json:"how,omitempty" jsonschema_description:"One of Allen's thirteen relations."`
	Second  string      `json:"second,omitempty" jsonschema_description:"A claim's key."`
	Of      string      `json:"of,omitempty" jsonschema_description:"The claim whose length is known."`
	Lasts   *Range      `json:"lasts,omitempty" jsonschema_description:"How many years it lasted."`
	Cites   []Citation  `json:"cites,omitempty"`
	Against []Citation  `json:"against,omitempty"`
	Settled *Settlement `json:"settled,omitempty"`
	Open    bool        `json:"disputed,omitempty"`
	With    []string    `json:"disputed-with,omitempty" jsonschema_description:"The claims that it is disputed with, as the record names them."`
}

// Plate is a drawing with pointers to claims.
type Plate struct {
	Picture string  `json:"picture" jsonschema_description:"Below the folder pictures."`
	Points  []Point `json:"points,omitempty"`
}

// Point is where on a plate the feature of a claim is to be seen.
type Point struct {
	At    []float64 `json:"at" jsonschema_description:"How far across and how far down, in per cent."`
	Claim string    `json:"claim" jsonschema_description:"A claim's key."`
}

// Related ties a model to another.
type Related struct {
	Model string     `json:"model"`
	How   string     `json:"how" jsonschema:"enum=succeeded-by,enum=successor-of,enum=variant-of,enum=made-beside,enum=above,enum=below,enum=same-line,enum=look-alike"`
	Tell  string     `json:"tell,omitempty" jsonschema_description:"How to tell the two apart."`
	Cites []Citation `json:"cites,omitempty"`
}

// Output is how many were made within a span.
type Output struct {
	Span  string     `json:"span" jsonschema_description:"In EDTF."`
	Made  float64    `json:"made"`
	Cites []Citation `json:"cites,omitempty"`
}

// Withdrawn is a claim taken back.
type Withdrawn struct {
	ID      string `json:"id"`
	Because string `json:"because"`
	On      string `json:"on,omitempty"`
}

// Feature is a property that one can see or measure.
type Feature struct {
	Record
	Kind       string         `json:"kind" jsonschema:"enum=choice,enum=presence,enum=number,enum=text"`
	Ask        string         `json:"ask,omitempty" jsonschema_description:"The question to ask of the bow in the hand."`
	Look       string         `json:"look,omitempty" jsonschema_description:"Where and how to look."`
	Exclusive  bool           `json:"exclusive" jsonschema_description:"One bow has one value only."`
	SinglesOut bool           `json:"singles-out,omitempty" jsonschema_description:"A value stands for one model of a maker at a time."`
	Changeover *int           `json:"changeover,omitempty"`
	Held       string         `json:"held" jsonschema:"enum=firm,enum=usual,enum=loose"`
	Altered    *Altered       `json:"altered,omitempty"`
	Effort     string         `json:"effort" jsonschema:"enum=glance,enum=measure,enum=unstring,enum=remove"`
	Means      []Meaning      `json:"means,omitempty" jsonschema_description:"What it, or a value of it, is said to mean; no evidence."`
	NotAFault  string         `json:"not-a-fault,omitempty" jsonschema_description:"What of it looks like a fault and is none."`
	Values     []FeatureValue `json:"values,omitempty"`
	Unit       string         `json:"unit,omitempty"`
	Plausible  *Range         `json:"plausible,omitempty"`
	Step       string         `json:"step,omitempty"`
}

// Meaning is what a feature or a value of it is said to mean.
type Meaning struct {
	Value string     `json:"value,omitempty"`
	Says  string     `json:"says"`
	By    string     `json:"by,omitempty"`
	Cites []Citation `json:"cites"`
}

// Hint is a feature that practitioners look at first.
type Hint struct {
	Feature string     `json:"feature"`
	Because string     `json:"because,omitempty"`
	Cites   []Citation `json:"cites,omitempty"`
}

// Namesake is another maker of the same or a like name.
type Namesake struct {
	Maker string     `json:"maker,omitempty" jsonschema_description:"Its identifier, where it has a record."`
	Name  string     `json:"name,omitempty"`
	Tell  string     `json:"tell"`
	Cites []Citation `json:"cites,omitempty"`
}

// Gap is what would tell more and never turned up.
type Gap struct {
	What    string     `json:"what"`
	Span    string     `json:"span,omitempty" jsonschema_description:"In EDTF."`
	Because string     `json:"because,omitempty"`
	Cites   []Citation `json:"cites,omitempty"`
}

// Altered is what later owners change a feature to.
type Altered struct {
	To     []string `json:"to"`
	Chance float64  `json:"chance"`
}

// FeatureValue is one state of a feature.
type FeatureValue struct {
	ID     string      `json:"id"`
	Name   string      `json:"name"`
	Also   []string    `json:"also,omitempty" jsonschema_description:"Other names."`
	Called []OtherName `json:"called,omitempty" jsonschema_description:"Those of its other names of which the years or who says so are known."`
	Tell   string      `json:"tell,omitempty" jsonschema_description:"How to tell it from the others."`
	Like   []Likeness  `json:"like,omitempty" jsonschema_description:"Other values that it is easily taken for."`
}

// Likeness is another value that one is easily taken for.
type Likeness struct {
	Value string `json:"value"`
	Tell  string `json:"tell,omitempty" jsonschema_description:"What tells the two apart."`
}

// Source is a thing that claims rest on.
type Source struct {
	Record
	Also      []string    `json:"also,omitempty" jsonschema_description:"Other names."`
	Called    []OtherName `json:"called,omitempty" jsonschema_description:"Those of its other names of which the years or who says so are known."`
	Kind      string      `json:"kind"`
	Credence  *float64    `json:"credence,omitempty" jsonschema_description:"How far it is believed, where that is not what holds for its kind."`
	By        string      `json:"by,omitempty" jsonschema_description:"Who wrote or issued it."`
	Issued    string      `json:"issued,omitempty" jsonschema_description:"In EDTF."`
	ReliesOn  []string    `json:"relies-on,omitempty" jsonschema_description:"The sources it took its facts from."`
	Kept      string      `json:"kept,omitempty" jsonschema_description:"Where it can be consulted."`
	Link      string      `json:"link,omitempty"`
	Copied    *Copied     `json:"copied,omitempty"`
	Consulted *bool       `json:"consulted,omitempty"`
	Origins   []string    `json:"origins" jsonschema_description:"Where its facts come from in the end; itself if it relies on nothing, empty where sources rely on each other alone."`
	Rights    string      `json:"rights,omitempty" jsonschema_description:"Who holds the rights, and what they permit."`
	Recording string      `json:"recording,omitempty" jsonschema_description:"The address at which it can be heard."`
	Places    []Place     `json:"places,omitempty" jsonschema_description:"What stands at its places, as far as it may be shown: those that its record lists, then the other pieces of its transcript, by time."`
}

// Place is one place in a source.
type Place struct {
	At          string   `json:"at" jsonschema_description:"As citations name it; of a recording the time."`
	Says        string   `json:"says,omitempty" jsonschema_description:"The words that stand there, to the letter."`
	By          string   `json:"by,omitempty" jsonschema_description:"Who says so, where the record or a voice tag of the transcript names them."`
	Scan        string   `json:"scan,omitempty" jsonschema_description:"A picture of the page, below the folder pictures; only where it may be shown."`
	Region      string   `json:"region,omitempty" jsonschema_description:"The part of the scan that holds the words, as a W3C media fragment."`
	Own         bool     `json:"own,omitempty" jsonschema_description:"The writer saw it."`
	ReliesOn    []string `json:"relies-on,omitempty" jsonschema_description:"The sources that this place took its facts from, in place of those of the whole source."`
	Kind        string   `json:"kind,omitempty" jsonschema_description:"Where it is of another kind than the source."`
	Hedge       string   `json:"hedge,omitempty" jsonschema_description:"How sure the speaker or writer was: fairly or unsure."`
	CorrectedAt string   `json:"corrected-at,omitempty" jsonschema_description:"Where the speaker or writer mended this slip."`
	Cue         *Cue     `json:"cue,omitempty" jsonschema_description:"The piece of the transcript at that time."`
}

// Cue is a piece of a transcript: when it is heard.
type Cue struct {
	Start float64 `json:"start" jsonschema_description:"In seconds from the beginning of the recording."`
	End   float64 `json:"end"`
}

// Copied is a kept copy of a linked page.
type Copied struct {
	On     string `json:"on"`
	SHA256 string `json:"sha256,omitempty"`
}

// Example is a bow that was examined.
type Example struct {
	Record
	Model      string        `json:"model,omitempty"`
	Either     []string      `json:"either,omitempty" jsonschema_description:"The models of which it is one, where nobody can tell which."`
	Seen       string        `json:"seen,omitempty" jsonschema_description:"The day it was examined."`
	By         string        `json:"by,omitempty" jsonschema_description:"Who examined it."`
	Observed   []Observed    `json:"observed"`
	WeightMark string        `json:"weight-mark,omitempty" jsonschema_description:"The draw weight as stamped, to the letter."`
	Documented *Documented   `json:"documented,omitempty" jsonschema_description:"Its year by a paper that came with it."`
	Attributed []Attribution `json:"attributed,omitempty" jsonschema_description:"What others hold its year to be; never evidence."`
	Condition  []Condition   `json:"condition,omitempty"`
	Setup      *Setup        `json:"setup,omitempty" jsonschema_description:"How its owner sets it up; left out where a fault keeps it from being strung."`
	History    []Event       `json:"history,omitempty"`
	Sales      []Sale        `json:"sales,omitempty" jsonschema_description:"Sales that were public."`
	Pictures   []Picture     `json:"pictures,omitempty"`
	Submitted  *Submitted    `json:"submitted,omitempty" jsonschema_description:"How it came in, where a visitor sent it."`
	Dated      *Dated        `json:"dated,omitempty" jsonschema_description:"What the engine makes of it from its features alone."`
}

// Observed is one feature as seen; several values where it is one of them.
type Observed struct {
	Feature string   `json:"feature"`
	Value   []string `json:"value"`
	Sure    string   `json:"sure" jsonschema:"enum=sure,enum=fairly,enum=unsure"`
	Note    string   `json:"note,omitempty"`
	Owners  bool     `json:"owners,omitempty" jsonschema_description:"true of an owner's work, which is no evidence of the year."`
}

// Attribution is somebody's opinion of the year.
type Attribution struct {
	Span  string     `json:"span" jsonschema_description:"In EDTF."`
	By    string     `json:"by"`
	From  []string   `json:"from,omitempty" jsonschema_description:"The features they go by."`
	Cites []Citation `json:"cites,omitempty"`
}

// Setup is how an owner sets the bow up.
type Setup struct {
	Brace        *Range `json:"brace,omitempty"`
	String       *Range `json:"string,omitempty"`
	NockingPoint string `json:"nocking-point,omitempty"`
	Arrow        string `json:"arrow,omitempty"`
	Shot         string `json:"shot,omitempty"`
}

// Event is something that was done to the bow.
type Event struct {
	On    string     `json:"on,omitempty" jsonschema_description:"In EDTF."`
	What  string     `json:"what"`
	Cites []Citation `json:"cites,omitempty"`
}

// Sale is one public sale.
type Sale struct {
	On    string     `json:"on" jsonschema_description:"In EDTF."`
	Price string     `json:"price,omitempty" jsonschema_description:"As written, with its currency."`
	Cites []Citation `json:"cites,omitempty"`
}

// Documented is a year that papers give.
type Documented struct {
	Span  string     `json:"span" jsonschema_description:"In EDTF."`
	Cites []Citation `json:"cites"`
}

// Condition is the state of one part.
type Condition struct {
	Part  string `json:"part"`
	State string `json:"state,omitempty"`
	Fault string `json:"fault,omitempty" jsonschema_description:"The kind of fault; crack, lifting, twist, delamination and loose keep a bow from being strung."`
	Found string `json:"found,omitempty" jsonschema_description:"strung or unstrung."`
}

// Picture is one picture and what it shows.
type Picture struct {
	File  string `json:"file"`
	Shows string `json:"shows,omitempty"`
}

// Submitted is how an example was received.
type Submitted struct {
	On         string `json:"on"`
	Edition    string `json:"edition,omitempty"`
	Note       string `json:"note,omitempty"`
	Reviewed   string `json:"reviewed,omitempty"`
	Unreviewed bool   `json:"unreviewed" jsonschema_description:"The editor has not looked it over yet."`
}

// Dated is an example's dating.
type Dated struct {
	Impossible bool         `json:"impossible" jsonschema_description:"No model and year is left even on balance."`
	Best       *Odds        `json:"best,omitempty" jsonschema_description:"The likeliest model and year, and its chance."`
	Strict     []ModelYears `json:"strict" jsonschema_description:"Where every observation is possible at its word."`
	Likely95   []ModelYears `json:"likely-95" jsonschema_description:"The smallest set that holds 95 % of the odds."`
}

// Odds is the chance of a model and year. An empty Model is one that is not on
// record; Maker is then whose it would be, or empty too.
type Odds struct {
	Model  string  `json:"model"`
	Maker  string  `json:"maker,omitempty"`
	Year   int     `json:"year"`
	Chance float64 `json:"chance"`
}

// ModelYears is some years of one model, named as in Odds.
type ModelYears struct {
	Model string `json:"model"`
	Maker string `json:"maker,omitempty"`
	Years []int  `json:"years"`
}

// Page is a page of prose.
type Page struct {
	Record
	About string `json:"about,omitempty"`
}
