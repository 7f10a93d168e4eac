package linked

import (
	"bytes"
	"encoding/json"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/piprate/json-gold/ld"
	"github.com/rogpeppe/go-internal/txtar"

	"yearmark/chronology"
	"yearmark/exchange/exports/iiif"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// closed refuses to fetch anything and counts what was asked for.
type closed struct{ asked int }

func (c *closed) LoadDocument(string) (*ld.RemoteDocument, error) {
	c.asked++
	return nil, errors.New("nothing may be fetched")
}

// triple is one statement of the graph, with the namespaces written short.
type triple struct{ subject, property, value string }

var prefixes = map[string]string{
	crm: "crm:", prov: "prov:", schemaNS: "schema:", cito: "cito:", dc: "dc:", dcterms: "dcterms:", skos: "skos:", rdfs: "rdfs:",
	oa: "oa:", xsd: "xsd:", edtfNS: "edtf:", "http://www.w3.org/1999/02/22-rdf-syntax-ns#": "rdf:",
}

func short(iri, base string) string {
	if rest, ok := strings.CutPrefix(iri, base); ok {
		return rest
	}
	for long, prefix := range prefixes {
		if rest, ok := strings.CutPrefix(iri, long); ok {
			return prefix + rest
		}
	}
	return iri
}

// triples expands the document with a JSON-LD processor (json-gold) and turns
// it into RDF, at the address where the document stands.
func triples(t *testing.T, document []byte, base string) []triple {
	t.Helper()
	var parsed any
	if err := json.Unmarshal(document, &parsed); err != nil {
		t.Fatal(err)
	}
	loader := &closed{}
	options := ld.NewJsonLdOptions(base + "data/records.jsonld")
	options.DocumentLoader, options.ProcessingMode = loader, ld.JsonLd_1_1
	rdf, err := ld.NewJsonLdProcessor().ToRDF(parsed, options)
	if err != nil || loader.asked > 0 {
		t.Fatalf("%v; %d documents were asked for", err, loader.asked)
	}
	var all []triple
	for _, q := range rdf.(*ld.RDFDataset).Graphs["@default"] {
		tr := triple{short(q.Subject.GetValue(), base), short(q.Predicate.GetValue(), base), short(q.Object.GetValue(), base)}
		if l, ok := q.Object.(ld.Literal); ok {
			tr.value = `"` + l.Value + `"`
			if l.Datatype != "" && l.Datatype != ld.XSDString {
				tr.value += "^^" + short(l.Datatype, base)
			}
		}
		all = append(all, tr)
	}
	return all
}

// about lists what the graph says of a subject, blank nodes in brackets.
func about(all []triple, subject string) []string {
	var lines []string
	for _, tr := range all {
		if tr.subject != subject {
			continue
		}
		value := tr.value
		if strings.HasPrefix(value, "_:") {
			value = "[" + strings.Join(about(all, value), "; ") + "]"
		}
		lines = append(lines, tr.property+" "+value)
	}
	slices.Sort(lines)
	return lines
}

func read(t *testing.T, files fstest.MapFS) Facts {
	t.Helper()
	ref, problems, err := schema.ReadFS(files, "register")
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	return Facts{Ref: ref, Timeline: chronology.Build(ref), Date: "2026-01-02", Hash: "0123456789ab"}
}

func document(t *testing.T, f Facts) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, f); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestClaimsTripleByTriple holds what the processor makes of each claim against
// what testdata/ten.txtar wants, no triple more and none fewer.
func TestClaimsTripleByTriple(t *testing.T) {
	archive, err := txtar.ParseFile(filepath.Join("testdata", "ten.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	files := fstest.MapFS{}
	wants := map[string][]string{}
	for _, f := range archive.Files {
		if subject, ok := strings.CutPrefix(f.Name, "want "); ok {
			wants[subject] = strings.Split(strings.TrimSpace(string(f.Data)), "\n")
			continue
		}
		files[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	all := triples(t, document(t, read(t, files)), "https://tarnside.example.org/")
	for subject, want := range wants {
		got := about(all, subject)
		page, anchor, _ := strings.Cut(subject, "#")
		anchor = strings.TrimPrefix(anchor, "Claim-")
		for _, part := range []string{"State", "Years"} {
			for _, line := range about(all, page+"#"+part+"-"+anchor) {
				got = append(got, part+" "+line)
			}
		}
		want = slices.DeleteFunc(want, func(line string) bool { return strings.HasSuffix(line, " none") })
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s:\n%s", subject, d)
		}
	}
	if len(wants) < 10 {
		t.Errorf("only %d claims", len(wants))
	}
}

func demonstration(t *testing.T) Facts {
	t.Helper()
	ref, problems, err := schema.Read(filepath.Join(need.Root(t), "content"))
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	return Facts{Ref: ref, Timeline: chronology.Build(ref)}
}

// TestBoundsAreInOrder holds every time-span of the demonstration to the order
// that must hold: P82a <= P81a, P82a <= P81b, P81a <= P82b, P81b <= P82b, and
// P81a <= P81b where there are the two.
func TestBoundsAreInOrder(t *testing.T) {
	f := demonstration(t)
	all := triples(t, document(t, f), "https://bows.example.org/")
	bounds := map[string]map[string]string{}
	for _, tr := range all {
		if name, ok := strings.CutPrefix(tr.property, "crm:P8"); ok {
			if bounds[tr.subject] == nil {
				bounds[tr.subject] = map[string]string{}
			}
			if !strings.HasSuffix(tr.value, `Z"^^xsd:dateTime`) {
				t.Errorf("%s is no instant: %s", tr.property, tr.value)
			}
			bounds[tr.subject][name[:2]] = tr.value
		}
	}
	throughout := 0
	for subject, b := range bounds {
		inner := b["1a"] != "" && b["1b"] != ""
		if b["2a"] == "" || b["2b"] == "" || inner != (len(b) == 4) || b["2a"] > b["2b"] {
			t.Errorf("%s has the bounds %v", subject, b)
		}
		if inner && (b["2a"] > b["1a"] || b["2a"] > b["1b"] || b["1a"] > b["2b"] || b["1b"] > b["2b"] || b["1a"] > b["1b"]) {
			t.Errorf("%s has its bounds out of order: %v", subject, b)
		}
		if inner {
			throughout++
		}
	}
	if len(bounds) < 500 || throughout < 200 {
		t.Errorf("%d time-spans, %d with an inner stretch", len(bounds), throughout)
	}
}

// TestGraphHangsTogether wants everything named to be there, and PROV-O's
// inferences to hold: what had a primary source was derived from it, and
// nothing is both an entity and an activity.
func TestGraphHangsTogether(t *testing.T) {
	f := demonstration(t)
	all := triples(t, document(t, f), "https://bows.example.org/")
	subjects, said := map[string]bool{}, map[triple]bool{}
	for _, tr := range all {
		subjects[tr.subject] = true
		said[tr] = true
	}
	claims := 0
	if !slices.ContainsFunc(all, func(tr triple) bool {
		return strings.HasSuffix(tr.subject, "models/turnstone.html#clear-glass") && tr.property == "skos:scopeNote" && strings.Contains(tr.value, "Where the draw weight offered is up to 38 lb.")
	}) {
		t.Error("the condition of a claim is not said")
	}
	for _, tr := range all {
		isPage := strings.Contains(tr.value, ".html") && !strings.ContainsAny(tr.value, `" :`)
		if isPage && !subjects[tr.value] {
			t.Errorf("%s %s %s, of which nothing is said", tr.subject, tr.property, tr.value)
		}
		if tr.property == "prov:hadPrimarySource" && !said[triple{tr.subject, "prov:wasDerivedFrom", tr.value}] {
			t.Errorf("%s had the primary source %s, but was not derived from it", tr.subject, tr.value)
		}
		if tr.property == "rdf:type" && tr.value == "prov:Entity" && said[triple{tr.subject, "rdf:type", "prov:Activity"}] {
			t.Errorf("%s is both entity and activity", tr.subject)
		}
		if tr.property == "crm:P129_is_about" {
			claims++
		}
	}
	want := 0
	for _, m := range f.Ref.Models.All() {
		want += len(m.Claims())
	}
	for _, m := range f.Ref.Makers.All() {
		want += len(m.Claims())
	}
	for _, e := range f.Ref.Examples.All() {
		if e.Documented != nil {
			want++
		}
	}
	if claims != want {
		t.Errorf("%d claims, want %d", claims, want)
	}
}

// TestAddressesWithoutAPublicOne resolves them against the document's own.
func TestAddressesWithoutAPublicOne(t *testing.T) {
	f := demonstration(t)
	f.Ref.Settings.PublicURL.Value = ""
	for _, tr := range triples(t, document(t, f), "file:///club/site/") {
		if tr.property == "schema:isPartOf" && tr.value != "index.html" {
			t.Fatalf("the site is %q", tr.value)
		}
	}
}

func TestSameBytesTwice(t *testing.T) {
	if a, b := document(t, demonstration(t)), document(t, demonstration(t)); !bytes.Equal(a, b) {
		t.Error("two documents of one reference differ")
	}
}

// TestClaimsAreQuoted: a claim was quoted (PROV-O) from the places that it cites,
// and these are the parts of the published scan and recording (Web Annotation
// vocabulary, oa:SpecificResource) that hold their words. Pixels are those of
// the published picture, half as wide as the scan. What a source keeps back is
// not there, and a place of which nothing is shown has no address.
func TestClaimsAreQuoted(t *testing.T) {
	files := fstest.MapFS{}
	for name, text := range map[string]string{
		"reference.yaml": "name: R\nyears: 1950/1970\naddress: https://r.example.org/\n",
		"makers/m.md":    "---\nrecord: maker\nname: M\ntrading: {span: 1950/1960, cites: [\"list, p. 2\", \"list, 0:08\", \"words, p. 2\", \"none, p. 2\", \"list, p. 9\"]}\n---\n",
		"sources/list.md": "---\nrecord: source\nname: List\nkind: catalogue\nshown: all\nrights: Ours\nrecording: {file: list.ogg}\nplaces:\n" +
			"  - {at: p. 2, says: Padauk, scan: s.svg, region: \"xywh=percent:10,20,50,10\"}\n  - {at: p. 2, says: Walnut, scan: s.svg}\n  - {at: \"0:08\", says: Ash}\n  - {at: p. 9, own: true}\n---\n",
		"sources/words.md":    "---\nrecord: source\nname: Words\nkind: catalogue\nplaces: [{at: p. 2, says: Elm, scan: s.svg}]\n---\n",
		"sources/none.md":     "---\nrecord: source\nname: None\nkind: catalogue\nshown: none\nplaces: [{at: p. 2, says: KEPT, scan: s.svg}]\n---\n",
		"pictures/s.svg":      "<svg/>",
		"recordings/list.ogg": "OggS",
	} {
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	f := read(t, files)
	f.Published = iiif.Published{
		Scans: func(p *schema.SourcePlace) (iiif.Scan, bool) {
			if p.Scan.Value == "" {
				return iiif.Scan{}, false
			}
			return iiif.Scan{Width: 1000, Height: 800, Sizes: []iiif.Size{{Path: "pictures/small.jpg", Width: 100, Height: 80}, {Path: "pictures/a scan.jpg", Width: 500, Height: 400}}}, true
		},
		Recordings: func(*schema.Source) (iiif.Recording, bool) { return iiif.Recording{Path: "recordings/list.ogg"}, true },
	}
	data := document(t, f)
	all := triples(t, data, "https://r.example.org/")
	first, second, heard, words := "sources/list.html#Quote-1-at-p-2", "sources/list.html#Quote-2-at-p-2", "sources/list.html#Quote-1-at-0:08", "sources/words.html#Quote-1-at-p-2"
	quoted := func(text, place, source string, more ...string) []string {
		list := append([]string{"prov:value \"" + text + "\"", "prov:wasQuotedFrom " + source + ".html#Source", "rdf:type prov:Entity", "schema:pagination \"" + place + "\""}, more...)
		slices.Sort(list)
		return list
	}
	part := func(value string) string {
		return "oa:hasSelector [dcterms:conformsTo http://www.w3.org/TR/media-frags/; rdf:type oa:FragmentSelector; rdf:value \"" + value + "\"]"
	}
	const specific = "rdf:type oa:SpecificResource"
	for subject, want := range map[string][]string{
		first:  quoted("Padauk", "p. 2", "sources/list", specific, "oa:hasSource pictures/a%20scan.jpg", part("xywh=50,80,250,40")),
		second: quoted("Walnut", "p. 2", "sources/list", specific, "oa:hasSource pictures/a%20scan.jpg"),
		heard:  quoted("Ash", "0:08", "sources/list", specific, "oa:hasSource recordings/list.ogg", part("t=8")),
		words:  quoted("Elm", "p. 2", "sources/words"),
	} {
		if d := cmp.Diff(want, about(all, subject)); d != "" {
			t.Errorf("%s:\n%s", subject, d)
		}
	}
	var from []string
	for _, line := range about(all, "makers/m.html#trading") {
		if id, ok := strings.CutPrefix(line, "prov:wasQuotedFrom "); ok {
			from = append(from, id)
		}
	}
	want := []string{first, second, heard, words}
	slices.Sort(want)
	if d := cmp.Diff(want, from); d != "" {
		t.Errorf("the claim was quoted from:\n%s", d)
	}
	if manifest := "dcterms:isReferencedBy data/iiif/sources/list.json"; !slices.Contains(about(all, "sources/list.html#Source"), manifest) {
		t.Errorf("no %s", manifest)
	}
	if bytes.Contains(data, []byte("KEPT")) {
		t.Error("the document holds words that are kept back")
	}
}
