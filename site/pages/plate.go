package pages

import (
	"slices"
	"strconv"

	"yearmark/schema"
)

// plateView is a drawing of a model with pointers to what tells its years.
type plateView struct {
	Picture pictureView
	Points  []plateDot
	Key     []plateKey
}

// plateDot is a numbered place on the drawing, in per cent of its width and height.
type plateDot struct{ Number, X, Y string }

// plateKey names what is pointed to of one feature.
type plateKey struct {
	Of    anchor
	Lines []plateLine
}

// plateLine is one numbered claim.
type plateLine struct {
	Number, What, Years, Href string
}

// plate gives a model's plate; nil where it has none, or its picture cannot be shown.
func (p *page) plate(m *schema.Model) *plateView {
	if m.Plate == nil {
		return nil
	}
	picture, shown := p.pictureOf(m.Plate.Picture.Value, "Plate of the "+m.Title()+": the bow, and the parts that tell its years")
	if !shown {
		return nil
	}
	v := &plateView{Picture: picture}
	for _, point := range m.Plate.Points {
		c := point.Of
		if c == nil || len(point.At) != 2 {
			continue // which the checks report
		}
		number := strconv.Itoa(len(v.Points) + 1)
		v.Points = append(v.Points, plateDot{number, percentOf(point.At[0]), percentOf(point.At[1])})
		line := plateLine{number, p.what(c), p.facts.Timeline.YearsOn(c, m).String(), p.claimHref(c)}
		if of := p.featureAnchor(c.FeatureID()); len(v.Key) == 0 || v.Key[len(v.Key)-1].Of != of {
			v.Key = append(v.Key, plateKey{Of: of})
		}
		last := &v.Key[len(v.Key)-1]
		last.Lines = append(last.Lines, line)
	}
	return v
}

func percentOf(n schema.Number) string { return strconv.FormatFloat(n.Value, 'f', -1, 64) + "%" }

// alikeView is two values of a feature that are easily taken for each other.
type alikeView struct {
	Feature string
	Sides   [2]valueView
	Tell    string // what tells them apart
	Cites   []citeView
}

// alikesShown is how many pairs a model's page shows: a row of a wide screen. The
// pages of the features show them all.
const alikesShown = 4

// alikes gives the pairs of a feature's values that are easily confused, in the
// order of its values, of which one at least is wanted.
func (p *page) alikes(f *schema.Feature, wanted func(value string) bool) []alikeView {
	var list []alikeView
	listed := map[[2]string]bool{}
	for _, value := range f.Values {
		for _, like := range value.Like {
			one, other := value.ID.Value, like.Value.Value
			second, known := f.Value(other)
			if !known || one == other || listed[[2]string{other, one}] || !wanted(one) && !wanted(other) {
				continue
			}
			listed[[2]string{one, other}] = true
			list = append(list, alikeView{f.Title(), [2]valueView{p.side(f, value), p.side(f, second)}, like.Tell.Value, nil})
		}
	}
	return list
}

func (p *page) side(f *schema.Feature, v *schema.FeatureValue) valueView {
	return valueView{Anchor: p.to(f.Address() + "#" + valueAnchor(v.ID.Value)), Name: capital(f.ValueName(v.ID.Value)), Tell: v.Tell.Value, Picture: p.picture(v.Picture.Value)}
}

// modelsAlike gives, by model, the ties of models that are easily taken for each
// other, those that other models' records have with them.
func (s *Site) modelsAlike() map[string][]modelTie {
	list := map[string][]modelTie{}
	for _, m := range s.ref.Models.All() {
		for _, r := range m.Related {
			if other, known := s.ref.Models.Get(r.Model.Value); known && r.How.Value == schema.LookAlike {
				tie := modelTie{m, other, r}
				list[m.ID] = append(list[m.ID], tie)
				list[other.ID] = append(list[other.ID], tie)
			}
		}
	}
	return list
}

type modelTie struct {
	one, other *schema.Model
	tie        *schema.Related
}

func (p *page) modelSide(m *schema.Model) valueView {
	return valueView{Anchor: p.to(m.Address()), Name: m.Title(), Picture: p.picture(m.Picture.Value)}
}

// alikesOn gives the models that this one is easily taken for, then the pairs of which the model has had one, feature by feature;
// where it has a plate, of the values that the plate points to.
func (p *page) alikesOn(m *schema.Model) []alikeView {
	claims := p.featuresOn(m)
	if m.Plate != nil {
		claims = slices.DeleteFunc(claims, func(c *schema.Claim) bool {
			return !slices.ContainsFunc(m.Plate.Points, func(at *schema.Point) bool { return at.Of == c })
		})
	}
	var list []alikeView
	for _, g := range byFeature(claims) {
		f, known := p.ref.Features.Get(g.feature)
		if !known {
			continue
		}
		had := func(value string) bool {
			return slices.ContainsFunc(g.claims, func(c *schema.Claim) bool { return c.Value.Value == value })
		}
		list = append(list, p.alikes(f, had)...)
	}
	var whole []alikeView
	for _, t := range p.alike()[m.ID] {
		whole = append(whole, alikeView{"The whole bow", [2]valueView{p.modelSide(t.one), p.modelSide(t.other)}, t.tie.Tell.Value, p.cites(t.tie.Cites)})
	}
	return append(whole, list[:min(len(list), max(0, alikesShown-len(whole)))]...)
}
