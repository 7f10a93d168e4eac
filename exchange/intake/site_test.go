package intake

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/invopop/jsonschema"

	"yearmark/testdata/chromium"
	"yearmark/testdata/need"
)

func scripts(t *testing.T) string { return filepath.Join(need.Root(t), "site", "assets", "js") }

// node runs a program of modules and reads the JSON that it prints.
func node(t *testing.T, program string, in any, out any) {
	t.Helper()
	run := exec.Command(need.Node(t), "--input-type=module", "-e", program)
	data, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	var complaints bytes.Buffer
	run.Stdin, run.Stderr = bytes.NewReader(data), &complaints
	printed, err := run.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, complaints.String())
	}
	if err := json.Unmarshal(printed, out); err != nil {
		t.Fatal(err)
	}
}

// asked is what the page's module is asked to make a submission of.
type asked struct {
	Dated datedJS        `json:"dated"`
	Said  map[string]any `json:"said"`
}

type datedJS struct {
	Reference string            `json:"reference"`
	Edition   string            `json:"edition"`
	On        string            `json:"on"`
	Question  questionJS        `json:"question"`
	Answer    map[string]any    `json:"answer"`
	Kinds     map[string]string `json:"kinds"`
}

type questionJS struct {
	Models   []string `json:"models"`
	Observed []Seen   `json:"observed"`
}

type madeJS struct {
	Text     string `json:"text"`
	Name     string `json:"name"`
	Problems []struct {
		Field   string `json:"field"`
		Message string `json:"message"`
	} `json:"problems"`
}

// makeInPage has the page's module make submissions.
func makeInPage(t *testing.T, cases []asked) []madeJS {
	program := fmt.Sprintf(`
		import { fileOf, makeSubmission } from %q;
		let text = ""; for await (const part of process.stdin) text += part;
		console.log(JSON.stringify(JSON.parse(text).map(({ dated, said }) => {
			const { submission, problems } = makeSubmission(dated, said);
			return submission ? { ...fileOf(submission), problems } : { text: "", name: "", problems };
		})));`, "file://"+filepath.ToSlash(filepath.Join(scripts(t), "submission", "submission.js")))
	var made []madeJS
	node(t, program, cases, &made)
	if len(made) != len(cases) {
		t.Fatalf("%d submissions of %d", len(made), len(cases))
	}
	return made
}

func askOf(said map[string]any) asked {
	return asked{datedJS{
		Reference: "The Fellside Bow Register", Edition: "2026-11-14 0123456789ab", On: "2026-11-20",
		Question: questionJS{[]string{"plover"}, []Seen{{Feature: "riser-wood", Values: []string{"padauk"}, Sure: "sure"}, {Feature: "serial-number", Values: []string{"66-019"}, Sure: "unsure"}}},
		Answer:   map[string]any{"best": map[string]any{"model": "plover", "year": 1965, "chance": 0.98}, "likely": map[string]any{"95": []any{map[string]any{"model": "plover", "years": []int{1965}}}}},
		Kinds:    map[string]string{"riser-wood": "choice", "serial-number": "text", "draw-weight": "number"},
	}, said}
}

func TestPageSavesWhatIsTakenIn(t *testing.T) {
	d := newTestInbox(t)
	made := makeInPage(t, []asked{askOf(map[string]any{
		"weightMark": " •42 @ 28 ", "remarks": map[string]any{"riser-wood": "orange on wet paper"},
		"marks":       []any{map[string]any{"mark": "R.A.C. 14", "place": "lower limb"}, map[string]any{"mark": "", "place": " "}},
		"condition":   []any{map[string]any{"part": "upper limb", "state": "slight\ttwist", "fault": ""}, map[string]any{"part": "bow", "fault": "crack"}, map[string]any{"part": "", "state": "", "fault": ""}},
		"photographs": []any{map[string]any{"file": "IMG_1.jpg", "shows": "the mark"}},
		"note":        "One.\r\n\r\n\r\n\r\nTwo.  \n", "by": "A visitor", "name": "N. N.", "contact": "by post",
	})})[0]
	if len(made.Problems) > 0 || made.Name != "bow-plover-2026-11-20.json" {
		t.Fatalf("%+v", made)
	}
	r, err := d.Take([]byte(made.Text))
	if err != nil {
		t.Fatalf("%v\n%s", err, made.Text)
	}
	want := &Submission{
		Yearmark: Kind, Version: Version, Reference: "The Fellside Bow Register", Edition: "2026-11-14 0123456789ab", On: "2026-11-20", Model: "plover",
		Observed: []Seen{{"riser-wood", []string{"padauk"}, "sure", "orange on wet paper"}, {"serial-number", []string{"66-019"}, "unsure", ""}},
		Dated:    &Dated{"plover", "", 1965, 0.98, []ModelYears{{"plover", "", []int{1965}}}}, WeightMark: "•42 @ 28",
		Marks: []Mark{{"R.A.C. 14", "lower limb"}}, Condition: []Part{{"upper limb", "slight twist", ""}, {"bow", "", "crack"}}, Photographs: []Photograph{{"IMG_1.jpg", "the mark"}},
		Note: "One.\n\nTwo.", By: "A visitor", Private: &Private{"N. N.", "by post"},
	}
	if !reflect.DeepEqual(r.Submission, want) {
		t.Errorf("taken in as\n%+v\nwant\n%+v", r.Submission, want)
	}
}

