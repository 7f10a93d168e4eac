package dating

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"yearmark/dating/odds"
	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/english"
)

// Sentences are an answer in words, the same on the terminal and in the form;
// testdata/sentences.json holds the two to each other.
type Sentences struct {
	// Headline is the years that hold 95 in 100 of the odds, with the likeliest,
	// or what does not fit. No full stop.
	Headline string `json:"headline"`
	// Advice says what to do about what does not fit, one sentence; or empty.
	Advice string `json:"advice"`
	// Conflicts say what does not fit and what is left without each part of it.
	Conflicts []string `json:"conflicts"`
	Balance   []string `json:"balance"` // how sure the answer is
	Reasons   []Reason `json:"reasons"` // by falling weight
	// Second is the second look, where no question is left.
	Second []Expectation `json:"second"`
	// Alike say how to tell likely models apart that are easily taken for each other.
	Alike []string `json:"alike"`
}

// Reason is one observation, what it weighs and on whose word.
type Reason struct {
	Feature string   `json:"feature"`
	Seen    string   `json:"seen"`    // "Padauk or Walnut, not sure"
	Weight  string   `json:"weight"`  // "11 to 1 for it"
	Grounds []string `json:"grounds"` // claims for it, "but" those of other values; all end with a full stop
}

// LeastBits is what a question must tell to be asked; below it the second look follows.
const LeastBits = .05

// Sentences puts the answer into words.
func (a *Answer) Sentences() Sentences {
	s := Sentences{Headline: "No model and year are left", Conflicts: []string{}, Balance: []string{}, Reasons: []Reason{}, Second: a.SecondLook(), Alike: []string{}}
	if a.Impossible {
		s.Advice = "Take back an answer, or say that you are not sure of it."
		return s
	}
	s.Headline, s.Balance, s.Alike = a.headline(), a.balance(), a.alikeLikely()
	if a.Contradicts() {
		s.Conflicts, s.Advice = a.conflicts(), a.advice()
		s.Headline = s.Conflicts[0]
	}
	evidence := slices.Clone(a.Evidence)
	slices.SortStableFunc(evidence, func(a, b Evidence) int { return -compareDecibans(a.Decibans, b.Decibans) })
	for _, e := range evidence {
		s.Reasons = append(s.Reasons, a.reason(e))
	}
	return s
}

// Contradicts says that, taken at its word, no pair has all that was observed.
func (a *Answer) Contradicts() bool { return len(a.Observed) > 0 && len(a.Strict.Years) == 0 }

// compareDecibans orders weights by their first figures, so that rounding decides nothing.
func compareDecibans(a, b float64) int {
	switch d := a - b; {
	case a == b || math.Abs(d) < 1e-9:
		return 0
	case d < 0:
		return -1
	}
	return 1
}

// manyModels is how many models a headline names with their years.
const manyModels = 2

// headline names the years of the 95 % set and, unless several tie, the likeliest.
// What is not on record has too many years to name beside those of a model.
func (a *Answer) headline() string {
	e, set := a.engine, OnRecord(a.Likely95)
	words := e.yearsOf(set, len(a.question.Models) == 1)
	likeliest := fmt.Sprintf(", most likely %s %d", e.nameOf(a.Best.Model, a.Best.Maker), a.Best.Year)
	switch {
	case len(set) == 0:
		words, set = e.yearsOf(a.Likely95, false), a.Likely95
	case len(set) < len(a.Likely95) && a.Best.Model == "":
		return "A model not on record, or " + words
	case len(set) < len(a.Likely95):
		words += notOnRecord
	}
	if len(set) == 1 {
		likeliest = fmt.Sprintf(", most likely %d", a.Best.Year)
	}
	if len(set) == 1 && len(set[0].Years) == 1 || len(a.tied()) > 1 {
		return words
	}
	if before, more := strings.CutSuffix(words, notOnRecord); more {
		return before + likeliest + notOnRecord
	}
	return words + likeliest
}

// notOnRecord ends a headline where the set holds more than models on record.
const notOnRecord = ", or a model not on record"

// yearsOf names the models and years of a set, or of many the span alone; of one
// that was asked for it names the years alone.
func (e *Engine) yearsOf(set []ModelYears, asked bool) string {
	var parts []string
	for i, m := range set {
		name := e.nameOf(m.Model, m.Maker)
		if i == 0 {
			name = e.opening(m.Model, m.Maker)
		}
		parts = append(parts, name+" "+eitherYears(m.Years))
	}
	switch {
	case len(set) == 1 && asked:
		return eitherYears(set[0].Years)
	case len(set) == 1:
		return e.opening(set[0].Model, set[0].Maker) + ", " + eitherYears(set[0].Years)
	case len(set) > manyModels:
		return fmt.Sprintf("%s, one of %d models", fewYears(set), len(set))
	}
	return strings.Join(parts, ", or ")
}

