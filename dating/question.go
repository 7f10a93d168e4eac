package dating

import (
	"fmt"
	"slices"
	"strings"

	"yearmark/dating/odds"
	"yearmark/schema"
)

// Refusal says what of a question is not understood, and what was wanted.
type Refusal struct {
	Model, Feature, Value string // what it is about, as asked; the others are empty
	Message               string // lower case, no full stop
	Help                  string // what to do, a sentence; may be empty
}

// Error gives the message and the remedy.
func (r *Refusal) Error() string {
	if r.Help == "" {
		return r.Message
	}
	return r.Message + ": " + r.Help
}

// resolve turns a question into places in the table, observations by rising
// feature so that the order of asking changes nothing. asked[i] is the place
// in the question of the query's observation i.
func (e *Engine) resolve(q Question) (query odds.Query, asked []int, err error) {
	if len(q.Observed) > odds.MaxSeen {
		return query, nil, &Refusal{Message: fmt.Sprintf("%d observations are more than the %d that one bow may have", len(q.Observed), odds.MaxSeen)}
	}
	if query.Models, err = e.resolveModels(q.Models); err != nil {
		return query, nil, err
	}
	seen := make([]odds.Seen, len(q.Observed))
	first := map[int]int{}
	for i, o := range q.Observed {
		if o, err = e.readStamps(o, query.Models); err != nil {
			return query, nil, err
		}
		if seen[i], err = e.resolveSeen(o); err != nil {
			return query, nil, err
		}
		f := seen[i].Feature
		if _, again := first[f]; again {
			return query, nil, &Refusal{Feature: o.Feature, Message: fmt.Sprintf("the feature %q is observed twice", e.features[f].ID), Help: "Give it once; where it may be one of several values, give them together."}
		}
		first[f] = i
		asked = append(asked, i)
	}
	slices.SortFunc(asked, func(a, b int) int { return seen[a].Feature - seen[b].Feature })
	for _, i := range asked {
		query.Seen = append(query.Seen, seen[i])
	}
	return query, asked, nil
}

// resolveModels finds the models by identifier or name; none means all.
func (e *Engine) resolveModels(names []string) ([]int, error) {
	if len(names) == 0 {
		return nil, nil
	}
	var list []int
	for _, name := range names {
		m, err := e.ModelNamed(name)
		if err != nil {
			return nil, err
		}
		list = append(list, m)
	}
	slices.Sort(list)
	return slices.Compact(list), nil
}

// ModelNamed finds a model by its identifier or, capitals aside, its name or
// another name that people know it by. The error is a *Refusal with the nearest name.
func (e *Engine) ModelNamed(name string) (int, error) {
	at, near := e.modelNames.find(name)
	if at < 0 {
		return 0, &Refusal{Model: name, Message: fmt.Sprintf("the model %q is not in the reference", name), Help: near}
	}
	return at, nil
}

// FeatureNamed finds a feature by its identifier or, capitals aside, its name.
// The error is a *Refusal with the nearest name.
func (e *Engine) FeatureNamed(name string) (int, error) {
	at, near := e.featureNames.find(name)
	if at < 0 {
		if near == "" && len(e.features) > 0 {
			ids := make([]string, len(e.features))
			for i := range e.features {
				ids[i] = e.features[i].ID
			}
			near = "Its features are " + strings.Join(ids, ", ") + "."
		}
		return 0, &Refusal{Feature: name, Message: fmt.Sprintf("the feature %q is not in the reference", name), Help: near}
	}
	return at, nil
}

// resolveSeen finds the feature and the outcomes of one observation.
func (e *Engine) resolveSeen(o Observation) (odds.Seen, error) {
	f, err := e.FeatureNamed(o.Feature)
	if err != nil {
		return odds.Seen{}, err
	}
	id := e.features[f].ID
	word := o.Sure
	if word == "" {
		word = schema.Sure
	}
	sure, known := e.sure[word]
	if !known {
		return odds.Seen{}, &Refusal{Feature: o.Feature, Message: fmt.Sprintf("%q is not how sure one can be of %s", o.Sure, id), Help: "Say sure, fairly or unsure."}
	}
	if len(o.Values) == 0 {
		return odds.Seen{}, &Refusal{Feature: o.Feature, Message: fmt.Sprintf("the feature %q is observed without a value", id), Help: "Leave it out if you cannot tell."}
	}
	seen := odds.Seen{Feature: f, Sure: sure}
	for _, v := range o.Values {
		outcomes, err := e.features[f].Domain.Observed(v)
		if err != nil {
			return odds.Seen{}, &Refusal{Feature: o.Feature, Value: v, Message: fmt.Sprintf("the value %q is not one of %s", v, id), Help: schema.Sentence(err.Error())}
		}
		seen.Outcomes = append(seen.Outcomes, outcomes...)
	}
	slices.Sort(seen.Outcomes)
	seen.Outcomes = slices.Compact(seen.Outcomes)
	return seen, nil
}

// QuestionOf asks what an example of the reference is: of its model, where
// known, by what was observed on it, owners' work aside, and by the draw weight stamped on it where
// none was observed. A stamp counts as sure.
func QuestionOf(ref *schema.Reference, ex *schema.Example) Question {
	var q Question
	if ex.Model.Value != "" {
		q.Models = []string{ex.Model.Value}
	}
	for _, m := range ex.Either {
		q.Models = append(q.Models, m.Value)
	}
	for _, o := range ex.Observed {
		if o.OwnersWork() {
			continue
		}
		seen := Observation{Feature: o.Feature.Value, Sure: o.Sureness()}
		for _, v := range o.Value {
			seen.Values = append(seen.Values, v.Value)
		}
		if values, ok := MeasuredWeight(ref, ex, o); ok {
			seen.Values = values
		}
		q.Observed = append(q.Observed, seen)
	}
	if pounds, ok := stampedWeight(ref, ex); ok {
		q.Observed = append(q.Observed, Observation{Feature: schema.DrawWeight, Values: pounds, Sure: schema.Sure})
	}
	return q
}