// TestPageIsNeverLaxer gives the page's module a thousand texts, harmless and
// hostile: whatever it saves is taken in, and what people mean no harm by it saves.
func TestPageIsNeverLaxer(t *testing.T) {
	r := rand.New(rand.NewPCG(1964, 7))
	texts := append(append([]string{}, markup...), harmless...)
	pieces := append(append([]string{}, hostile...), "<", "script", "java", ":", "data:", "text/html;", "&#60;", "&lt;", "&amp;", "\u202e", "\u200b", "\x1b", "\n", "\t", "ſ", "K", "/", "..", ".jpg", "a", "B", "9")
	for range 1000 {
		var b strings.Builder
		for range 1 + r.IntN(6) {
			b.WriteString(pieces[r.IntN(len(pieces))])
		}
		texts = append(texts, b.String())
	}
	var cases []asked
	for _, s := range texts {
		cases = append(cases, askOf(map[string]any{
			"weightMark": s, "note": s, "by": s, "name": s, "remarks": map[string]any{"riser-wood": s}, "marks": []any{map[string]any{"mark": s, "place": s}},
			"photographs": []any{map[string]any{"file": s + ".jpg", "shows": s}},
		}), askOf(map[string]any{"note": s, "by": s}))
	}
	saved := 0
	for i, made := range makeInPage(t, cases) {
		s := texts[i/2]
		if made.Text == "" {
			if i%2 == 1 && i/2 >= len(markup) && i/2 < len(markup)+len(harmless) {
				t.Errorf("the page refuses %q: %+v", s, made.Problems)
			}
			continue
		}
		saved++
		if i/2 < len(markup) {
			t.Errorf("the page saves %q", s)
		}
		if _, err := Read([]byte(made.Text)); err != nil {
			t.Errorf("the page saves %q, which is refused: %v", s, err)
		}
	}
	if saved < 500 || saved > len(cases)*9/10 {
		t.Errorf("%d of %d were saved", saved, len(cases))
	}
}

func TestPageSaysWhatIsWrong(t *testing.T) {
	empty, figure := askOf(map[string]any{}), askOf(map[string]any{})
	empty.Dated.Question.Observed = []Seen{}
	figure.Dated.Question.Observed = []Seen{{Feature: "draw-weight", Values: []string{"40..45"}, Sure: "sure"}}
	for i, made := range makeInPage(t, []asked{
		empty, figure, askOf(map[string]any{"marks": []any{map[string]any{"mark": "x"}}}), askOf(map[string]any{"photographs": []any{map[string]any{"file": "bow.exe"}}}),
		askOf(map[string]any{"note": strings.Repeat("🏹", 4001)}),
	}) {
		field := []string{"observed", "observed.draw-weight", "marks.0.place", "photographs.0", "note"}[i]
		if made.Text != "" || len(made.Problems) != 1 || made.Problems[0].Field != field {
			t.Errorf("%s: %+v", field, made)
		}
	}
}

// TestPageKnowsTheBounds holds the module's limits against the published schema.
func TestPageKnowsTheBounds(t *testing.T) {
	var limits map[string]int
	node(t, fmt.Sprintf(`import { LIMITS } from %q; console.log(JSON.stringify(LIMITS));`, "file://"+filepath.ToSlash(filepath.Join(scripts(t), "submission", "submission.js"))), nil, &limits)
	var s jsonschema.Schema
	if err := json.Unmarshal(Schema(), &s); err != nil {
		t.Fatal(err)
	}
	length := func(s *jsonschema.Schema, key string) int {
		p, ok := s.Properties.Get(key)
		if !ok || p.MaxLength == nil {
			t.Fatalf("no length of %s", key)
		}
		return int(*p.MaxLength)
	}
	seen, _ := s.Definitions["Seen"].Properties.Get("values")
	want := map[string]int{
		"reference": length(&s, "reference"), "edition": length(&s, "edition"), "weightMark": length(&s, "weightMark"), "note": length(&s, "note"), "by": length(&s, "by"),
		"remark": length(s.Definitions["Seen"], "note"), "value": int(*seen.Items.MaxLength), "values": int(*seen.MaxItems),
		"mark": length(s.Definitions["Mark"], "mark"), "place": length(s.Definitions["Mark"], "place"),
		"part": length(s.Definitions["Part"], "part"), "state": length(s.Definitions["Part"], "state"),
		"file": length(s.Definitions["Photograph"], "file"), "shows": length(s.Definitions["Photograph"], "shows"),
		"name": length(s.Definitions["Private"], "name"), "contact": length(s.Definitions["Private"], "contact"), "bytes": MaxBytes,
	}
	for _, key := range []string{"marks", "condition", "photographs", "observed"} {
		p, _ := s.Properties.Get(key)
		want[key] = int(*p.MaxItems)
	}
	if !reflect.DeepEqual(limits, want) {
		t.Errorf("the page has %v, the schema %v", limits, want)
	}
}

