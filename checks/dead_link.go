package checks

import (
	"net/url"
	"strings"

	"yearmark/schema"
)

var deadLink = Check{
	Name: "dead-link", Family: Prose, Level: Error,
	Meaning: "The text links to a record or claim that is not there.",
	Example: `It followed the [Dunlin](model:dunlyn).
→ "model:dunlyn" leads nowhere`,
	Remedy: "Write the file name of the record after its kind, as in model:dunlin, or the claim's identifier, as in claim:padauk-riser or claim:plover/padauk-riser.",
	Run: func(p *Pass) {
		for _, e := range p.prose() {
			for _, l := range e.links {
				kind, id, ours := ourAddress(l.text)
				if !ours {
					p.relative(l)
					continue
				}
				known, there := p.target(e.record, kind, id)
				if there {
					continue
				}
				f := Finding{Pos: l.pos, Width: l.width, Message: quote(l.text) + " leads nowhere", Missing: fileLinked(e.record, kind, id)}
				home, name := id[:strings.LastIndex(id, "/")+1], id[strings.LastIndex(id, "/")+1:]
				f.nearest(l.text, name, known(), func(near string) string { return kind + ":" + home + near })
				p.Report(f)
			}
		}
	},
}

// ourAddress splits "model:dunlin", or says that the address is none of ours.
func ourAddress(address string) (kind, id string, ours bool) {
	kind, id, found := strings.Cut(address, ":")
	if !found {
		return "", "", false
	}
	switch kind {
	case "claim", "source", "model", "maker", "feature", "page", "example":
	default:
		return "", "", false
	}
	if plain, err := url.PathUnescape(id); err == nil {
		id = plain
	}
	return kind, id, true
}

// fileLinked is the file that a link of ours leads to.
func fileLinked(from schema.Record, kind, id string) string {
	if kind != "claim" {
		return schema.Kind(kind).FileOf(id)
	}
	end := strings.LastIndex(id, "/")
	if end < 0 {
		return from.Header().File
	}
	if maker, isMaker := strings.CutPrefix(id[:end], "makers/"); isMaker {
		return schema.KindMaker.FileOf(maker)
	}
	return schema.KindModel.FileOf(id[:end])
}

// relative reports links to files, which a published page cannot follow.
func (p *Pass) relative(l mention) {
	if u, err := url.Parse(l.text); unsafe(l.text) || err == nil && u.Scheme != "" {
		return // unsafe-address looks at these
	}
	p.Report(Finding{
		Pos: l.pos, Width: l.width, Message: quote(l.text) + " leads nowhere",
		Help: "Link to a record by its kind and file name, as in page:cautions or model:dunlin, or write the whole address with https://.",
	})
}

// target says whether a link of ours has something to lead to. What is known
// in its place, without the path before it, is listed only where it is wanted.
func (s *shared) target(from schema.Record, kind, id string) (known func() []string, there bool) {
	if kind == "claim" {
		return s.claimTarget(from, id)
	}
	if _, cited := s.Ref.Cited(id); kind == string(schema.KindSource) && cited {
		return nil, true
	}
	_, there = s.Ref.Record(schema.Kind(kind), id)
	return func() []string {
		var ids []string
		for _, r := range s.Ref.RecordsOf(schema.Kind(kind)) {
			ids = append(ids, r.Header().ID)
		}
		return ids
	}, there
}

// claimTarget finds a claim by its identifier on the page it is linked from,
// or as "model/claim" or "makers/maker/claim" from anywhere.
func (s *shared) claimTarget(from schema.Record, id string) (func() []string, bool) {
	claims := schema.ClaimsOf(from)
	if model, rest, found := strings.Cut(id, "/"); found {
		claims = nil
		if maker, claim, isMaker := strings.Cut(rest, "/"); model == "makers" && isMaker {
			if m, ok := s.Ref.Makers.Get(maker); ok {
				claims, id = m.Claims(), claim
			}
		} else if m, ok := s.Ref.Models.Get(model); ok {
			claims, id = m.Claims(), rest
		}
	}
	known := func() []string {
		var ids []string
		for _, c := range claims {
			ids = append(ids, c.Anchor())
		}
		return ids
	}
	for _, c := range claims {
		if c.ID.Value == id || c.Anchor() == id {
			return known, true
		}
	}
	return known, false
}
