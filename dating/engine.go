package dating

import (
	"cmp"
	"fmt"
	"slices"

	"yearmark/chronology"
	"yearmark/dating/odds"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/parallel"
)

// Engine answers questions about one state of a reference. It never changes
// and may be asked from many goroutines at once.
type Engine struct {
	table     *odds.Table
	ref       *schema.Reference // nil where made from a table
	features  []Feature         // as in table.Features, by identifier
	bows      []hypothesis      // as in table.Models; nil where made from a table
	gathered  []evidenceLists   // as in features
	sure      map[schema.Sureness]float64
	teach     Teaching
	leavesOut bool // a dated bow does not teach
	wishes    wishes

	featureNames, modelNames names
	modelOf                  []int32 // of every pair
}

// evidenceLists is what all claims say of one feature, model by model.
type evidenceLists struct {
	evidence []ClaimEvidence
	starts   []int32 // where each model's begin; one more than models, or none
}

// of gives what a model's claims say.
func (h *evidenceLists) of(model int) []ClaimEvidence {
	if h.starts == nil {
		return nil
	}
	return h.evidence[h.starts[model]:h.starts[model+1]]
}

// ClaimEvidence is a claim as the engine took it: its years after tightening, and the
// outcomes of its feature that it holds.
type ClaimEvidence struct {
	Claim     *schema.Claim
	Witnesses int // independent ones for it
	Dissents  int // independent ones against it
	Support
}

// Observers is the chance, by the observer's own word, that a feature was read
// rightly: editorial judgement, not fact.
func Observers() map[schema.Sureness]float64 {
	return map[schema.Sureness]float64{schema.Sure: .98, schema.Fairly: .85, schema.Unsure: .60}
}

// New makes the engine of a reference from its tightened years and its weighed
// claims. It takes time and space in proportion to the models' years and the
// features together.
func New(ref *schema.Reference, t *chronology.Timeline, w *provenance.Weighing) *Engine {
	return build(inputs{ref: ref, times: t, weights: w, bows: hypothesesOf(ref), teachers: teachers(ref)})
}

// inputs is what an engine is made from.
type inputs struct {
	ref     *schema.Reference
	times   *chronology.Timeline
	weights *provenance.Weighing
	bows    []hypothesis // what a bow can be
	// domains holds the outcomes of every feature, where they are known already.
	domains []Domain
	// teachers are the examples of each model whose documents date them.
	teachers map[string][]teacher
	dated    *schema.Example // an example that does not teach; it may be nil
	// lessons is what the one model teaches with nothing left out; nil where that
	// is counted anew.
	lessons *lessons
	teach   *Teaching // nil for the editor's
	// skip says which citations count for nothing; it may be nil. What rests
	// on no other citation is left out.
	skip func(schema.Citation) bool
}

// leavesOut says whether a claim rests only on citations that are skipped.
func (in inputs) leavesOut(c *schema.Claim) bool {
	return in.skip != nil && in.skipsAll(c.Citations())
}

// leavesBowOut says that a dated bow does not teach, which another would.
func (in inputs) leavesBowOut() bool { return in.dated != nil && in.dated.Documented != nil }

// build makes the engine of some models of a reference.
func build(in inputs) *Engine {
	e := &Engine{ref: in.ref, sure: Observers(), table: &odds.Table{Temper: exponent(in.ref)}, teach: teaching(in.ref), leavesOut: in.leavesBowOut()}
	if in.teach != nil {
		e.teach = *in.teach
	}
	e.wishes = in.wishes()
	e.addModels(in)
	records := in.ref.Features.All()
	claims := claimsOf(in, records)
	e.features = make([]Feature, len(records))
	e.gathered = make([]evidenceLists, len(records))
	e.table.Features = make([]odds.Feature, len(records))
	parallel.For(len(records), func(i int) {
		e.features[i] = Feature{ID: records[i].ID, Record: records[i]}
		if in.domains != nil {
			e.features[i].Domain = in.domains[i]
		} else {
			e.features[i].Domain = newDomain(records[i], claims[i].list)
		}
		e.gathered[i] = e.gather(i, in, claims[i])
	})
	e.nameAll()
	tallies := e.tallies(in)
	tied := e.components(in)
	depends := dependentOn(tied)
	books := make([]*rowBook, len(records))
	parallel.For(len(records), func(i int) { books[i] = e.tabulate(i, tallies, depends) })
	e.depend(tied, books)
	for i, book := range books {
		e.table.Features[i] = book.feature
	}
	return e
}