// TestPanelSavesASubmission fills in the panel in a browser, under the policy
// that the site has, and takes in the file that it saves.
func TestPanelSavesASubmission(t *testing.T) {
	d := newTestInbox(t)
	need.Chromium(t)
	files := http.FileServer(http.Dir(scripts(t)))
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'")
		switch r.URL.Path {
		case "/":
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			fmt.Fprint(w, `<!DOCTYPE html><html lang="en"><title>Panel</title><div id="form" data-name="The Fellside Bow Register" data-edition="2026-11-14 0123456789ab"></div><div id="panel"></div><script type="module" src="/trial.js"></script></html>`)
		case "/trial.js":
			w.Header().Set("Content-Type", "text/javascript")
			fmt.Fprint(w, trial)
		default:
			files.ServeHTTP(w, r)
		}
	}))
	defer server.Close()
	ctx := chromium.Tab(t)
	if err := chromedp.Do(ctx, chromedp.Navigate(server.URL+"/")); err != nil {
		t.Fatal(err)
	}
	photograph := filepath.Join(t.TempDir(), "IMG_0412.jpg")
	if err := os.WriteFile(photograph, []byte("what is in it is not read"), 0o600); err != nil {
		t.Fatal(err)
	}
	evaluate := func(script string) string {
		v, err := chromedp.Run(ctx, chromedp.Evaluate[string](script, chromedp.EvalAwaitPromise))
		if err != nil {
			t.Fatalf("%s: %v", script, err)
		}
		return v
	}
	evaluate(`new Promise((done, fail) => { let n = 0; (function look() { if (window.ready) done(""); else if (++n > 500) fail("the panel never came"); else setTimeout(look, 20); })() })`)
	if said := evaluate(`window.trial({ "Weight mark, to the letter": "42 <b>", "Note": "x" })`); !strings.Contains(said, "Weight mark, to the letter: Plain text only") || !strings.Contains(said, "focus: Weight mark, to the letter") {
		t.Errorf("of markup the panel says %q", said)
	}
	if err := chromedp.Do(ctx, chromedp.SetUploadFiles(`input[type="file"]`, []string{photograph})); err != nil {
		t.Fatal(err)
	}
	said := evaluate(`window.trial({ "Weight mark, to the letter": "•42 @ 28", "Note": "One.\nTwo.", "Mark": "R.A.C. 14", "Where it stands": "lower limb", "Part": "tips", "Its state": "sound",
		"Your name": "N. N.", "How to reach you": "by post", "What IMG_0412.jpg shows": "the mark" })`)
	if !strings.Contains(said, "Saved as bow-plover-") {
		t.Fatalf("the panel says %q", said)
	}
	r, err := d.Take([]byte(strings.Replace(evaluate(`window.saved`), evaluate(`window.today`), "2026-11-20", 1)))
	var why Problems
	if errors.As(err, &why) {
		t.Fatalf("what the panel saves is refused: %v", why)
	}
	s := r.Submission
	if s.WeightMark != "•42 @ 28" || s.Note != "One.\nTwo." || len(s.Marks) != 1 || len(s.Condition) != 2 || s.Condition[1] != (Part{"bow", "", "twist"}) || s.Photographs[0] != (Photograph{"IMG_0412.jpg", "the mark"}) || *s.Private != (Private{"N. N.", "by post"}) {
		t.Errorf("taken in as %+v", s)
	}
}

// trial stands in for the dating form, fills in the panel's fields by their
// labels, presses its button, and tells what it says.
const trial = `
import { Panel } from "/submission/panel.js";
import { dayOf } from "/submission/submission.js";
const form = {
  element: document.getElementById("form"),
  state: { faults: new Set(["twist"]), question: () => ({ models: ["plover"], observed: [{ feature: "riser-wood", values: ["padauk"], sure: "sure" }] }) },
  answer: { best: { model: "plover", year: 1965, chance: 0.9 }, likely: { 95: [{ model: "plover", years: [1965, 1966] }] } },
  features: new Map([["riser-wood", { id: "riser-wood", name: "Riser wood", kind: "choice" }]]),
};
new Panel(document.getElementById("panel"), form);
document.querySelector("details").open = true;
const words = (label) => label.firstChild.textContent.trim();
window.today = dayOf(new Date());
URL.createObjectURL = (blob) => { window.blob = blob; return "#saved"; };
window.trial = async (fields) => {
  for (const [name, text] of Object.entries(fields)) {
    const label = [...document.querySelectorAll("label")].find((l) => words(l) === name);
    if (!label) throw new Error("no field " + name);
    label.querySelector("input, textarea").value = text;
  }
  [...document.querySelectorAll("button")].find((b) => b.textContent === "Save the submission").click();
  if (window.blob) window.saved = await window.blob.text();
  const focus = document.activeElement.closest("label");
  return document.getElementById("panel").querySelector("[role=alert]").textContent + document.querySelector("[role=status]").textContent + (focus ? " focus: " + words(focus) : "");
};
window.ready = true;
`
