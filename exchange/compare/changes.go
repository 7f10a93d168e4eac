package compare

import (
	"context"

	"yearmark/checks"
	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
	"yearmark/schema"
)

// Version is the version of the JSON that Changes are written as.
const Version = 1

// State is one state of a reference and what follows from it.
type State struct {
	Name     string // as the caller named it: a folder, a revision
	Edition  string
	Ref      *schema.Reference
	Timeline *chronology.Timeline
	Weighing *provenance.Weighing
	Engine   *dating.Engine
	Report   checks.Report
	Renamed  []Renaming // of the earlier state: what was called otherwise
}

// Renaming is a record that got another name.
type Renaming struct {
	Kind     schema.Kind
	Old, New string // identifiers
}

// Changes is what changed between two states.
type Changes struct {
	Version  int            `json:"version"`
	Old      Side           `json:"old"`
	New      Side           `json:"new"`
	Claims   ClaimChanges   `json:"claims"`
	Sources  []RecordChange `json:"sources"`
	Records  []RecordChange `json:"records"` // the settings, makers, models, features, examples and pages
	Findings FindingChanges `json:"findings"`
	Effect   Effect         `json:"effect"`
	Breaks   []Break        `json:"breaks"`

	names map[string]string // of models and, as "makers/ID", of makers, for people
}

// Side names one of the two states.
type Side struct {
	Name    string `json:"name"`
	Edition string `json:"edition"`
}

// ClaimChanges is what became of the claims, each list in order of key.
type ClaimChanges struct {
	Added     []ClaimChange `json:"added"`
	Withdrawn []ClaimChange `json:"withdrawn"`
	Moved     []ClaimChange `json:"moved"`
	Changed   []ClaimChange `json:"changed"` // in something other than their years
}

// ClaimChange is one claim, before and after.
type ClaimChange struct {
	Claim   string `json:"claim"`   // its key
	Address string `json:"address"` // on the site
	What    string `json:"what"`    // "Plover, riser wood: Padauk"
	// Fields names what differs: value, written, years, cites, against,
	// settled, disputed, credence, note, held, only.
	Fields []string `json:"fields"`
	// Derived says that the claim itself still says the same: its years moved
	// because of what other records say.
	Derived bool        `json:"derived"`
	Because string      `json:"because"` // why it was withdrawn, as the model's record says
	Before  *ClaimState `json:"before"`
	After   *ClaimState `json:"after"`
}

// ClaimState is a claim as one of the states has it.
type ClaimState struct {
	Value    string   `json:"value"`
	Written  string   `json:"written"` // its dates as the record has them
	Years    string   `json:"years"`   // its years, tightened
	Cites    []string `json:"cites"`
	Against  []string `json:"against"`
	Settled  string   `json:"settled"`
	Disputed bool     `json:"disputed"`
	Credence float64  `json:"credence"` // to four decimals
	Note     string   `json:"note"`
	Held     string   `json:"held"`
	Only     bool     `json:"only"`
	When     string   `json:"when"`   // conditions on which it holds, as written
	Except   []string `json:"except"` // models for which a maker's claim does not hold
}

// The ways in which a record changes.
const (
	Added   = "added"
	Removed = "removed"
	Changed = "changed"
)

// RecordChange is what became of one record, its claims aside.
type RecordChange struct {
	Kind    schema.Kind   `json:"kind"`
	ID      string        `json:"id"`
	Title   string        `json:"title"`
	Address string        `json:"address"`
	How     string        `json:"how"` // added, removed or changed
	Fields  []FieldChange `json:"fields"`

	maker string // of a model
}

// FieldChange is one key of a record, before and after; of prose, how many
// lines were added and removed. The name of its file is the field "file name".
type FieldChange struct {
	Field  string `json:"field"`
	Before string `json:"before"`
	After  string `json:"after"`
}

// FindingChanges is what the checks say that they did not, and the other way round.
type FindingChanges struct {
	Gained []Finding `json:"gained"`
	Lost   []Finding `json:"lost"`
}

// Finding is a finding without its line, which moves with every edit above it.
type Finding struct {
	Check   string       `json:"check"`
	Level   checks.Level `json:"level"`
	File    string       `json:"file"`
	Message string       `json:"message"`
}

// Effect is what answers otherwise.
type Effect struct {
	Examples []ExampleEffect `json:"examples"`
	Keys     []KeyEffect     `json:"keys"`
}

