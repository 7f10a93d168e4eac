package desk

import (
	"net/http"
	"slices"

	"yearmark/schema"
	"yearmark/site/prose"
)

// preview answers a text as the site would show it.
func (d *Desk) preview(w http.ResponseWriter, r *http.Request) error {
	kind, ref, err := d.sent(r)
	if err != nil {
		return err
	}
	within, _ := ref.Record(kind, r.PathValue("id")) // a new one is none yet
	d.render(w, previewPart(prose.Render(postedValues(r.PostForm)[bodyPath], prose.Options{Links: previewLinks{d, ref, within}, TopLevel: 3, Prefix: "Look"})))
	return nil
}

// previewLinks lead from a preview to the pages of the site.
type previewLinks struct {
	desk   *Desk
	ref    *schema.Reference
	within schema.Record // nil of a new one
}

// Resolve finds a record or a claim.
func (l previewLinks) Resolve(kind, id string) (prose.Target, bool) {
	if kind == "claim" {
		c, ok := l.ref.ClaimNamed(id, l.within)
		if !ok {
			return prose.Target{}, false
		}
		return prose.Target{Address: l.desk.site + c.Address(), Title: c.Anchor()}, true
	}
	find := l.ref.Record
	if schema.Kind(kind) == schema.KindSource {
		find = func(_ schema.Kind, id string) (schema.Record, bool) { return l.ref.Cited(id) }
	}
	r, ok := find(schema.Kind(kind), id)
	if !ok {
		return prose.Target{}, false
	}
	return prose.Target{Address: l.desk.site + r.Address(), Title: r.Title()}, true
}

// Picture finds a picture of the folder.
func (l previewLinks) Picture(path string) (prose.Picture, bool) {
	if !slices.Contains(l.ref.Pictures, path) {
		return prose.Picture{}, false
	}
	return prose.Picture{Address: l.desk.shown + schema.PicturesFolder + "/" + path}, true
}
