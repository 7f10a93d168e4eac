package iiif

import (
	"slices"
	"strconv"
	"strings"

	"yearmark/schema"
)

// use is one claim that cites a place.
type use struct {
	claim   *schema.Claim
	against bool
}

// uses finds which claims cite each place of the sources that have manifests.
func (f Facts) uses() map[*schema.SourcePlace][]use {
	all := map[*schema.SourcePlace][]use{}
	add := func(cites []schema.Citation, u use) {
		for _, cite := range cites {
			if s, ok := f.Ref.Sources.Get(cite.Source); !ok || s.MayShow() != schema.ShowsAll {
				continue
			}
			for _, place := range f.Ref.Quoted(cite) {
				if list := all[place]; len(list) == 0 || list[len(list)-1] != u {
					all[place] = append(list, u)
				}
			}
		}
	}
	for c := range f.Ref.Claims() {
		add(c.Citations(), use{claim: c})
		add(c.Against, use{claim: c, against: true})
	}
	return all
}

// canvases gives a canvas for each scan, in the order of the record, and one
// for the recording.
func (d *Documents) canvases(s *schema.Source) []canvas {
	var list []canvas
	var notes []noted
	at := map[string]int{} // by scan
	base := folder + "sources/" + s.ID + "/"
	for _, place := range s.Places {
		scan, ok := d.Published.Scan(place)
		if !ok {
			continue
		}
		i, known := at[place.Scan.Value]
		if !known {
			i = len(list)
			at[place.Scan.Value] = i
			list, notes = append(list, d.scanned(base+place.Scan.Value, scan)), append(notes, noted{})
		}
		notes[i].add(place, region(&list[i], place))
	}
	for i := range list {
		list[i].Label = d.words(strings.Join(notes[i].names(), "; "))
	}
	if r, ok := d.Published.Recording(s); ok {
		c, excerpts := d.recorded(base+"recording", r), noted{}
		for _, place := range s.EveryPlace() {
			if span, timed := place.Locator().Time(); timed {
				excerpts.add(place, fragment(c.ID, span.Fragment()))
			}
		}
		list, notes = append(list, c), append(notes, excerpts)
	}
	for i := range list {
		d.annotate(&list[i], notes[i])
	}
	return list
}

// scanned is a canvas on which a scan is painted.
func (d *Documents) scanned(way string, scan Scan) canvas {
	c := canvas{ID: d.at(way), Type: "Canvas", Width: scan.Width, Height: scan.Height}
	c.paint(d.picture(scan.Sizes[len(scan.Sizes)-1]))
	return c
}

// recorded is a canvas that plays a recording.
func (d *Documents) recorded(way string, r Recording) canvas {
	c := canvas{ID: d.at(way), Type: "Canvas", Label: d.words("Recording"), Duration: r.Length.Seconds()}
	c.paint(resource{ID: d.at(r.Path), Type: "Sound", Format: format(r.Path), Duration: c.Duration})
	return c
}

// paint puts what a canvas shows or plays on all of it.
func (c *canvas) paint(body resource) {
	c.Items = []page{{ID: c.ID + "/page", Type: "AnnotationPage", Items: []annotation{
		{ID: c.ID + "/page/painting", Type: "Annotation", Motivation: "painting", Body: body, Target: c.ID},
	}}}
}

// noted are the places on a canvas, each with the part of the canvas that it takes.
type noted struct {
	places []*schema.SourcePlace
	parts  []any
}

func (n *noted) add(place *schema.SourcePlace, part any) {
	n.places, n.parts = append(n.places, place), append(n.parts, part)
}

// names are those of the places, each once.
func (n *noted) names() []string {
	var list []string
	for _, place := range n.places {
		if !slices.Contains(list, place.At.Value) {
			list = append(list, place.At.Value)
		}
	}
	return list
}

// region is the part of a canvas that a place takes; all of it where no region
// within it is given.
func region(c *canvas, place *schema.SourcePlace) any {
	r, ok := place.Region.Within(c.Width, c.Height)
	if place.Region.IsZero() || !ok {
		return c.ID
	}
	return fragment(c.ID, schema.Fragment(r))
}

func fragment(canvas, value string) part {
	return part{"SpecificResource", canvas, selector{"FragmentSelector", MediaFragments, value}}
}

// annotate adds to a canvas what stands at its places, and each claim that
// cites them.
func (d *Documents) annotate(c *canvas, n noted) {
	notes := page{ID: c.ID + "/claims", Type: "AnnotationPage", Label: d.words("What it says, and what rests on it")}
	add := func(label words, motivation string, body, target any) {
		notes.Items = append(notes.Items, annotation{notes.ID + "/" + strconv.Itoa(len(notes.Items)+1), "Annotation", label, motivation, body, target})
	}
	for i, place := range n.places {
		if says := place.Says.Value; says != "" {
			var label words
			if by := place.SaidBy(); by != "" {
				label = d.words(by)
			}
			add(label, "supplementing", d.text(says), n.parts[i])
		}
		for _, u := range d.uses()[place] {
			add(nil, "commenting", d.comment(u), n.parts[i])
		}
	}
	if len(notes.Items) > 0 {
		c.Annotations = []page{notes}
	}
}

// comment says what a claim says, and where it stands.
func (d *Documents) comment(u use) []any {
	statement := d.Ref.Statement(u.claim)
	value := statement
	if years := d.Timeline.Years(u.claim); !years.Empty() {
		value += ", " + years.String()
	}
	if u.against {
		value = "Speaks against: " + value
	}
	return []any{d.text(value + "."), resource{
		ID: d.at(u.claim.Address()), Type: "Text", Label: d.words(statement), Format: "text/html", Language: []string{d.language()},
	}}
}
