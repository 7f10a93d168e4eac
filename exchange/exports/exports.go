package exports

import (
	"io"
	"slices"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/exchange/exports/iiif"
	"yearmark/exchange/exports/linked"
	"yearmark/exchange/intake"
	"yearmark/exchange/sheets"
	"yearmark/exchange/sheets/csl"
	"yearmark/provenance"
	"yearmark/schema"
)

// Facts is what the files are made from.
type Facts struct {
	Ref      *schema.Reference
	Timeline *chronology.Timeline
	Weighing *provenance.Weighing
	// Apart dates the examples; without it the files do not say what they date to.
	LeaveOneOut *dating.LeaveOneOut
	Edition     Edition
	// Pages lists the paths of the site's pages for the sitemap, relative to its
	// root. Without it the sitemap lists the pages of the records.
	Pages []string
	// Changes is what changed in this edition, for the feed, which tells besides
	// what the records themselves date: the edition, bows seen, disputes settled,
	// claims withdrawn, copies kept.
	Changes []Change
	// Published is what of sources can be seen and heard on the site.
	Published iiif.Published
}

// Edition names one published state.
type Edition struct {
	Date string `json:"date" jsonschema_description:"The edition's date, as people write it in records; empty where no record has a date."`
	Hash string `json:"hash" jsonschema_description:"The first digits of its content's SHA-256."`
}

// Entry is one file before it is made.
type Entry struct {
	Name  string // relative to the site's root: "data/reference.json"
	About string // one sentence for people; empty where another file leads to it
	Write func(io.Writer) error
}

// Plan lists the files in the order in which people look for them. A sitemap
// needs a public address and a feed a date: without these they are not there.
// Those in the folder data are for people who reuse the data; sitemap.xml and
// feed.atom stand at the root, where a sitemap must stand to cover the site.
func Plan(f Facts) []Entry {
	plan := []Entry{
		{dataPath, "Everything in one file: makers, models, claims with their years, derivations and witnesses, features, sources, examples.", f.reference},
		{"data/" + SchemaName, "What stands where in that file, as JSON Schema with a sentence for every key.", writeSchema},
	}
	for _, t := range []struct {
		name, about string
		make        func(sheets.Facts) sheets.Table
	}{
		{"claims", "Every claim as a table: what it says, who says so, its years and how far it is believed.", sheets.Claims},
		{"sources", "Every source as a table.", sheets.Sources},
		{"examples", "Every bow examined as a table, with a column for every feature.", sheets.Examples},
		{"features", "Every feature and its values as a table.", sheets.Features},
	} {
		plan = append(plan, Entry{"data/" + t.name + ".csv", t.about, func(w io.Writer) error {
			_, err := t.make(f.tables()).Write(w, false)
			return err
		}})
	}
	for _, t := range sheets.Lists(f.tables()) {
		for range t.Rows { // only tables that have a row
			plan = append(plan, Entry{"data/" + t.Name + ".csv", t.About + " As a table.", func(w io.Writer) error {
				_, err := t.Write(w, false)
				return err
			}})
			break
		}
	}
	plan = append(plan,
		Entry{"data/records.jsonld", "Linked data: PROV-O derivations and the words and regions that each claim is quoted from, CIDOC CRM time-spans and schema.org pages, as JSON-LD.", func(w io.Writer) error {
			return linked.Write(w, linked.Facts{Ref: f.Ref, Timeline: f.Timeline, Date: f.Edition.Date, Hash: f.Edition.Hash, Published: f.Published})
		}},
		Entry{"data/sources.csl.json", "The sources for reference managers, as CSL-JSON.", func(w io.Writer) error { return csl.Write(w, f.Ref) }},
	)
	plan = append(plan, Entry{"data/" + intake.SchemaName, "What a submission saved from the dating form holds, as JSON Schema; nothing else is taken in.", func(w io.Writer) error {
		_, err := w.Write(intake.Schema())
		return err
	}})
	return slices.Concat(plan, f.manifests(), f.feedEntry(), f.sitemapEntries())
}

// manifests are the sources with scans or recordings for viewers. Such documents
// name themselves, so that without a public address there are none.
func (f Facts) manifests() []Entry {
	if f.base() == "" {
		return nil
	}
	sources := f.Published.Sources(f.Ref)
	if len(sources) == 0 {
		return nil
	}
	d := iiif.New(iiif.Facts{Ref: f.Ref, Timeline: f.Timeline, Base: f.base(), Published: f.Published, Data: dataPath, Profile: "data/" + SchemaName})
	entries := []Entry{{iiif.CollectionPath, "The scanned pages and the recordings for viewers of libraries and museums (IIIF Presentation 3): each claim stands on the region of the page that it rests on.", func(w io.Writer) error {
		return d.Collection(w, sources)
	}}}
	for _, s := range sources {
		entries = append(entries, Entry{Name: iiif.ManifestPath(s), Write: func(w io.Writer) error { return d.Manifest(w, s) }})
	}
	return entries
}

// dataPath is where reference.json stands below the site's root.
const dataPath = "data/reference.json"

func (f Facts) tables() sheets.Facts {
	return sheets.Facts{Ref: f.Ref, Timeline: f.Timeline, Weighing: f.Weighing, LeaveOneOut: f.LeaveOneOut, Readers: true}
}