// manyRuns is how many runs of years a headline names before it says the first and the last alone.
const manyRuns = 3

// fewYears gives the years of several models in few words.
func fewYears(set []ModelYears) string {
	var years []int
	for _, m := range set {
		years = append(years, m.Years...)
	}
	slices.Sort(years)
	years = slices.Compact(years)
	if len(edtf.Runs(years)) > manyRuns {
		return edtf.Range{First: years[0], Last: years[len(years)-1]}.String()
	}
	return eitherYears(years)
}

// tied gives the pairs that are as likely as the best, which is among them.
func (a *Answer) tied() []Odds {
	var list []Odds
	for _, o := range a.Odds {
		if odds.Rank(o.Chance) == odds.Rank(a.Best.Chance) {
			list = append(list, o)
		}
	}
	return list
}

// balance says how likely the best year is, where the odds lie, and what is left taken at its word.
func (a *Answer) balance() []string {
	e := a.engine
	first := fmt.Sprintf("%s %d is %s, %s.", e.opening(a.Best.Model, a.Best.Maker), a.Best.Year, howSure(a.Best.Chance), inHundred(a.Best.Chance))
	if tied := a.tied(); len(tied) > 1 {
		var set []ModelYears
		slices.SortFunc(tied, func(a, b Odds) int {
			return cmp.Or(strings.Compare(a.Model, b.Model), strings.Compare(a.Maker, b.Maker), a.Year-b.Year)
		})
		for _, o := range tied {
			set = appendYear(set, o)
		}
		first = fmt.Sprintf("No one year is the likeliest: %s are alike, %s each.", e.modelYears(set), inHundred(a.Best.Chance))
	}
	most, half := e.modelYears(a.Likely95), e.modelYears(a.Likely50)
	if most != half {
		most += ", half on " + half
	}
	list := []string{first, "95 in 100 of the odds lie on " + most + "."}
	switch {
	case len(a.Observed) == 0:
		return append(list, "Nothing is answered yet: these are the years of the models as made.")
	case !a.Contradicts():
		return append(list, fmt.Sprintf("Taken at its word: %s.", e.modelYears(a.Strict.Years)))
	}
	return list
}

// conflicts says what does not fit, in one sentence where one will do, and
// then what is left without each observation.
func (a *Answer) conflicts() []string {
	list := a.conflictSets()
	odd := a.OddOnes()
	for _, w := range odd {
		words := fmt.Sprintf("The odd one out may be the %s: without it %s remains. %s", a.featureName(w.Feature), a.engine.modelYears(w.Years), a.explain(w.Feature))
		list = append(list, strings.Join(append([]string{words}, a.engine.specialOrders(w)...), " "))
	}
	if len(odd) == 0 {
		return append(list, "No single part is the odd one out: at least two do not belong with the rest, or it is no bow that the register knows.")
	}
	return append(list, "If all is as you said after a second look, it is not one bow, or the register is wrong.")
}

// conflictSets says which observations exclude each other: a headline first.
func (a *Answer) conflictSets() []string {
	subject := "No bow on record"
	if len(a.question.Models) == 1 {
		subject = "No " + a.engine.nameOf(a.Best.Model, a.Best.Maker) + " on record"
	}
	sets := a.Strict.Conflicts
	if hub, others := around(sets); hub != "" {
		return []string{fmt.Sprintf("%s has %s together with %s", subject, a.observed(hub), english.Or(a.eachObserved(others)))}
	}
	if single := slices.Concat(sets...); len(sets) > 0 && len(single) == len(sets) {
		return []string{fmt.Sprintf("%s has %s", subject, english.Or(a.eachObserved(single)))}
	}
	var list []string
	if len(sets) != 1 {
		list = append(list, subject+" has all of this")
	}
	for _, set := range sets {
		parts := a.eachObserved(set)
		last := len(parts) - 1
		with := ""
		if last > 0 {
			with = strings.Join(parts[:last], ", ") + " together with "
		}
		list = append(list, subject+" has "+with+parts[last])
	}
	return list
}

// around gives the one feature that all of several pairs share, and what it is paired with.
func around(sets [][]string) (hub string, others []string) {
	if len(sets) < 2 {
		return "", nil
	}
	for _, hub := range sets[0] {
		others = nil
		for _, set := range sets {
			if len(set) == 2 && slices.Contains(set, hub) {
				others = append(others, set[one(set[0] == hub)])
			}
		}
		if len(others) == len(sets) {
			return hub, others
		}
	}
	return "", nil
}

// advice says what to do first about what does not fit.
func (a *Answer) advice() string {
	odd := a.OddOnes()
	var names []string
	for _, w := range odd {
		names = append(names, "the "+a.featureName(w.Feature))
	}
	switch len(names) {
	case 0:
		return "Look at each again: at least two do not belong, or it is not one bow."
	case 1:
		return "Look again at " + names[0] + ": it may be misread, a replaced part or a special order."
	}
	return "Look again at " + english.And(names) + ": one may be misread, a replaced part or a special order."
}

