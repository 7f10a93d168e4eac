package intake

// The kind and version that every submission states.
const (
	Kind    = "submission"
	Version = 1
)

// Submission is what a visitor sent.
type Submission struct {
	Yearmark    string       `json:"yearmark" jsonschema:"required,enum=submission" jsonschema_description:"What this file is: submission."`
	Version     int          `json:"version" jsonschema:"required,enum=1" jsonschema_description:"The version of this form: 1."`
	Reference   string       `json:"reference" jsonschema:"required,minLength=1,maxLength=200" jsonschema_description:"The name of the reference whose site dated the bow."`
	Edition     string       `json:"edition" jsonschema:"required,minLength=1,maxLength=80" jsonschema_description:"The edition by which it was dated."`
	On          string       `json:"on" jsonschema:"required,pattern=^[0-9]{4}-[0-9]{2}-[0-9]{2}$" jsonschema_description:"The day on which the visitor saved it, as in 2026-11-20."`
	Model       string       `json:"model,omitempty" jsonschema:"minLength=1,maxLength=100" jsonschema_description:"The model's identifier, where the visitor knows it."`
	Observed    []Seen       `json:"observed" jsonschema:"required,minItems=1,maxItems=64" jsonschema_description:"What was seen on the bow."`
	Dated       *Dated       `json:"dated,omitempty" jsonschema_description:"What the page made of it."`
	WeightMark  string       `json:"weightMark,omitempty" jsonschema:"maxLength=60" jsonschema_description:"The draw weight as stamped, to the letter."`
	Marks       []Mark       `json:"marks,omitempty" jsonschema:"maxItems=20" jsonschema_description:"The marks and where each stands."`
	Condition   []Part       `json:"condition,omitempty" jsonschema:"maxItems=40" jsonschema_description:"Its state, part by part."`
	Photographs []Photograph `json:"photographs,omitempty" jsonschema:"maxItems=40" jsonschema_description:"The photographs that go with it, by file name."`
	Note        string       `json:"note,omitempty" jsonschema:"maxLength=4000" jsonschema_description:"What else there is to say, as plain text."`
	By          string       `json:"by,omitempty" jsonschema:"maxLength=120" jsonschema_description:"Whom the site may name as the one who examined it."`
	Private     *Private     `json:"private,omitempty" jsonschema_description:"For the editor alone; never published."`
}

// Seen is one feature as seen. Several values mean that the visitor cannot
// tell which of them it is.
type Seen struct {
	Feature string   `json:"feature" jsonschema:"required,minLength=1,maxLength=100" jsonschema_description:"The feature's identifier."`
	Values  []string `json:"values" jsonschema:"required,minItems=1,maxItems=40" jsonschema_description:"What was seen: a value's identifier, a figure, or letters as they stand."`
	Sure    string   `json:"sure" jsonschema:"required,enum=sure,enum=fairly,enum=unsure" jsonschema_description:"How sure the visitor is."`
	Note    string   `json:"note,omitempty" jsonschema:"maxLength=500" jsonschema_description:"A remark."`
}

// Dated is what the visitor's page made of the bow.
type Dated struct {
	Model  string       `json:"model" jsonschema:"required,maxLength=100" jsonschema_description:"The likeliest model; empty for one that is not on record."`
	Maker  string       `json:"maker,omitempty" jsonschema:"maxLength=100" jsonschema_description:"The maker of a model that is not on record, where it is known."`
	Year   int          `json:"year" jsonschema:"required,minimum=1,maximum=9999" jsonschema_description:"The likeliest year."`
	Chance float64      `json:"chance" jsonschema:"required,minimum=0,maximum=1" jsonschema_description:"How likely the two are, from 0 to 1."`
	Likely []ModelYears `json:"likely" jsonschema:"required,maxItems=5000" jsonschema_description:"The years that hold 95 % of the odds, by model."`
}

// ModelYears is some years of one model.
type ModelYears struct {
	Model string `json:"model" jsonschema:"required,maxLength=100" jsonschema_description:"The model's identifier; empty for one that is not on record."`
	Maker string `json:"maker,omitempty" jsonschema:"maxLength=100" jsonschema_description:"The maker of a model that is not on record, where it is known."`
	Years []int  `json:"years" jsonschema:"required,maxItems=1000" jsonschema_description:"The years, rising."`
}

// Mark is a mark on the bow and where it stands.
type Mark struct {
	Mark  string `json:"mark" jsonschema:"required,minLength=1,maxLength=200" jsonschema_description:"The mark: a feature's identifier, or in words."`
	Place string `json:"place" jsonschema:"required,minLength=1,maxLength=200" jsonschema_description:"Where on the bow it stands."`
}

// Part is the state of one part.
type Part struct {
	Part  string `json:"part" jsonschema:"required,minLength=1,maxLength=100" jsonschema_description:"The part."`
	State string `json:"state,omitempty" jsonschema:"minLength=1,maxLength=500" jsonschema_description:"Its state in words; not needed beside a fault."`
	Fault string `json:"fault,omitempty" jsonschema:"enum=crack,enum=lifting,enum=twist,enum=delamination,enum=loose,enum=worn,enum=missing,enum=repaired" jsonschema_description:"The kind of fault, if it is one."`
}

// Photograph is one photograph by its file name.
type Photograph struct {
	File  string `json:"file" jsonschema:"required,minLength=1,maxLength=150" jsonschema_description:"The file name, without a folder."`
	Shows string `json:"shows,omitempty" jsonschema:"maxLength=300" jsonschema_description:"What it shows."`
}

// Private is for the editor alone.
type Private struct {
	Name    string `json:"name,omitempty" jsonschema:"maxLength=200" jsonschema_description:"The visitor's name."`
	Contact string `json:"contact,omitempty" jsonschema:"maxLength=300" jsonschema_description:"How to reach the visitor."`
}
