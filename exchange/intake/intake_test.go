package intake

import (
	"encoding/json"
	"errors"
	"maps"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// today is the day on which the tests take submissions in.
var today = time.Date(2026, 11, 21, 12, 0, 0, 0, time.UTC)

type demonstration struct {
	ref    *schema.Reference
	engine *dating.Engine
}

var readDemonstration = sync.OnceValues(func() (demonstration, error) {
	ref, _, err := schema.Read(demoFolder)
	if err != nil {
		return demonstration{}, err
	}
	return demonstration{ref, dating.New(ref, chronology.Build(ref), provenance.Weigh(ref))}, nil
})

var demoFolder string

// newTestInbox is an inbox for the demonstration.
func newTestInbox(t testing.TB) *Inbox {
	t.Helper()
	demoFolder = filepath.Join(need.Root(t), "content")
	d, err := readDemonstration()
	if err != nil {
		t.Fatal(err)
	}
	return NewInbox(d.ref, d.engine, today, func(string) bool { return false })
}

// full is a submission that says something in every field.
func full() *Submission {
	return &Submission{
		Yearmark: Kind, Version: Version, Reference: "The Fellside Bow Register", Edition: "2026-11-14 0123456789ab", On: "2026-11-20", Model: "plover",
		Observed: []Seen{
			{Feature: "riser-wood", Values: []string{"padauk"}, Sure: "sure"},
			{Feature: "maker-mark", Values: []string{"oval", "script"}, Sure: "unsure", Note: "worn"},
			{Feature: "serial-number", Values: []string{"66-019"}, Sure: "fairly"},
			{Feature: "draw-weight", Values: []string{"41"}, Sure: "sure"},
		},
		Dated:      &Dated{Model: "plover", Year: 1965, Chance: 0.98, Likely: []ModelYears{{Model: "plover", Years: []int{1965}}}},
		WeightMark: "•42 @ 28",
		Marks:      []Mark{{"maker-mark", "face of the upper limb"}, {"R.A.C. 14", "lower limb, inside"}},
		Condition:  []Part{{"upper limb", "slight twist", "twist"}, {Part: "riser", Fault: "crack"}},
		Photographs: []Photograph{
			{File: "IMG_0412.jpg", Shows: "the mark"}, {File: "bow 2.HEIC"},
		},
		Note: "Found in a loft.\n\nThe string is missing.", By: "A visitor",
		Private: &Private{Name: "N. N.", Contact: "by post"},
	}
}

func encoded(t testing.TB, s any) []byte {
	t.Helper()
	data, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// edited is the full submission as JSON with some keys set to other values.
func edited(t testing.TB, keys map[string]any) []byte {
	t.Helper()
	var document map[string]any
	if err := json.Unmarshal(encoded(t, full()), &document); err != nil {
		t.Fatal(err)
	}
	maps.Copy(document, keys)
	return encoded(t, document)
}

func TestTakesWhatTheFormSaves(t *testing.T) {
	d := newTestInbox(t)
	r, err := d.Take(encoded(t, full()))
	if err != nil {
		t.Fatal(err)
	}
	if r.ID != "0053" || r.Before || r.Answer.Best == nil || r.Answer.Best.Model != "plover" || r.Answer.Best.Year != 1965 {
		t.Errorf("taken as %s, best %+v", r.ID, r.Answer.Best)
	}
	want := `---
record: example
model: plover
seen: 2026-11-20
by: "A visitor"
observed:
  - {feature: riser-wood, value: padauk}
  - {feature: maker-mark, value: [oval, script], sure: unsure, note: "face of the upper limb; worn"}
  - {feature: serial-number, value: "66-019", sure: fairly}
  - {feature: draw-weight, value: "41"}
weight-mark: "•42 @ 28"
condition:
  - {part: "upper limb", state: "slight twist", fault: twist}
  - {part: "riser", fault: crack}
  - {part: "lower limb, inside", state: "mark: R.A.C. 14"}
submitted:
  # Once you have looked it over, add the day here, as in: reviewed: 2026-11-30
  on: 2026-11-20
  edition: "2026-11-14 0123456789ab"
  sum: "` + full().sum() + `"
  note: |-
    Found in a loft.

    The string is missing.
private:
  name: "N. N."
  contact: "by post"
  photographs: "IMG_0412.jpg (the mark); bow 2.HEIC"
---
`
	if got := string(r.Record); got != want {
		t.Errorf("the record is\n%s\nwant\n%s", got, want)
	}
	read, problems := schema.ReadRecord(r.File(), r.Record)
	if e, ok := read.(*schema.Example); len(problems) > 0 || !ok || !e.Unreviewed() {
		t.Errorf("read again: %v, %v", read, problems)
	}
}

// refusals are files that are refused, with what is said of them.
var refusals = []struct {
	name, says string
	data       func(t *testing.T) []byte
}{
	{"nothing", "this is an empty file", text("")},
	{"blanks", "this is an empty file", text(" \n\n")},
	{"a web page", "this is a web page", text("<!DOCTYPE html><title>x</title>")},
	{"a photograph", "this is a photograph", text("\xff\xd8\xff\xe0\x00\x10JFIF")},
	{"a packed file", "this is a packed file", text("PK\x03\x04")},
	{"a PDF", "this is a PDF", text("%PDF-1.7")},
	{"a record", "this is a record", text("---\nrecord: example\n---\n")},
	{"UTF-16", "saved as UTF-16", text("\xff\xfe{\x00}\x00")},
	{"Latin-1", "not UTF-8", text("{\"yearmark\":\"\xe9\"}")},
	{"words", "the file is not JSON: something is wrong 1 bytes into it", text("Dear Sir")},
	{"half a file", "it ends too early", text(`{"yearmark":"submission","version":1`)},
	{"two of them", "something stands after the end", text(`{"yearmark":"submission"} {}`)},
	{"another file", "not a submission", text(`{"version":1,"findings":[]}`)},
	{"a list", "not a submission", text(`[]`)},
	{"a number", "not a submission", text(`12`)},
	{"a later version", "version 2; this program knows version 1", text(`{"yearmark":"submission","version":2}`)},
	{"a key twice", "a key stands twice", text(`{"yearmark":"submission","version":1,"on":"2026-11-20","on":"2026-11-21"}`)},
	{"too deep", "more than 6 deep", text(strings.Repeat("[", 7) + strings.Repeat("]", 7))},
	{"very deep", "more than 6 deep", text(strings.Repeat(`{"a":`, 40_000))},
	{"too large", "the file has 257 KB, more than 256", text(strings.Repeat(" ", 257<<10))},
	{"missing keys", "is missing: reference", text(`{"yearmark":"submission","version":1}`)},
	{"an unknown key", `a key that no submission has: "runs"`, with("runs", "x")},
	{"another case", `a key that no submission has: "Model"`, with("Model", "plover")},
	{"a wrong type", "the note: is a list, where text is wanted", with("note", []string{"x"})},
	{"null", "the note: is nothing, where text is wanted", with("note", nil)},
	{"nothing observed", "the list observed: is empty", with("observed", []any{})},
	{"too much observed", "the list observed: has 65 entries, more than 64", with("observed", repeated(65, map[string]any{"feature": "riser-wood", "values": []string{"elm"}, "sure": "sure"}))},
	{"an odd sureness", "how sure the visitor is: is none of sure, fairly, unsure", with("observed", []any{map[string]any{"feature": "riser-wood", "values": []string{"elm"}, "sure": "quite"}})},
	{"an empty value", "observation 1, value 1: is empty", observing("riser-wood", " ")},
	{"a long note", "the note: has 4001 characters, more than 4000", with("note", strings.Repeat("é", 4001))},
	{"a long value", "value 1: has 201 characters, more than 200", observing("serial-number", strings.Repeat("9", 201))},
	{"no day", "the day: is not written as in 2026-11-20", with("on", "yesterday")},
	{"no such day", `the day: "2026-02-30" is no day of the calendar`, with("on", "2026-02-30")},
	{"a day long gone", `the day: "1970-01-01" cannot be the day`, with("on", "1970-01-01")},
	{"a day to come", "the day: 2026-11-30 is still to come", with("on", "2026-11-30")},
	{"an unknown model", `the model: there is no model "ploverr" in the reference`, with("model", "ploverr")},
	{"an unknown feature", `observation 1, the feature: there is no feature "riser-woods" in the reference`, observing("riser-woods", "elm")},
	{"an unknown value", `"paduak"`, observing("riser-wood", "paduak")},
	{"a name for a value", `"Padauk" is not a value of "riser-wood"`, observing("riser-wood", "Padauk")},
	{"a feature twice", `observation 2, the feature: "riser-wood" is observed twice`, with("observed", repeated(2, map[string]any{"feature": "riser-wood", "values": []string{"elm"}, "sure": "sure"}))},
	{"no figure", `"heavy"`, observing("draw-weight", "heavy")},
	{"a figure beyond reason", "plausible", observing("draw-weight", "4000")},
	{"a range that runs downwards", `"45..40"`, observing("draw-weight", "45..40")},
	{"another unit", `"42 kg"`, observing("draw-weight", "42 kg")},
	{"a line break", "the weight mark: has a line break", with("weightMark", "42\n@ 28")},
	{"an empty mark", "mark 1, the place: is empty", with("marks", []any{map[string]any{"mark": "x", "place": "  "}})},
	{"a path", "photograph 1, the file name: is not a plain file name", photograph("../../private.jpg")},
	{"a drive", "is not a plain file name", photograph(`C:\bow.jpg`)},
	{"a hidden name", "is not a plain file name", photograph(".bow.jpg")},
	{"a program", "does not end as a photograph's does", photograph("bow.jpg.exe")},
	{"a drawing", "does not end as a photograph's does", photograph("bow.svg")},
}

func text(s string) func(*testing.T) []byte { return func(*testing.T) []byte { return []byte(s) } }

func with(key string, value any) func(*testing.T) []byte {
	return func(t *testing.T) []byte { return edited(t, map[string]any{key: value}) }
}

func observing(feature, value string) func(*testing.T) []byte {
	return with("observed", []any{map[string]any{"feature": feature, "values": []string{value}, "sure": "sure"}})
}

func photograph(name string) func(*testing.T) []byte {
	return with("photographs", []any{map[string]any{"file": name}})
}

func repeated(n int, v any) []any {
	list := make([]any, n)
	for i := range list {
		list[i] = v
	}
	return list
}

func TestRefusesInPlainWords(t *testing.T) {
	d := newTestInbox(t)
	for _, c := range refusals {
		t.Run(c.name, func(t *testing.T) {
			r, err := d.Take(c.data(t))
			var why Problems
			if r != nil || !errors.As(err, &why) || len(why) == 0 {
				t.Fatalf("taken: %+v, %v", r, err)
			}
			said := ""
			for _, p := range why {
				said += p.String() + "\n" + p.Help + "\n"
				if first := []rune(p.Message)[0]; unicode.IsUpper(first) || strings.HasSuffix(p.Message, ".") {
					t.Errorf("the message %q does not begin small or ends with a full stop", p.Message)
				}
				if p.Help != "" && (unicode.IsLower([]rune(p.Help)[0]) || !strings.HasSuffix(p.Help, ".") && !strings.HasSuffix(p.Help, "?")) {
					t.Errorf("the remedy %q is no sentence", p.Help)
				}
			}
			if !strings.Contains(said, c.says) {
				t.Errorf("it says %q, want %q", said, c.says)
			}
		})
	}
	if r, err := d.Take(encoded(t, full())); err != nil || r.ID != "0053" {
		t.Errorf("after all that: %v, %v", r, err)
	}
}

// markup is what browsers are known to run, or to take for the beginning of
// something they run; after the OWASP cheat sheet on evading filters (from memory).
var markup = []string{
	"<script>alert(1)</script>", "<SCRIPT SRC=//x>", "<img src=x onerror=alert(1)>", "<svg/onload=alert(1)>", "</p><b>", "<!-- x", "<?xml?>", "<iframe src=x>",
	"javascript:alert(1)", "JaVaScRiPt :alert(1)", "vbscript:x", "livescript:x", "data:text/html;base64,PHNjcmlwdD4=", "[x](javascript:alert(1))",
	"&lt;script&gt;", "&#60;script>", "&#x3C;img src=x>", "&#x3c;img", "&amp;lt;script", "&ltscript>", "java&#115;cript:x", "javascript&colon;x",
	"javaſcript:x",
}

// harmless is what people write who mean nothing by it.
var harmless = []string{
	"limb < 2 in thick", "1 < 2 > 0", "I <3 it", "A & B", "Mark & Sons; 1960", "42# @ 28\"", "serial data: see the back, left", "java: a beech", "50% off",
	"\\ back", "`tick`", "*not* emphasis", "- no list", "# no heading", "O’Brien & “sons”", "Ōtsuki 弓 🏹", "می‌خواهم",
}

func TestNoMarkupThatRuns(t *testing.T) {
	d := newTestInbox(t)
	for _, key := range []string{"note", "weightMark", "by", "edition"} {
		for _, m := range markup {
			if len(m) > 60 {
				continue
			}
			if r, err := d.Take(edited(t, map[string]any{key: m})); err == nil {
				t.Errorf("%s: %q is taken: %s", key, m, r.Record)
			}
		}
	}
	for _, h := range harmless {
		if _, err := d.Take(edited(t, map[string]any{"note": h, "by": h})); err != nil {
			t.Errorf("%q is refused: %v", h, err)
		}
	}
}

func TestNoCharacterThatCannotBeSeen(t *testing.T) {
	for _, r := range []rune{0, 1, 7, 0x1b, 0x7f, 0x85, 0xad, 0x200b, 0x200e, 0x202e, 0x2028, 0x2060, 0x2066, 0xfeff, 0xfffd, 0xfffe, 0xffff, 0xfdd0, 0x1fffe, 0xe0041, 0xe000} {
		for _, key := range []string{"note", "by"} {
			if _, err := Read(edited(t, map[string]any{key: "a" + string(r) + "b"})); err == nil {
				t.Errorf("U+%04X is taken in %s", r, key)
			}
		}
	}
	if _, err := Read([]byte(strings.Replace(string(encoded(t, full())), "A visitor", `\ud800`, 1))); err == nil {
		t.Error("half a character is taken")
	}
}

// TestNothingPrivateIsRepeated breaks a submission in every way beside and
// within its private part: no message repeats what stands there.
func TestNothingPrivateIsRepeated(t *testing.T) {
	const secret = "zqsecretqz"
	d := newTestInbox(t)
	private := func(v any) []byte { return edited(t, map[string]any{"private": v}) }
	long := strings.Repeat(secret+" ", 60)
	for _, data := range [][]byte{
		private(secret), private([]string{secret}), private(map[string]any{secret: "x"}), private(map[string]any{"name": []string{secret}}),
		private(map[string]any{"name": long}), private(map[string]any{"contact": secret + "\n"}), private(map[string]any{"name": "<b>" + secret}),
		private(map[string]any{"name": secret + "\u202e"}), edited(t, map[string]any{"photographs": secret}), edited(t, map[string]any{"photographs": []any{map[string]any{"file": "/" + secret}}}),
		edited(t, map[string]any{"photographs": []any{map[string]any{"file": secret + ".exe", "shows": "<b" + secret}}}),
		edited(t, map[string]any{"private": map[string]any{"name": secret}, "model": "nosuch"}),
		[]byte(`{"yearmark":"submission","version":1,"private":{"name":"` + secret + `","name":"` + secret + `"}}`),
		[]byte(`{"yearmark":"submission","version":1,"private":{"name":"` + secret + `}`),
	} {
		r, err := d.Take(data)
		var why Problems
		if !errors.As(err, &why) {
			if r != nil && strings.Contains(string(data), `\n`) {
				continue // the line break at the end was taken off
			}
			t.Errorf("%s is taken: %v", data, err)
		}
		for _, p := range why {
			if strings.Contains(p.String()+p.Help, secret) {
				t.Errorf("%s is told as %q, %q", data, p, p.Help)
			}
		}
	}
}
