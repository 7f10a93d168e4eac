package pages

import (
	"cmp"
	"net/url"
	"regexp"
	"strings"

	"yearmark/schema"
)

// movedView stands at an address that a record had under another name.
type movedView struct {
	Base   base
	Was    string
	Now    anchor
	Places []movedPlace
}

// movedPlace is an address within the old page and where it leads now.
type movedPlace struct{ ID, Href, Text string }

// listMoved finds, by path, the record that has moved on from there.
func listMoved(ref *schema.Reference) map[string]schema.Record {
	moved := map[string]schema.Record{}
	for _, r := range ref.Records() {
		for _, was := range schema.Formerly(r) {
			path := r.Header().Kind.Folder() + "/" + was.Value + ".html"
			if _, taken := moved[path]; !taken {
				moved[path] = r
			}
		}
	}
	for _, r := range ref.Records() {
		delete(moved, r.Address())
	}
	return moved
}

func (p *page) moved(r schema.Record) movedView {
	v := movedView{Now: anchor{p.to(r.Address()), r.Title()}, Was: strings.TrimSuffix(p.path, ".html")}
	v.Base = p.base(r.Title()+" has another address", "", "")
	v.Base.Canonical = v.Now.Href
	place := func(id, text string) {
		v.Places = append(v.Places, movedPlace{id, v.Now.Href + "#" + id, text})
	}
	switch r := r.(type) {
	case *schema.Model, *schema.Maker:
		p.movedClaims(schema.ClaimsOf(r), place)
	case *schema.Feature:
		for _, value := range r.Values {
			place(valueAnchor(value.ID.Value), cmp.Or(value.Name.Value, value.ID.Value))
		}
	case *schema.Source:
		movedPlaces(p.quoted(r, p.places(p.restingOn(r.ID))), place)
	case *schema.Example:
		movedPlaces(p.places(p.restingOn("example-"+r.ID)), place)
	}
	return v
}

func (p *page) movedClaims(claims []*schema.Claim, place func(id, text string)) {
	for _, c := range claims {
		place(c.Anchor(), p.shortWhole(c))
	}
}

// movedPlaces leads on from the places of a source, or of an example, that have
// addresses on its page.
func movedPlaces(list []placeView, place func(id, text string)) {
	for _, v := range list {
		text := cmp.Or(v.Place, "the source at large")
		if v.Anchor != "" {
			place(v.Anchor, text)
		}
		for _, also := range v.Also {
			place(also, text)
		}
	}
}

// notFoundView stands where a host finds no page. It does not know its own
// address, so that all its links lead from the top of the host, by the path of the public address.
type notFoundView struct{ Base base }

// notFoundPath is the name under which hosts look for the page.
const notFoundPath = "404.html"

// plainPath is the path of a public address that needs no escaping anywhere.
var plainPath = regexp.MustCompile(`^/[A-Za-z0-9._~/-]*$`)

func (p *page) notFound() notFoundView {
	p.root = "/"
	if u, err := url.Parse(p.ref.Settings.PublicURL.Value); err == nil && plainPath.MatchString(u.Path) {
		p.root = strings.TrimSuffix(u.EscapedPath(), "/") + "/"
	}
	return notFoundView{p.base("No such page", "", "")}
}
