package pages

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/english"
	"yearmark/site/charts"
)

// featureView is the page of one feature, or a further part of it where many
// models have it.
type featureView struct {
	Means              []sayingView
	Base               base
	Name, Ask, Look    string
	Picture            string
	Kind, Effort, Held string
	Altered, NotAFault string
	First              bool // the part that explains the feature
	Text               textView
	Values             []valueView
	Alikes             []alikeView
	Chart              *chartView
	Parts              []partView
	Claims, Models     int
	Record             *recordView // on the first part
}

// valueView is one value, drawn and told.
type valueView struct {
	Anchor, Name, Tell, Picture string
	Also                        alsoView // other names
	Seen                        string   // on how many bows, or empty
	Users                       []namedYears
	More                        int
}

// modelsAPart is how many models one part of a feature's page shows.
const modelsAPart = 60

// usersShown is how many claims stand beside one value.
const usersShown = 24

// featureParts is in how many parts a feature's page comes.
func (s *Site) featureParts(f *schema.Feature) int {
	return max(1, (s.using()[f.ID]+modelsAPart-1)/modelsAPart)
}

// featurePage writes a feature's page or a further part of it. name is that of
// the file, without what it ends with.
func (s *Site) featurePage(path, name string) (writing, bool) {
	id, number, further := strings.Cut(name, ".")
	f, ok := s.ref.Features.Get(id)
	if !ok {
		return nil, false
	}
	part, parts := 0, s.featureParts(f)
	if further {
		n, err := strconv.Atoi(number)
		if err != nil || n < 2 || n > parts {
			return nil, false
		}
		part = n - 1
	}
	if path != featurePart(f, part) { // written otherwise, as ".02"
		return nil, false
	}
	return pageOf(s, path, featurePage, func(p *page) featureView { return p.feature(f, part, parts) }), true
}

// featurePart is the address of a part. A record's identifier has no full
// stop, so no record has this address.
func featurePart(f *schema.Feature, part int) string {
	if part == 0 {
		return f.Address()
	}
	return strings.TrimSuffix(f.Address(), ".html") + fmt.Sprintf(".%d.html", part+1)
}

// userOf is a model and the claims about one feature that hold for it.
type userOf struct {
	model  *schema.Model
	claims []*schema.Claim
}

// usersOf gives the models with claims about a feature, by first year.
func (s *Site) usersOf(f *schema.Feature) []userOf { return s.users()[f.ID] }

// countUsers counts the models with claims about each feature, without sorting them.
func (s *Site) countUsers() map[string]int {
	type tally struct {
		last *schema.Model
		n    int
	}
	tallies := map[string]*tally{}
	for _, m := range s.ref.Models.All() {
		for _, c := range slices.Concat(s.featuresOn(m), s.specsOn(m)) {
			t := tallies[c.FeatureID()]
			if t == nil {
				t = &tally{}
				tallies[c.FeatureID()] = t
			}
			if t.last != m {
				t.last, t.n = m, t.n+1
			}
		}
	}
	counts := make(map[string]int, len(tallies))
	for id, t := range tallies {
		counts[id] = t.n
	}
	return counts
}

// usersByFeature sorts every model's claims by feature, once.
func (s *Site) usersByFeature() map[string][]userOf {
	users := map[string][]userOf{}
	for _, m := range s.byMade(s.ref.Models.All()) {
		for _, g := range byFeature(slices.Concat(s.featuresOn(m), s.specsOn(m))) {
			users[g.feature] = append(users[g.feature], userOf{m, g.claims})
		}
	}
	return users
}

func (p *page) feature(f *schema.Feature, part, parts int) featureView {
	all := p.usersOf(f)
	shown := all[min(part*modelsAPart, len(all)):min((part+1)*modelsAPart, len(all))]
	v := featureView{
		Name: f.Title(), First: part == 0, Models: len(all), Chart: p.featureChart(f, shown),
		Parts: partsOf(part, parts, func(i int) string { return p.to(featurePart(f, i)) }),
	}
	for _, u := range all {
		v.Claims += len(u.claims)
	}
	if v.First {
		v.Means = p.meanings(f)
		v.Ask, v.Look, v.Picture = f.Ask.Value, f.Look.Value, p.picture(f.Picture.Value)
		v.Effort, v.Held = effortWords[f.LookEffort()], heldWords[cmp.Or(f.Held.Value, "usual")]
		v.Kind, v.Altered, v.NotAFault = p.kindOf(f), p.alteredWords(f), f.NotAFault.Value
		v.Text, v.Values = p.text(f.Body, f), p.values(f, all)
		v.Alikes = p.alikes(f, func(string) bool { return true })
	}
	title := f.Title()
	if part > 0 {
		title += ", part " + number(part+1)
	}
	v.Base = p.base(title, f.Ask.Value+" Where to look, what each answer looks like, and which models had it when.", "features/index.html")
	v.Base.Trail = []anchor{{p.to("features/index.html"), "Features"}}
	if part == 0 {
		v.Base.Scripts, v.Record = scripts("open.js"), p.ownRecord(f)
	}
	return v
}

