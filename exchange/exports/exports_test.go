package exports

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// register gives the files of the small register that the tables are tested with.
func register(t *testing.T) fstest.MapFS {
	t.Helper()
	archive, err := txtar.ParseFile(filepath.Join("..", "sheets", "testdata", "register.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	files := fstest.MapFS{}
	for _, f := range archive.Files {
		files[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	return files
}

func factsOf(t *testing.T, files fs.FS) Facts {
	t.Helper()
	ref, problems, err := schema.ReadFS(files, "register")
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	f := Facts{Ref: ref, Timeline: chronology.Build(ref), Weighing: provenance.Weigh(ref), Edition: Edition{"2026-11-14", "0123456789ab"}}
	f.LeaveOneOut = dating.NewLeaveOneOut(dating.New(ref, f.Timeline, f.Weighing), f.Timeline, f.Weighing)
	return f
}

func demonstration(t *testing.T) Facts {
	return factsOf(t, os.DirFS(filepath.Join(need.Root(t), "content")))
}

func filesOf(t *testing.T, f Facts) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	for _, e := range Plan(f) {
		var b bytes.Buffer
		if err := e.Write(&b); err != nil {
			t.Fatal(err)
		}
		if _, twice := files[e.Name]; twice || b.Len() == 0 {
			t.Errorf("%s is empty, or there twice", e.Name)
		}
		files[e.Name] = b.Bytes()
	}
	return files
}

// compiled is the schema of reference.json.
func compiled(t *testing.T, files map[string][]byte) *jsonschema.Schema {
	t.Helper()
	return schemaIn(t, files, "data/reference.schema.json")
}

// schemaIn is a published schema as another program sees it
// (santhosh-tekuri/jsonschema, draft 2020-12).
func schemaIn(t *testing.T, files map[string][]byte, name string) *jsonschema.Schema {
	t.Helper()
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(files[name]))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(name, document); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestReferenceFollowsItsSchema(t *testing.T) {
	for name, f := range map[string]Facts{"register": factsOf(t, register(t)), "demonstration": demonstration(t)} {
		files := filesOf(t, f)
		s := compiled(t, files)
		value, err := jsonschema.UnmarshalJSON(bytes.NewReader(files["data/reference.json"]))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(value); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestSubmissionsHaveTheirSchema: the published schema of submissions is valid,
// takes the least that a visitor can send and refuses a key of their own.
func TestSubmissionsHaveTheirSchema(t *testing.T) {
	s := schemaIn(t, filesOf(t, factsOf(t, register(t))), "data/submission.schema.json")
	const least = `{"yearmark":"submission","version":1,"reference":"R","edition":"E","on":"2026-11-20","observed":[{"feature":"f","values":["v"],"sure":"sure"}]%s}`
	for text, taken := range map[string]bool{fmt.Sprintf(least, ""): true, fmt.Sprintf(least, `,"more":1`): false, `{"yearmark":"submission"}`: false} {
		value, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(value); (err == nil) != taken {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// TestSchemaRefuses spoils a good document in ways that its schema must see.
func TestSchemaRefuses(t *testing.T) {
	files := filesOf(t, factsOf(t, register(t)))
	s := compiled(t, files)
	for _, spoil := range []func(map[string]any){
		func(d map[string]any) { delete(d, "claims") },
		func(d map[string]any) { d["version"] = 1 },
		func(d map[string]any) { d["private"] = "x" },
		func(d map[string]any) { first(d, "claims")["about"] = "rumour" },
		func(d map[string]any) { delete(first(d, "claims"), "years") },
		func(d map[string]any) { first(d, "claims")["years"] = 1965 },
		func(d map[string]any) { first(d, "examples")["owner"] = "x" },
		func(d map[string]any) { first(d, "claims")["assessment"].(map[string]any)["credence"] = 1.5 },
	} {
		var d map[string]any
		if err := json.Unmarshal(files["data/reference.json"], &d); err != nil {
			t.Fatal(err)
		}
		spoil(d)
		data, _ := json.Marshal(d)
		value, _ := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		var invalid *jsonschema.ValidationError
		if err := s.Validate(value); !errors.As(err, &invalid) {
			t.Errorf("spoilt and taken all the same: %v", err)
		}
	}
}

func first(d map[string]any, list string) map[string]any { return d[list].([]any)[0].(map[string]any) }

// TestSchemaExplains wants a sentence for every key of the document, of a claim
// and of what a claim is made of.
func TestSchemaExplains(t *testing.T) {
	var s struct {
		Properties map[string]struct{ Description string }
		Defs       map[string]struct {
			Properties map[string]struct{ Description string }
		} `json:"$defs"`
	}
	if err := json.Unmarshal(filesOf(t, factsOf(t, register(t)))["data/reference.schema.json"], &s); err != nil {
		t.Fatal(err)
	}
	all := map[string]string{}
	for key, p := range s.Properties {
		all[key] = p.Description
	}
	for key, p := range s.Defs["Claim"].Properties {
		all["Claim."+key] = p.Description
	}
	for key, p := range s.Defs["Years"].Properties {
		all["Years."+key] = p.Description
	}
	for key, about := range all {
		if !strings.HasSuffix(about, ".") {
			t.Errorf("%s is described as %q", key, about)
		}
	}
	if len(all) < 40 {
		t.Errorf("only %d keys", len(all))
	}
}

func decoded(t *testing.T, data []byte) Document {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	var doc Document
	if err := d.Decode(&doc); err != nil {
		t.Fatal(err)
	}
	return doc
}

// TestReferenceSaysWhatTheRecordsSay holds claims of the small register
// against what its records say and what follows from them, worked out by hand.
func TestReferenceSaysWhatTheRecordsSay(t *testing.T) {
	doc := decoded(t, filesOf(t, factsOf(t, register(t)))["data/reference.json"])
	claims := map[string]Claim{}
	for _, c := range doc.Claims {
		claims[c.Key] = c
	}
	years := func(a, b, c, d int, words string) *Years {
		return &Years{Shape: "interval", Starts: Between{a, b}, Ends: Between{c, d}, Certain: []Stretch{{b, c}}, Words: words}
	}
	list := Citation{"list-1955", "cover"}
	letter := &Side{1, .75, []Support{{Citation{"letter-1990", ""}, .75, []Way{{Sources: []string{"letter-1990"}}}, false}}}
	want := map[string]Claim{
		"wren/made": {
			Key: "wren/made", About: "made", Model: "wren", Address: "models/wren.html#made", Span: "1958/1959",
			Stated: years(1958, 1958, 1959, 1959, "1958–1959"), Years: years(1958, 1958, 1959, 1959, "1958–1959"),
			Cites: []Citation{{"list-1955", "p. 4"}}, Against: []Citation{{"letter-1990", ""}}, Disputed: true,
			Assessment: Assessment{
				Credence: rounded(.97 * .25 / (1 - .97*.75)),
				For:      Side{1, .97, []Support{{Citation{"list-1955", "p. 4"}, .97, []Way{{Sources: []string{"list-1955"}}}, false}}},
				Against:  letter,
			},
		},
		"heron/mark": {
			Key: "heron/mark", About: "feature", Model: "heron", Address: "models/heron.html#mark", Feature: "mark", Value: "ring",
			Attested: []Attestation{{1956, []Citation{list}}, {1958, []Citation{{"example-0007", ""}}}},
			Stated:   years(1955, 1956, 1958, 1965, "1956–1958, possibly 1955–1965"), Years: years(1955, 1956, 1958, 1965, "1956–1958, possibly 1955–1965"),
			Cites: []Citation{list, {"example-0007", ""}}, Against: []Citation{{"letter-1990", ""}},
			Settled: &Settlement{Because: "It's so", By: "editor"},
			Assessment: Assessment{
				Credence: rounded(1 - .03*.1),
				For: Side{2, rounded(1 - .03*.1), []Support{
					{list, .97, []Way{{Sources: []string{"list-1955"}}}, false},
					{Citation{"example-0007", ""}, .9, []Way{{Sources: []string{"example-0007"}}}, false},
				}},
				Against: letter,
			},
		},
	}
	for key, w := range want {
		got := claims[key]
		if key == "heron/mark" {
			if len(got.Derived) == 0 == !cmp.Equal(got.Stated, got.Years) {
				t.Errorf("%s is derived %v, stated %v, tightened %v", key, got.Derived, got.Stated, got.Years)
			}
			w.Years, w.Derived = got.Years, got.Derived // an order bears on it: held below
		}
		if d := cmp.Diff(w, got); d != "" {
			t.Errorf("%s:\n%s", key, d)
		}
	}
	if len(doc.Claims) != 7 || len(doc.Sources) != 3 || len(doc.Examples) != 2 || doc.Version != 2 || doc.Edition.Date != "2026-11-14" {
		t.Errorf("%d claims, %d sources, %d examples, version %d", len(doc.Claims), len(doc.Sources), len(doc.Examples), doc.Version)
	}
}

// TestTalkIsInTheData wants what the demonstration's talk holds, and what its
// maker's record says of whole features, in the data: all sixty pieces with their
// seconds, each place once.
func TestTalkIsInTheData(t *testing.T) {
	doc := decoded(t, filesOf(t, demonstration(t))["data/reference.json"])
	cues, last := map[string]bool{}, 0.0
	for _, s := range doc.Sources {
		for _, p := range s.Places {
			if s.ID != "talk-brunt-2016" || p.Cue == nil {
				continue
			}
			cues[p.At], last = true, max(last, p.Cue.End)
			if p.Cue.End <= p.Cue.Start || p.Says == "" {
				t.Errorf("at %s %q lasts from %v to %v", p.At, p.Says, p.Cue.Start, p.Cue.End)
			}
		}
	}
	if len(cues) != 60 || last != 461.455 {
		t.Errorf("%d pieces, the last until %v", len(cues), last)
	}
	mute := 0
	for _, m := range doc.Makers {
		for _, s := range m.SaysNothing {
			mute++
			if s.Feature == "" || s.Because == "" {
				t.Errorf("%s says nothing of %v", m.ID, s)
			}
		}
		if m.ID != "halvane" {
			continue
		}
		orders := &SpecialOrders{[]string{"grip-shape"}, "1960/", []Citation{{"letter-aldous-1998", "sheet 9"}}}
		if d := cmp.Diff(orders, m.SpecialOrders); d != "" {
			t.Errorf("special orders: %s", d)
		}
	}
	if mute == 0 {
		t.Error("no feature says nothing")
	}
	for _, m := range doc.Models {
		if m.ID != "plover" {
			continue
		}
		want := NeverSeen{
			Feature: "limb-glass", Value: "grey-green", Span: "1963", Of: 9, Note: "All nine were mustard; she allows that they may be odd ones",
			Cites: []Citation{{"talk-brunt-2016", "01:43"}}, Against: []Citation{{"pennock-invoices", "“slate” throughout"}, {"example-0016", ""}},
		}
		if len(m.NeverSeen) != 2 {
			t.Errorf("%d values were never seen on the Plover", len(m.NeverSeen))
		} else if d := cmp.Diff(want, m.NeverSeen[0]); d != "" {
			t.Errorf("never seen: %s", d)
		}
	}
}

// TestDerivedChains wants every tightened year of the demonstration to come
// with steps that cite somebody or follow by rule, and nothing else to.
func TestDerivedChains(t *testing.T) {
	f := demonstration(t)
	doc := decoded(t, filesOf(t, f)["data/reference.json"])
	keys, derived := map[string]bool{}, 0
	for _, c := range doc.Claims {
		keys[c.Key] = true
	}
	for _, c := range doc.Claims {
		if changed := !cmp.Equal(c.Stated, c.Years); changed != (len(c.Derived) > 0) {
			t.Errorf("%s: stated %v, tightened %v, but %d bounds are explained", c.Key, c.Stated, c.Years, len(c.Derived))
		}
		for _, b := range c.Derived {
			derived++
			if len(b.Steps) == 0 || b.Words == "" || b.Side == "" {
				t.Errorf("%s: %+v", c.Key, b)
			}
			for _, s := range b.Steps {
				if s.Claim != "" && !keys[s.Claim] {
					t.Errorf("%s: a step is about %q, which is no claim", c.Key, s.Claim)
				}
			}
		}
	}
	if derived < 10 {
		t.Errorf("only %d derived years in the demonstration", derived)
	}
}

func TestSameBytesTwice(t *testing.T) {
	a, b := filesOf(t, demonstration(t)), filesOf(t, demonstration(t))
	for name, data := range a {
		if !bytes.Equal(data, b[name]) {
			t.Errorf("%s differs between two makings", name)
		}
	}
	if len(a) < 9 {
		t.Errorf("only %d files", len(a))
	}
}

// TestPrivateStaysPrivate looks for what is private in every file.
func TestPrivateStaysPrivate(t *testing.T) {
	files := register(t)
	if n := bytes.Count(slices.Concat(files["examples/0007.md"].Data, files["examples/0008.md"].Data), []byte("PRIVATE-")); n < 6 {
		t.Fatalf("only %d private words in the records", n)
	}
	for name, data := range filesOf(t, factsOf(t, files)) {
		if at := bytes.Index(data, []byte("PRIVATE-")); at >= 0 {
			t.Errorf("%s holds what is private: %.80s", name, data[max(at-40, 0):])
		}
	}
}

// TestUnanswerableRecords exports records with mistakes, empty ones and hostile
// ones: every file is made, and is what its name says.
func TestUnanswerableRecords(t *testing.T) {
	files := fstest.MapFS{
		"reference.yaml": {Data: []byte("name: \"A\\0<b>&\"\nyears: 1930/1985\naddress: \"https://a.example.org/x?y=1&z=<\"\n")},
		"makers/m.md":    {Data: []byte("---\nrecord: maker\nname: \"</script>\\x01\"\nweight-marks: {before: {\"*\": none}}\n---\n")},
		"models/a.md":    {Data: []byte("---\nrecord: model\nname: A\nmaker: nobody\nmade: {span: 1999}\nfeatures: [{feature: none, value: x}, {feature: f, value: \"=1\", span: 1931/1930}]\nspecs: [{spec: f}]\n---\n")},
		"models/b.md":    {Data: []byte("---\nrecord: model\nname: B\nmaker: m\nwithdrawn: [{id: x}]\n---\n")},
		"features/f.md":  {Data: []byte("---\nrecord: feature\nname: F\nkind: choice\n---\n")},
		"sources/s.md":   {Data: []byte("---\nrecord: source\nname: S\nrelies-on: [s, t]\nlink: javascript:x\n---\n")},
		"sources/t.md":   {Data: []byte("---\nrecord: source\nname: T\nkind: none\nrelies-on: [s]\n---\n")},
		"examples/e.md":  {Data: []byte("---\nrecord: example\nseen: 2020-99\nobserved: [{feature: f}, {value: x}]\ndocumented: {cites: [\"example-e\"]}\n---\n")},
		"pages/p.md":     {Data: []byte("---\nrecord: page\ntitle: \"]]>\"\n---\n]]>\n")},
	}
	ref, problems, err := schema.ReadFS(files, "register")
	if err != nil || len(problems) < 5 {
		t.Fatal(err, problems)
	}
	f := Facts{Ref: ref, Timeline: chronology.Build(ref), Weighing: provenance.Weigh(ref), Edition: Edition{"2026", "x"}}
	f.LeaveOneOut = dating.NewLeaveOneOut(dating.New(ref, f.Timeline, f.Weighing), f.Timeline, f.Weighing)
	for name, data := range filesOf(t, f) {
		switch filepath.Ext(name) {
		case ".json", ".jsonld":
			if !json.Valid(data) {
				t.Errorf("%s is no JSON", name)
			}
		case ".xml", ".atom":
			wellFormed(t, name, data)
		}
		if bytes.Contains(data, []byte("</script>")) {
			t.Errorf("%s holds a tag as it stands", name)
		}
	}
	decoded(t, filesOf(t, f)["data/reference.json"])
}

// pieces counts what is written, and the largest piece of it.
type pieces struct{ total, largest int }

func (p *pieces) Write(data []byte) (int, error) {
	p.total, p.largest = p.total+len(data), max(p.largest, len(data))
	return len(data), nil
}

// TestWritesAsItGoes: no file is gathered whole before it is written.
func TestWritesAsItGoes(t *testing.T) {
	looked := 0
	for _, e := range Plan(demonstration(t)) {
		var p pieces
		if err := e.Write(&p); err != nil {
			t.Fatal(err)
		}
		if p.total < 64<<10 || strings.HasSuffix(e.Name, ".schema.json") {
			continue
		}
		if looked++; p.largest > p.total/4 {
			t.Errorf("%s is written in pieces of up to %d of its %d bytes", e.Name, p.largest, p.total)
		}
	}
	if looked < 3 {
		t.Errorf("only %d files were large enough to tell", looked)
	}
}

// TestDataDatesAnExampleAsItsPageDoes: the data leave out what rests on an
// example as its page does, and the two differ from the engine that leaves
// nothing out somewhere in the demonstration.
func TestDataDatesAnExampleAsItsPageDoes(t *testing.T) {
	f := demonstration(t)
	whole := dating.New(f.Ref, f.Timeline, f.Weighing)
	differ := 0
	for _, e := range f.Ref.Examples.All() {
		page, err := f.LeaveOneOut.Account(e)
		if err != nil {
			t.Fatal(err)
		}
		with, err := whole.Date(dating.QuestionOf(f.Ref, e))
		if err != nil {
			t.Fatal(err)
		}
		got, want := f.dated(e).Best, page.Best
		if got.Model != want.Model || got.Year != want.Year || got.Chance != rounded(want.Chance) {
			t.Errorf("%s: the data say %v, the page %v", e.ID, got, want)
		}
		if rounded(with.Best.Chance) != got.Chance {
			differ++
		}
	}
	if differ == 0 {
		t.Error("no example of the demonstration shows the difference")
	}
}