// nameAll lists the names by which features and models are asked for, and
// whose each pair is.
func (e *Engine) nameAll() {
	for i := range e.features {
		e.featureNames.add(i, e.features[i].ID, e.features[i].Name(), nil)
	}
	for m := range e.table.Models {
		if id := e.table.Models[m].ID; id != "" {
			var also []schema.OtherName
			if e.ref != nil {
				if record, known := e.ref.Models.Get(id); known {
					also = record.Also
				}
			}
			e.modelNames.add(m, id, e.modelName(m), also)
		}
		for range e.table.Models[m].End - e.table.Models[m].Start {
			e.modelOf = append(e.modelOf, int32(m))
		}
	}
}

// exponent is the editor's, or 1 where none that can be used was given.
func exponent(ref *schema.Reference) float64 {
	if t := ref.Settings.Judgement.Temper.Value; t > 0 && t <= 1 {
		return t
	}
	return 1
}

// addModels fills the table's pairs and their priors.
func (e *Engine) addModels(in inputs) {
	t := e.table
	for _, h := range in.bows {
		years, chance := h.prior(in)
		row := h.named()
		row.Start = len(t.Years)
		t.Years, t.Prior = append(t.Years, years...), append(t.Prior, chance...)
		row.End = len(t.Years)
		t.Models = append(t.Models, row)
	}
	e.bows = in.bows
}

// outputs reads how many of a model were made, and when.
func outputs(ref *schema.Reference, m *schema.Model, made edtf.Years) []Output {
	var list []Output
	for _, o := range m.Output {
		frame := edtf.Frame{Horizon: ref.Horizon(), Circa: ref.Settings.Judgement.Circa.Value, Made: edtf.Range{First: made.A, Last: made.D}}
		list = append(list, Output{Years: o.Span.Years(frame), Made: o.Made.Value})
	}
	return list
}

// modelClaims is the claims about one feature, model by model.
type modelClaims struct {
	list   []*schema.Claim
	models []int32 // of each claim, rising
}

// claimsOf sorts the claims that count by feature.
func claimsOf(in inputs, features []*schema.Feature) []modelClaims {
	at := make(map[string]int, len(features))
	for i, f := range features {
		at[f.ID] = i
	}
	sorted := make([]modelClaims, len(features))
	for m, h := range in.bows {
		for _, c := range h.claims(in.ref) {
			if i, known := at[c.FeatureID()]; known && !in.leavesOut(c) {
				sorted[i].list, sorted[i].models = append(sorted[i].list, c), append(sorted[i].models, int32(m))
			}
		}
	}
	return sorted
}

// gather turns the claims about a feature into evidence.
func (e *Engine) gather(number int, in inputs, claims modelClaims) evidenceLists {
	h := evidenceLists{evidence: make([]ClaimEvidence, 0, len(claims.list)), starts: make([]int32, len(in.bows)+1)}
	next := 0
	for m, bow := range in.bows {
		h.starts[m] = int32(len(h.evidence))
		first := next
		for next < len(claims.list) && int(claims.models[next]) == m {
			next++
		}
		h.evidence = e.appendEvidence(h.evidence, number, in, bow, claims.list[first:next])
	}
	h.starts[len(in.bows)] = int32(len(h.evidence))
	return h
}

// appendEvidence adds what the claims about a feature of some bow say; those whose
// value is none of the feature's say nothing, nor do a maker's in whose years the
// model was not made.
func (e *Engine) appendEvidence(evidence []ClaimEvidence, number int, in inputs, bow hypothesis, claims []*schema.Claim) []ClaimEvidence {
	for _, c := range claims {
		first, last, ok := e.features[number].Domain.Claimed(c)
		if !ok {
			continue
		}
		years := bow.years(c, in)
		if c.Maker != nil && years.Empty() {
			continue
		}
		loose := -1.0
		if c.Held.Value != "" {
			loose = looseness(in.ref, c.Held.Value)
		}
		assessed := in.weights.Of(c)
		evidence = append(evidence, ClaimEvidence{c, assessed.For.Witnesses, assessed.Against.Witnesses, Support{first, last, years, within(assessed.Credence), loose, c.Only.Value && e.features[number].Kind() != schema.Figure}})
	}
	return evidence
}

