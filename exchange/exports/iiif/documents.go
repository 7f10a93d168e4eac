package iiif

import (
	"cmp"
	"encoding/json"
	"io"
	"net/url"
	"path"
	"strings"
	"sync"

	"yearmark/chronology"
	"yearmark/schema"
)

// Facts is what the documents are made from.
type Facts struct {
	Ref       *schema.Reference
	Timeline  *chronology.Timeline
	Base      string // the site's public address, with a stroke at its end
	Published Published
	// Data and Profile are the paths of the whole reference as JSON and of the
	// schema of that file.
	Data, Profile string
}

// Documents writes the documents of one reference. It is safe for concurrent use.
type Documents struct {
	Facts
	uses func() map[*schema.SourcePlace][]use
}

// New prepares the documents.
func New(f Facts) *Documents {
	return &Documents{f, sync.OnceValue(f.uses)}
}

// Collection writes the collection of the manifests of these sources.
func (d *Documents) Collection(w io.Writer, sources []*schema.Source) error {
	s := d.Ref.Settings
	c := collection{
		Context: context, ID: d.at(CollectionPath), Type: "Collection", Label: d.words(s.Name.Value + ": pages and recordings"),
		Provider: d.provider(), Homepage: d.homepage("sources/index.html", "Sources"), Items: []resource{},
	}
	for _, source := range sources {
		c.Items = append(c.Items, resource{ID: d.at(ManifestPath(source)), Type: "Manifest", Label: d.words(source.Title())})
	}
	return json.NewEncoder(w).Encode(c)
}

// Manifest writes the manifest of a source.
func (d *Documents) Manifest(w io.Writer, s *schema.Source) error {
	m := manifest{
		Context: context, ID: d.at(ManifestPath(s)), Type: "Manifest", Label: d.words(s.Title()), Metadata: d.metadata(s),
		Provider: d.provider(), Homepage: d.homepage(s.Address(), s.Title()),
		SeeAlso: []resource{{ID: d.at(d.Data), Type: "Dataset", Label: d.words("The register as data"), Format: "application/json", Profile: d.at(d.Profile)}},
		PartOf:  []resource{{ID: d.at(CollectionPath), Type: "Collection"}},
		Items:   d.canvases(s),
	}
	if rights := s.Rights.Value; rights != "" {
		m.RequiredStatement, m.Rights = &pair{d.words("Rights"), d.words(rights)}, rightsAddress(rights)
	}
	for _, place := range s.Places {
		if scan, ok := d.Published.Scan(place); ok {
			m.Thumbnail = []resource{d.picture(scan.Sizes[0])}
			break
		}
	}
	return json.NewEncoder(w).Encode(m)
}

// at is the public address of what stands at a path below the site's root,
// after the sign # of which may stand an anchor.
func (d *Documents) at(way string) string {
	file, anchor, _ := strings.Cut(way, "#")
	return d.Base + strings.TrimPrefix((&url.URL{Path: "/" + file, Fragment: anchor}).String(), "/")
}

// language is that in which the register is written.
func (d *Documents) language() string { return cmp.Or(d.Ref.Settings.Language.Value, "en") }

func (d *Documents) words(text string) words { return words{d.language(): {text}} }

func (d *Documents) text(value string) text {
	return text{"TextualBody", value, d.language(), "text/plain"}
}

func (d *Documents) homepage(way, label string) []resource {
	return []resource{{ID: d.at(way), Type: "Text", Label: d.words(label), Format: "text/html", Language: []string{d.language()}}}
}

// provider is whoever keeps the register.
func (d *Documents) provider() []resource {
	s := d.Ref.Settings
	return []resource{{
		ID: d.at("index.html#Editor"), Type: "Agent", Label: d.words(cmp.Or(s.Editor.Value, s.Name.Value)), Homepage: d.homepage("index.html", s.Name.Value),
	}}
}

func (d *Documents) metadata(s *schema.Source) []pair {
	var list []pair
	for _, row := range []struct{ label, value string }{
		{"Kind", strings.ReplaceAll(s.Kind.Value, "-", " ")}, {"By", s.By.Value}, {"Issued", s.Issued.Words()}, {"Kept", s.Kept.Value},
	} {
		if row.value != "" {
			list = append(list, pair{d.words(row.label), d.words(row.value)})
		}
	}
	return list
}

// rightsAddress is the address of the licence that a note of rights names by
// its SPDX identifier, standing alone or behind a semicolon; empty of others.
func rightsAddress(rights string) string {
	for part := range strings.SplitSeq(rights, ";") {
		if a := schema.LicenceAddress(strings.TrimSpace(part)); a != "" {
			return strings.Replace(a, "https:", "http:", 1) // as Creative Commons names them, and IIIF wants it
		}
	}
	return ""
}

// picture is a published picture.
func (d *Documents) picture(size Size) resource {
	return resource{ID: d.at(size.Path), Type: "Image", Format: format(size.Path), Width: size.Width, Height: size.Height}
}

// formats are the media types of what is published, by the endings of files.
var formats = map[string]string{
	".svg": "image/svg+xml", ".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".png": "image/png",
	".wav": "audio/wav", ".mp3": "audio/mpeg", ".ogg": "audio/ogg", ".oga": "audio/ogg", ".opus": "audio/ogg",
}

func format(file string) string { return formats[strings.ToLower(path.Ext(file))] }