// OddOnes gives the observations without which something is left, where they
// contradict each other: those that speak most against the best pair first.
func (a *Answer) OddOnes() []Without {
	var list []Without
	for _, w := range a.Strict.Without {
		if len(w.Years) > 0 {
			list = append(list, w)
		}
	}
	weigh := func(feature string) float64 {
		return a.Evidence[slices.IndexFunc(a.Evidence, func(e Evidence) bool { return e.Feature == feature })].Decibans
	}
	slices.SortStableFunc(list, func(a, b Without) int { return compareDecibans(weigh(a.Feature), weigh(b.Feature)) })
	return list
}

// explain says how a feature may have come to be the odd one out.
func (a *Answer) explain(feature string) string {
	f, o := a.engine.feature(feature), a.observation(feature)
	if f.Record != nil && f.Record.Altered != nil && f.Record.Altered.Chance.Value > 0 {
		for _, to := range f.Record.Altered.To {
			if slices.Contains(o.Values, to.Value) {
				return "Later owners are known to have changed this."
			}
		}
	}
	if o.Sure == schema.Unsure {
		return "You were not sure of it: look again first."
	}
	return "It may be a replaced or refinished part, a special order or a misreading."
}

func (a *Answer) observation(feature string) Observation {
	for _, o := range a.Observed {
		if o.Feature == feature {
			return o
		}
	}
	return Observation{}
}

// featureName is the feature's name within a sentence.
func (a *Answer) featureName(feature string) string {
	return schema.Lowered(a.engine.feature(feature).Name())
}

// observed puts an observation into words: "riser wood Padauk".
func (a *Answer) observed(feature string) string {
	return a.featureName(feature) + " " + a.values(a.observation(feature))
}

func (a *Answer) eachObserved(features []string) []string {
	list := make([]string, len(features))
	for i, f := range features {
		list[i] = a.observed(f)
	}
	return list
}

// values names what was seen.
func (a *Answer) values(o Observation) string {
	f := a.engine.feature(o.Feature)
	if but := f.allBut(o.Values); but != "" {
		return but
	}
	names := slices.Clone(o.Values)
	for i, v := range names {
		if w, words := f.Domain.(*Wordings); words && v != SomethingElse && w.place(v) < 0 {
			names[i] = "\"" + v + "\""
		} else if words && v != SomethingElse {
			names[i] = w.Label([]int{w.place(v)})
		} else if outcomes, err := f.Domain.Observed(v); err == nil {
			names[i] = f.Domain.Label(outcomes)
		}
	}
	return english.Or(names)
}

// manyNamed is how many values are named one by one where few are left out.
const manyNamed = 2

// allBut says which values are not among many that were seen: "anything but Padauk"; or nothing.
func (f *Feature) allBut(seen []string) string {
	v, ok := f.Domain.(*Values)
	if !ok || len(seen) <= manyNamed || !slices.Contains(seen, SomethingElse) {
		return ""
	}
	var rest []string
	for i, id := range v.IDs {
		if !slices.Contains(seen, id) {
			rest = append(rest, v.Label([]int{i}))
		}
	}
	if len(rest) == 0 || len(rest) > manyNamed {
		return ""
	}
	return "anything but " + english.Or(rest)
}

// doubts are the observer's words where they are not sure.
var doubts = map[schema.Sureness]string{schema.Fairly: ", fairly sure", schema.Unsure: ", not sure"}

// Worth puts bits into words; most is said of the question that tells most.
func Worth(bits float64, most bool) string {
	switch {
	case bits < LeastBits:
		return "tells next to nothing"
	case most:
		return "tells most"
	case bits >= 1:
		return "tells much"
	case bits >= .3:
		return "tells something"
	}
	return "tells a little"
}

// stillDecibans is the weight below which an observation says next to nothing.
const stillDecibans = .5

// weight puts decibans into words: how much likelier the observation is if
// the answer is right than before anything was seen.
func weight(decibans float64) string {
	ratio := math.Pow(10, math.Abs(decibans)/10)
	switch {
	case math.Abs(decibans) < stillDecibans:
		return "next to nothing either way"
	case math.IsInf(decibans, -1):
		return "excludes it"
	case decibans > 0:
		return times(ratio) + " to 1 for it"
	}
	return times(ratio) + " to 1 against it"
}

// eitherYears gives rising years as a choice: "1965 or 1966", "1958–1962 or 1965".
func eitherYears(years []int) string {
	var choices []string
	for _, r := range edtf.Runs(years) {
		if r.Last == r.First+1 {
			choices = append(choices, strconv.Itoa(r.First), strconv.Itoa(r.Last))
			continue
		}
		choices = append(choices, r.String())
	}
	return english.Or(choices)
}
