package pages

import (
	"cmp"
	"slices"

	"yearmark/schema"
	"yearmark/site/prose"
)

// sourceView is the page of one source.
type sourceView struct {
	Base                 base
	Name, Kind, By       string
	Issued, Kept, Copied string
	Checksum             string
	Link                 string // only where it may be followed
	LinkWords            string
	Unseen               bool // nobody of the register has seen it
	Believed             string
	Text                 textView
	ReliesOn, ReliedOnBy []anchor
	Places               []placeView
	Uses, Claims         int
	Record               *recordView
}

// placeView is one place in a source and what rests on it.
type placeView struct {
	Anchor, Name string
	Uses         []useView
	More         int // statements beyond those listed
}

// useView is one statement that cites the place.
type useView struct {
	Text, Href, Years string
	Against           bool
	SeenIn            string // the year of a sighting
}

func (p *page) source(r *schema.Source) sourceView {
	kind := schema.SourceKind(r.Kind.Value)
	v := sourceView{
		Name: r.Title(), Kind: capital(kindWords[kind]), By: r.By.Value, Kept: r.Kept.Value, Text: p.text(r.Body, r),
		Unseen:   !r.Consulted.Pos.IsZero() && !r.Consulted.Value,
		Believed: share(p.ref.Settings.Judgement.Credence[kind].Value),
	}
	if !r.Issued.IsZero() {
		v.Issued = spanWords(r.Issued)
	}
	if v.LinkWords = r.Link.Value; prose.Outside(r.Link.Value) {
		v.Link = r.Link.Value
	}
	if r.Copied != nil {
		v.Copied, v.Checksum = r.Copied.On.String(), r.Copied.SHA256.Value
	}
	for _, id := range r.ReliesOn {
		v.ReliesOn = append(v.ReliesOn, p.sourceAnchor(id.Value))
	}
	for _, other := range p.facts.Weighing.ReliedOnBy(r.ID) {
		v.ReliedOnBy = append(v.ReliedOnBy, anchor{p.to(other.Address()), other.Title()})
	}
	p.sourceUses(r.ID, &v)
	v.Base = p.base(r.Title(), v.Kind+": what rests on it, place by place.", "sources/index.html")
	v.Base.Trail = []anchor{{p.to("sources/index.html"), "Sources"}}
	v.Base.Scripts, v.Record = scripts("open.js"), recordOf(r)
	return v
}

// usesShown bounds what one source's page lists of one place.
const usesShown = 400

// sourceUses lists what cites the source, place by place.
func (p *page) sourceUses(id string, v *sourceView) {
	cited := p.restingOn(id)
	if cited == nil {
		return
	}
	claims := map[*schema.Claim]bool{}
	v.Places = p.places(cited)
	for _, place := range cited.Places {
		v.Uses += len(place.Uses)
		for _, u := range place.Uses {
			if u.Claim != nil {
				claims[u.Claim] = true
			}
		}
	}
	v.Claims = len(claims)
}

// places lists the places of a source and what rests on each.
func (p *page) places(cited *citedSource) []placeView {
	var views []placeView
	for _, place := range cited.Places {
		view := placeView{Anchor: schema.Citation{Place: place.Name}.Anchor(), Name: cmp.Or(place.Name, "At large")}
		for _, u := range place.Uses[:min(len(place.Uses), usesShown)] {
			view.Uses = append(view.Uses, p.use(u))
		}
		view.More = len(place.Uses) - len(view.Uses)
		views = append(views, view)
	}
	return views
}

func (p *page) use(u use) useView {
	v := useView{Against: u.Against}
	switch {
	case u.Claim != nil:
		v.Text, v.Href, v.Years = p.whole(u.Claim), p.claimHref(u.Claim), p.years(u.Claim)
		if u.Year != 0 {
			v.SeenIn = number(int(u.Year))
		}
	default:
		v.Text, v.Href = u.By.Title()+": "+u.What.String(), p.to(u.By.Address())
		if ex, ok := u.By.(*schema.Example); ok && u.What == saidYear {
			v.Years = spanWords(ex.Documented.Span)
		}
	}
	return v
}

// sourcesByKind groups the sources, contemporary papers first as in the list of kinds.
func (s *Site) sourcesByKind() map[schema.SourceKind][]*schema.Source {
	groups := map[schema.SourceKind][]*schema.Source{}
	for _, r := range s.ref.Sources.All() {
		kind := schema.SourceKind(r.Kind.Value)
		groups[kind] = append(groups[kind], r)
	}
	for _, list := range groups {
		slices.SortStableFunc(list, func(a, b *schema.Source) int {
			return cmp.Or(cmp.Compare(firstYear(a.Issued), firstYear(b.Issued)), cmp.Compare(a.Title(), b.Title()))
		})
	}
	return groups
}

// firstYear is the first year of a span, or none's: far in the future.
func firstYear(s schema.Span) int {
	if year, ok := s.Earliest(); ok {
		return year
	}
	return 1 << 30
}