// within keeps a chance between 0 and 1.
func within(c float64) float64 {
	if !(c > 0) {
		return 0
	}
	return min(c, 1)
}

// looseness is e for a word of `held`; the feature's default is usual.
func looseness(ref *schema.Reference, held string) float64 {
	return within(ref.Settings.Judgement.Looseness[cmp.Or(held, "usual")].Value)
}

// rates reads what holds for a feature whatever the year.
func (e *Engine) rates(f *Feature) Rates {
	r := Rates{Outcomes: f.Domain.Size(), Numbers: f.Kind() == schema.Figure, Looseness: looseness(e.ref, f.Record.Held.Value)}
	if a := f.Record.Altered; a != nil && a.Chance.Value > 0 {
		for _, to := range a.To {
			if outcomes, err := f.Domain.Observed(to.Value); err == nil {
				r.To = append(r.To, outcomes...)
			}
		}
		slices.Sort(r.To)
		r.To = slices.Compact(r.To)
		if len(r.To) > 0 {
			r.Altered = within(a.Chance.Value)
		}
	}
	return r
}

// tabulate works out the feature's chances under every pair, but for the bows of
// which it depends on others. tallies are as the method of that name gives them.
func (e *Engine) tabulate(number int, tallies [][]*tally, depends map[[2]int]bool) *rowBook {
	w := e.newRowWriter(number, e.table.Pairs())
	for m := range e.table.Models {
		var met *tally
		if tallies[m] != nil {
			met = tallies[m][number]
		}
		if depends[[2]int{m, number}] {
			w.write(m, nil, nil) // until its worlds are mixed
			continue
		}
		w.wishes = e.wishesFor(m, number)
		w.write(m, e.gathered[number].of(m), met)
	}
	return w.rows
}

// Given is a table of chances for those who have figures rather than records.
type Given struct {
	Table  odds.Table
	Values map[string][]string // by feature: the names of its outcomes
	Sure   map[schema.Sureness]float64
}

// FromTable makes an engine from a table. Its answers name no claims. It
// refuses a table that is none, and outcomes without a name.
func FromTable(g Given) (*Engine, error) {
	if err := g.Table.Validate(); err != nil {
		return nil, err
	}
	e := &Engine{table: &g.Table, sure: g.Sure}
	if e.sure == nil {
		e.sure = Observers()
	}
	for i := range g.Table.Features {
		f := &g.Table.Features[i]
		if len(g.Values[f.ID]) != f.Outcomes {
			return nil, fmt.Errorf("feature %q has %d outcomes and %d names", f.ID, f.Outcomes, len(g.Values[f.ID]))
		}
		e.features = append(e.features, Feature{ID: f.ID, Domain: &Values{IDs: g.Values[f.ID]}})
	}
	e.gathered = make([]evidenceLists, len(e.features))
	e.nameAll()
	return e, nil
}

// Table is the engine's table. The caller must not change it.
func (e *Engine) Table() *odds.Table { return e.table }

// Reference is what the engine was made from, or nil.
func (e *Engine) Reference() *schema.Reference { return e.ref }

// Features gives the features, as in the table. The caller must not change them.
func (e *Engine) Features() []Feature { return e.features }

// Observers gives the chances of the observer's words.
func (e *Engine) Observers() map[schema.Sureness]float64 { return e.sure }

// ClaimsAbout gives what a model's claims say of a feature, by their places in the
// table, in the record's order.
func (e *Engine) ClaimsAbout(model, feature int) []ClaimEvidence {
	return e.gathered[feature].of(model)
}

// FeatureAt gives the place of a feature in the table by its identifier.
func (e *Engine) FeatureAt(id string) (int, bool) {
	at, known := e.featureNames.at[id]
	return at, known
}

// ModelAt gives the place of a model in the table by its identifier.
func (e *Engine) ModelAt(id string) (int, bool) {
	at, known := e.modelNames.at[id]
	return at, known
}

// modelName is the model's name for people.
func (e *Engine) modelName(model int) string {
	return e.nameOf(e.table.Models[model].ID, e.table.Models[model].Maker)
}
