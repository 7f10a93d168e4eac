package pages

import (
	"cmp"
	"slices"

	"yearmark/schema"
	"yearmark/site/prose"
)

// sourceView is the page of one source.
type sourceView struct {
	Also                 alsoView // other names
	Know                 string   // where a visitor writes what they know of it
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
	Recording            soundView
	Rights, KeptBack     string
	Manifest             string // the way to its IIIF manifest; empty where it has none
	Places               []placeView
	Cues                 []cueView
	Uses, Claims         int
	Record               *recordView
}

// placeView is one place in a source and what rests on it.
type placeView struct {
	Anchor, Name string
	Place        string   // as cited; empty at large
	Also         []string // further anchors: the names under which the record lists it
	Pages        []pageView
	Uses         []useView
	More         int // statements beyond those listed
}

// pageView is one scan, marked, and all that a place says on it.
type pageView struct {
	Scan   scanView
	Quotes []quoteView
}

// add puts what a place says beside its scan, marked there with the others of it.
func (v *placeView) add(q quoteView) {
	scan := q.Scan
	q.Scan = scanView{}
	if last := len(v.Pages) - 1; last >= 0 && v.Pages[last].Scan.Picture.Src == scan.Picture.Src {
		page := &v.Pages[last]
		page.Quotes = append(page.Quotes, q)
		if scan.Mark == "" || page.Scan.Mark == "" {
			page.Scan.Mark = "" // all of it is meant
			return
		}
		page.Scan.Mark += scan.Mark
		return
	}
	v.Pages = append(v.Pages, pageView{scan, []quoteView{q}})
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
		Also: p.also(r.Also), Know: p.writeInOn(r.Address()),
		Name: r.Title(), Kind: capital(kindWords[kind]), By: r.By.Value, Kept: r.Kept.Value, Text: p.text(r.Body, r),
		Unseen:   !r.Consulted.Pos.IsZero() && !r.Consulted.Value,
		Believed: share(p.ref.SourceCredence(r)),
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
	v.Recording, v.Rights, v.KeptBack = p.recording(r), r.Rights.Value, keptBack(r)
	v.Manifest = p.manifest(r)
	p.sourceUses(r, &v)
	v.Cues = p.transcript(r, v.Places)
	v.Base = p.base(r.Title(), v.Kind+": what rests on it, place by place.", "sources/index.html")
	v.Base.Trail = []anchor{{p.to("sources/index.html"), "Sources"}}
	v.Base.Scripts, v.Record = scripts("open.js"), p.ownRecord(r)
	return v
}

// manifest is the way to a source's IIIF manifest, or nothing where it has none.
func (p *page) manifest(r *schema.Source) string {
	seen := r.Recording != nil || slices.ContainsFunc(r.Places, func(place *schema.SourcePlace) bool { return place.Scan.Value != "" })
	if !seen || r.MayShow() != schema.ShowsAll {
		return "" // without asking for a list of all files
	}
	list := p.Site.data()
	if i := slices.IndexFunc(list, func(f DataFile) bool { return f.Of == r }); i >= 0 {
		return p.to(list[i].Name)
	}
	return ""
}

// placesHeading heads what stands at a source's places.
func placesHeading(v sourceView) string {
	for _, place := range v.Places {
		if len(place.Pages) > 0 {
			return "What it says, and what rests on it"
		}
	}
	return "What rests on it"
}

// keptBack says what of a source may not leave the register's folder, where
// there is something.
func keptBack(r *schema.Source) string {
	scans := slices.ContainsFunc(r.Places, func(p *schema.SourcePlace) bool { return p.Scan.Value != "" })
	recorded := r.Recording != nil && r.Recording.File.Value != ""
	switch shows := r.MayShow(); {
	case shows == schema.ShowsNone && (len(r.Places) > 0 || recorded):
		return "Its words and pictures may not be shown here; the register’s editor has them."
	case shows != schema.ShowsWords || !scans && !recorded:
		return ""
	case scans && recorded:
		return "Its pages and its recording may not be shown here, only the words."
	case recorded:
		return "Its recording may not be played here; only the words are given."
	}
	return "Its pages may not be shown here, only the words."
}

// usesShown bounds what one source's page lists of one place.
const usesShown = 400

// sourceUses lists what cites the source, place by place, and what each says.
func (p *page) sourceUses(r *schema.Source, v *sourceView) {
	cited := p.restingOn(r.ID)
	claims := map[*schema.Claim]bool{}
	v.Places = p.quoted(r, p.places(cited))
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
		view := placeView{Anchor: schema.Citation{Place: place.Name}.Anchor(), Name: cmp.Or(place.Name, "At large"), Place: place.Name}
		for _, u := range place.Uses[:min(len(place.Uses), usesShown)] {
			view.Uses = append(view.Uses, p.use(u))
		}
		view.More = len(place.Uses) - len(view.Uses)
		views = append(views, view)
	}
	return views
}

// quoted adds to the places of a source that are cited what they say, and the
// places that the record lists besides.
func (p *page) quoted(r *schema.Source, views []placeView) []placeView {
	shown := map[*schema.SourcePlace]bool{}
	anchors := map[string]bool{}
	for _, v := range views {
		anchors[v.Anchor] = true
	}
	add := func(v *placeView, place *schema.SourcePlace) {
		shown[place] = true
		if q := p.quote(r, place); !q.empty() || len(q.Remarks) > 0 {
			v.add(q)
		}
		if own := (schema.Citation{Place: place.At.Value}).Anchor(); !anchors[own] {
			anchors[own] = true
			v.Also = append(v.Also, own)
		}
	}
	for i := range views {
		for _, place := range r.PlacesAt(views[i].Place) {
			add(&views[i], place)
		}
	}
	for _, place := range r.Places {
		if !shown[place] {
			views = append(views, placeView{Name: place.At.Value, Place: place.At.Value})
			add(&views[len(views)-1], place)
		}
	}
	slices.SortStableFunc(views, func(a, b placeView) int { return comparePlaces(a.Place, b.Place) })
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