// ExampleEffect is an example whose answer moved. One that is new, or gone, is
// not among them: see Changes.Records.
type ExampleEffect struct {
	Example  string  `json:"example"`
	Title    string  `json:"title"`
	Address  string  `json:"address"`
	Observed bool    `json:"observed"` // what was observed on it changed too
	Before   *Answer `json:"before"`
	After    *Answer `json:"after"`
}

// Answer is what the engine makes of an example.
type Answer struct {
	Best     *dating.Odds        `json:"best"`
	Likely50 []dating.ModelYears `json:"likely50"`
	Likely95 []dating.ModelYears `json:"likely95"`
	Strict   []dating.ModelYears `json:"strict"`
	Refused  string              `json:"refused"` // why it could not be dated, or empty
}

// KeyEffect is a row of a model's dating key whose answer moved: one value of
// one feature, or with neither the model's made span.
type KeyEffect struct {
	Model   string     `json:"model"`
	Feature string     `json:"feature"`
	Value   string     `json:"value"`
	What    string     `json:"what"`
	Address string     `json:"address"`
	Before  *KeyAnswer `json:"before"`
	After   *KeyAnswer `json:"after"`
}

// KeyAnswer is a row of a dating key: the years of its claims, and what they
// make of a bow of that model on which nothing else was seen.
type KeyAnswer struct {
	Years    []string `json:"years"`
	Best     int      `json:"best"` // 0 where no year is left
	Likely50 []int    `json:"likely50"`
	Likely95 []int    `json:"likely95"`
	Strict   []int    `json:"strict"`
}

// Break is a published address that leads nowhere any more.
type Break struct {
	Address string `json:"address"`
	Message string `json:"message"`
	Help    string `json:"help"`
}

// Between says what changed from the one state to the other. It fails once ctx ends.
func Between(ctx context.Context, before, after State) (*Changes, error) {
	examples, err := exampleEffects(ctx, before, after)
	if err != nil {
		return nil, err
	}
	rows, err := keyEffects(ctx, before, after)
	if err != nil {
		return nil, err
	}
	changes := &Changes{
		Version: Version, Old: Side{before.Name, before.Edition}, New: Side{after.Name, after.Edition},
		Claims:  claimChanges(before, after),
		Sources: recordChanges(before.Ref, after.Ref, schema.KindSource),
		Records: append(settingsChange(before.Ref, after.Ref), recordChanges(before.Ref, after.Ref,
			schema.KindMaker, schema.KindModel, schema.KindFeature, schema.KindExample, schema.KindPage)...),
		Findings: findingChanges(before.Report, after.Report),
		Effect:   Effect{examples, rows},
		Breaks:   breaks(before, after),
		names:    names(before.Ref, after.Ref),
	}
	for _, r := range before.Renamed {
		changes.rename(after.Ref, r)
	}
	return changes, nil
}

// rename adds to what is told of a record that it was called otherwise.
func (c *Changes) rename(ref *schema.Reference, to Renaming) {
	list := &c.Records
	if to.Kind == schema.KindSource {
		list = &c.Sources
	}
	field := FieldChange{Field: fieldName, Before: to.Old, After: to.New}
	for i := range *list {
		if r := &(*list)[i]; r.Kind == to.Kind && r.ID == to.New {
			r.Fields = append([]FieldChange{field}, r.Fields...)
			return
		}
	}
	if r, known := ref.Record(to.Kind, to.New); known {
		one := changeOf(r, Changed)
		one.Fields = append(one.Fields, field)
		*list = append(*list, one)
	}
}

// names gives the models' names, with the identifier where two models of
// whichever state share one, and the makers' names by "makers/ID".
func names(refs ...*schema.Reference) map[string]string {
	all, first := map[string]string{}, map[string]string{}
	for _, ref := range refs {
		for _, m := range ref.Makers.All() {
			all["makers/"+m.ID] = m.Title()
		}
		for _, m := range ref.Models.All() {
			all[m.ID] = m.Title()
			if id, taken := first[m.Title()]; taken && id != m.ID {
				all[m.ID], all[id] = m.Title()+" ("+m.ID+")", m.Title()+" ("+id+")"
			} else {
				first[m.Title()] = m.ID
			}
		}
	}
	return all
}

// None says that nothing changed.
func (c *Changes) None() bool {
	return len(c.Claims.Added)+len(c.Claims.Withdrawn)+len(c.Claims.Moved)+len(c.Claims.Changed)+len(c.Sources)+len(c.Records)+
		len(c.Findings.Gained)+len(c.Findings.Lost)+len(c.Effect.Examples)+len(c.Effect.Keys)+len(c.Breaks) == 0
}