// kindOf says what is asked of the eye.
func (p *page) kindOf(f *schema.Feature) string {
	switch schema.FeatureKind(f.Kind.Value) {
	case schema.Figure:
		return "A figure" + ofUnit(f)
	case schema.Wording:
		return "Letters and figures, to be copied as they stand"
	case schema.Presence:
		return "Present or absent"
	}
	return "One of " + number(len(f.Values)) + " values, or something else"
}

// unitNames are the units in full, where they would be read wrongly or not at all.
var unitNames = map[schema.Unit]string{"in": "inches", "lb": "pounds", "gr": "grains", "g": "grams"}

func ofUnit(f *schema.Feature) string {
	if f.Unit.Value == "" {
		return ""
	}
	words := " in " + cmp.Or(unitNames[schema.Unit(f.Unit.Value)], f.Unit.Value)
	if !f.Plausible.IsZero() {
		words += ", between " + figure(f.Plausible.Low) + " and " + figure(f.Plausible.High)
	}
	return words
}

func (p *page) alteredWords(f *schema.Feature) string {
	if f.Altered == nil || f.Altered.Chance.Value <= 0 {
		return ""
	}
	var names []string
	for _, t := range f.Altered.To {
		names = append(names, f.ValueName(t.Value))
	}
	return "Later owners change it to " + english.And(names) + " on about " + charts.Percent(f.Altered.Chance.Value) + " of bows"
}

// values draws each declared value with the claims that use it.
func (p *page) values(f *schema.Feature, all []userOf) []valueView {
	using := map[string][]*schema.Claim{}
	for _, u := range all {
		for _, c := range u.claims {
			if list := using[c.Value.Value]; c.Maker == nil || !slices.Contains(list, c) {
				using[c.Value.Value] = append(list, c)
			}
		}
	}
	var list []valueView
	declared := f.Values
	if schema.FeatureKind(f.Kind.Value) == schema.Presence {
		present, _ := f.Value(schema.Present)
		absent, _ := f.Value(schema.Absent)
		declared = []*schema.FeatureValue{present, absent}
	}
	for _, value := range declared {
		id := value.ID.Value
		v := valueView{Anchor: valueAnchor(id), Name: capital(f.ValueName(id)), Also: p.also(value.Also), Tell: value.Tell.Value, Picture: p.picture(value.Picture.Value)}
		if n := p.counted()[f.ID][id]; n > 0 {
			v.Seen = english.Count(n, "bow on record", "bows on record")
		}
		for i, c := range p.inOrder(using[id]) {
			if i == usersShown {
				v.More = len(using[id]) - usersShown
				break
			}
			v.Users = append(v.Users, namedYears{claimant(c), p.years(c), p.to(c.Address())})
		}
		list = append(list, v)
	}
	return list
}

// claimant names whose claim it is: a model, or the models of a maker.
func claimant(c *schema.Claim) string {
	if c.Maker != nil {
		return "models of " + c.Maker.Title()
	}
	return c.Model.Title()
}

// featureChart draws who had which value when.
func (p *page) featureChart(f *schema.Feature, users []userOf) *chartView {
	var ranges []edtf.Range
	for _, u := range users {
		ranges = append(ranges, p.span(u.model))
	}
	c := p.newChart(f.Title()+" by model and year", charts.AxisOver(p.ref.Horizon(), ranges...), "Model", "Value", "Years")
	for _, u := range users {
		c.on = u.model
		c.row(u.model.Title(), p.to(u.model.Address()), u.claims, p.gaps(u.model, featureClaims{f.ID, u.claims}), p.what)
	}
	return c.done()
}
