package checks

import (
	"fmt"
	"slices"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

var seenAfterAll = Check{
	Name: "seen-after-all", Family: Examples, Level: Warning,
	Meaning: "What somebody never saw on bows of a model stands on a bow on record, or is claimed of it or counted on it by somebody else. A bow counts where it is of the years meant and its observer was not unsure.",
	Example: `never-seen:
  - {feature: riser-wood, value: walnut, span: 1958/1962, of: 30, cites: [letter-aldous]}
features:
  - {feature: riser-wood, value: walnut, span: 1958/1962, cites: ["list-1958, p. 2"]}
→ riser wood "walnut", never seen on bows of 1958 to 1962, 30 bows looked at, is claimed of the Plover`,
	Remedy: "If one has turned up, cite who has seen it under against: of never-seen, so that both are shown. If an owner brought it about, add original: false to the observation.",
	Run: func(p *Pass) {
		for _, m := range p.Ref.Models.All() {
			for _, n := range p.Ref.NeverSeenOn(m) {
				if f, known := p.Ref.Features.Get(n.Feature.Value); known {
					p.countedAfterAll(m, n, f)
					p.claimedAfterAll(m, n, f)
				}
			}
		}
		for _, e := range p.Ref.Examples.All() {
			if m, known := p.Ref.Models.Get(e.Model.Value); known {
				p.shownAfterAll(e, m)
			}
		}
	},
}

// claimedAfterAll reports the claims of a value that somebody never saw in any of
// the years in which they can hold, unless each side names the other.
func (p *Pass) claimedAfterAll(m *schema.Model, n *schema.NeverSeen, f *schema.Feature) {
	meant := p.yearsMeant(n)
	for _, c := range p.Ref.ClaimsOn(m) {
		if c.FeatureID() != f.ID || !f.Shows(n.Value.Value, c.Value.Value+c.Range.Written) || !p.ofTheSameBows(c.When, n.When) ||
			!meant.Overlaps(p.yearsOf(c)) || anyWithin(c.Citations(), n.Against) || anyWithin(n.Cites, c.Against) {
			continue
		}
		p.Report(Finding{
			Pos: n.Value.Pos, Message: fmt.Sprintf("%s is claimed of the %s", p.neverSeen(n), m.Title()), Claims: []*schema.Claim{c},
			Why: []Place{p.unseen(n), p.side(c)},
		})
	}
}

// ofTheSameBows says that a claim is about the bows of which it is said that they
// never have it: each condition of these is one of the claim's, and both can hold.
// Two patterns are the same only where they are written alike.
func (p *Pass) ofTheSameBows(claimed, meant []schema.Premise) bool {
	return p.Ref.CanHoldTogether(claimed, meant) && !slices.ContainsFunc(meant, func(m schema.Premise) bool {
		f, known := p.Ref.Features.Get(m.Feature.Value)
		return !known || !slices.ContainsFunc(claimed, func(c schema.Premise) bool {
			return c.Feature.Value == f.ID && (schema.FeatureKind(f.Kind.Value) != schema.Wording || c.String() == m.String())
		})
	})
}

// countedAfterAll reports counts of a value that somebody never saw on any bow, of
// whatever years, unless each side names the other.
func (p *Pass) countedAfterAll(m *schema.Model, n *schema.NeverSeen, f *schema.Feature) {
	if !n.Span.IsZero() || len(n.When) > 0 {
		return // those counted may be others
	}
	for _, r := range m.Counted {
		if r.Feature.Value == f.ID && r.With.Value > 0 && f.Shows(n.Value.Value, r.Value.Value) && !anyWithin(r.Cites, n.Against) {
			p.Report(Finding{
				Pos: n.Value.Pos, Message: fmt.Sprintf("%s is counted on %d of the %s", p.neverSeen(n), r.With.Value, m.Title()),
				Why: []Place{p.unseen(n), {Pos: r.Pos, Message: fmt.Sprintf("%s it was %s", p.says(r.Cites), r.Words())}},
			})
		}
	}
}

// shownAfterAll reports what a bow shows though somebody never saw it.
func (p *Pass) shownAfterAll(e *schema.Example, m *schema.Model) {
	for _, n := range p.Ref.NeverSeenOn(m) {
		f, known := p.Ref.Features.Get(n.Feature.Value)
		if !known || anyWithin([]schema.Citation{{Source: "example-" + e.ID}}, n.Against) || !p.ofThoseMeant(e, n) {
			continue
		}
		for _, o := range e.Observed {
			if o.Feature.Value == f.ID && !o.OwnersWork() && o.Sureness() != schema.Unsure && shows(f, n.Value, o) {
				p.Report(Finding{
					Pos: o.Pos, Message: fmt.Sprintf("%s, never seen on the %s, is on this bow", p.observed(o), m.Title()),
					Why: []Place{p.unseen(n)},
				})
			}
		}
	}
}

// ofThoseMeant says that a bow is one of those that a person speaks of: of the
// years meant, by its papers, and with all that must be on it.
func (p *Pass) ofThoseMeant(e *schema.Example, n *schema.NeverSeen) bool {
	if !n.Span.IsZero() {
		if e.Documented == nil {
			return false
		}
		meant, own := p.Ref.Years(n.Span), p.Ref.Years(e.Documented.Span)
		if own.A < meant.A || own.D > meant.D {
			return false
		}
	}
	return !slices.ContainsFunc(n.When, func(when schema.Premise) bool {
		f, known := p.Ref.Features.Get(when.Feature.Value)
		return !known || !slices.ContainsFunc(e.Observed, func(o *schema.Observed) bool {
			return o.Feature.Value == f.ID && slices.ContainsFunc(when.Values, func(v schema.Text) bool {
				return shows(f, v, o)
			})
		})
	})
}

// shows says that whatever was observed of the feature is what is meant.
func shows(f *schema.Feature, meant schema.Text, o *schema.Observed) bool {
	return len(o.Value) > 0 && !slices.ContainsFunc(o.Value, func(v schema.Text) bool { return !f.Shows(meant.Value, v.Value) })
}

// unseen is the side of those who never saw one.
func (p *Pass) unseen(n *schema.NeverSeen) Place {
	return Place{Pos: n.Pos, Message: fmt.Sprintf("%s it was %s", p.says(n.Cites), p.Ref.NeverSeenWords(n))}
}

func (p *Pass) neverSeen(n *schema.NeverSeen) string {
	return fmt.Sprintf("%s %s, %s,", p.featureName(n.Feature.Value), quote(n.Value.Value), p.Ref.NeverSeenWords(n))
}

// yearsMeant are the years of the bows that were looked at; all where none are given.
func (p *Pass) yearsMeant(n *schema.NeverSeen) edtf.Years {
	if n.Span.IsZero() {
		h := p.Ref.Horizon()
		return edtf.Years{A: h.First, B: h.First, C: h.Last, D: h.Last}
	}
	return p.Ref.Years(n.Span)
}

// anyWithin says that one of the citations is among those of the other side.
func anyWithin(cites, side []schema.Citation) bool {
	return slices.ContainsFunc(cites, func(c schema.Citation) bool { return slices.ContainsFunc(side, c.Within) })
}
