package intake

import (
	"slices"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
	"pgregory.net/rapid"

	"yearmark/schema"
)

// hostile are pieces of text that YAML has a use for, or that other readers
// take for something else than text (YAML 1.2.2, sections 5 to 9).
var hostile = []string{
	": ", "# ", " #", "- ", "? ", "'", "\"", "\\", "\\n", "{", "}", "[", "]", ",", "&a", "*a", "!tag", "!!str", "%YAML", "@", "`", "|", ">", "---", "...", "~",
	"null", "true", "No", "0123", "1e3", "2026-01-02", "0x1f", "<<", "=", " ", "  ", "é", "弓", "🏹", "\u00a0", "‌", "$schema", "${x}", "{{.}}", "\\u0041", "\\x00", "://", "&",
}

// lineOf draws one line of text that a visitor may write.
func lineOf(most int) *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		parts := rapid.SliceOfN(rapid.OneOf(rapid.SampledFrom(hostile), rapid.StringMatching(`[ -~]{0,6}`), rapid.StringN(0, 4, 16)), 1, 6).Draw(t, "parts")
		return clipTo(strings.Map(func(r rune) rune {
			if oddCharacter(r) != "" {
				return 'x'
			}
			return r
		}, strings.Join(parts, "")), most)
	}).Filter(func(s string) bool { return strings.TrimSpace(s) != "" && !runs(s) })
}

func clipTo(s string, most int) string {
	runes := []rune(s)
	return string(runes[:min(len(runes), most)])
}

// noteOf draws a text of several lines.
var noteOf = rapid.Custom(func(t *rapid.T) string {
	lines := rapid.SliceOfN(rapid.OneOf(rapid.Just(""), rapid.Just("    deep"), lineOf(40)), 0, 8).Draw(t, "lines")
	return strings.Join(lines, "\n")
}).Filter(func(s string) bool { return !runs(strings.ReplaceAll(s, "\n", " ")) })

func submissionOf() *rapid.Generator[*Submission] {
	return rapid.Custom(func(t *rapid.T) *Submission {
		s := full()
		s.Edition, s.By = lineOf(80).Draw(t, "edition"), rapid.OneOf(rapid.Just(""), lineOf(120)).Draw(t, "by")
		s.WeightMark, s.Note = rapid.OneOf(rapid.Just(""), lineOf(60)).Draw(t, "weight mark"), noteOf.Draw(t, "note")
		s.Model = rapid.SampledFrom([]string{"", "plover", "ling"}).Draw(t, "model")
		for i := range s.Observed {
			s.Observed[i].Note = rapid.OneOf(rapid.Just(""), lineOf(100)).Draw(t, "remark")
			s.Observed[i].Sure = rapid.SampledFrom([]string{"sure", "fairly", "unsure"}).Draw(t, "sure")
		}
		s.Observed[2].Values = []string{lineOf(80).Draw(t, "serial")} // a text feature takes any words
		s.Marks, s.Condition = nil, nil
		for range rapid.IntRange(0, 3).Draw(t, "marks") {
			s.Marks = append(s.Marks, Mark{rapid.OneOf(rapid.Just("maker-mark"), lineOf(100)).Draw(t, "mark"), lineOf(100).Draw(t, "place")})
			s.Condition = append(s.Condition, Part{lineOf(100).Draw(t, "part"), lineOf(100).Draw(t, "state"), rapid.SampledFrom([]string{"", "crack", "worn"}).Draw(t, "fault")})
		}
		s.Private = &Private{rapid.OneOf(rapid.Just(""), lineOf(100)).Draw(t, "name"), lineOf(100).Draw(t, "contact")}
		s.Photographs[0].Shows = lineOf(100).Draw(t, "shows")
		return s
	})
}

// TestHostileTextReadsAsItIs writes records from texts that mean something to
// YAML, and reads them with our reader and with the YAML library: every text
// comes back as it was sent.
func TestHostileTextReadsAsItIs(t *testing.T) {
	d := newTestInbox(t)
	rapid.Check(t, func(t *rapid.T) {
		s := submissionOf().Draw(t, "submission")
		data, err := jsonOf(s)
		if err != nil {
			t.Fatal(err)
		}
		r, err := d.Take(data)
		if err != nil {
			t.Fatalf("refused: %v\n%s", err, data)
		}
		read, problems := schema.ReadRecord(r.File(), r.Record)
		if len(problems) > 0 {
			t.Fatalf("%v\n%s", problems, r.Record)
		}
		want := textsOf(r.Submission)
		if got := exampleTexts(read.(*schema.Example)); !slices.Equal(got, want) {
			t.Fatalf("our reader has\n%q\nwant\n%q\n%s", got, want, r.Record)
		}
		var outside any
		front, _, _ := strings.Cut(strings.TrimPrefix(string(r.Record), "---\n"), "\n---\n")
		if err := yaml.Unmarshal([]byte(front), &outside); err != nil {
			t.Fatalf("the library: %v\n%s", err, r.Record)
		}
		var all []string
		collect(outside, &all)
		for _, text := range want {
			if text != "" && !slices.Contains(all, text) {
				t.Fatalf("the library has no %q\n%s", text, r.Record)
			}
		}
	})
}

// textsOf gives the free texts of a submission as its record should have them.
func textsOf(s *Submission) []string {
	notes, condition := s.places()
	texts := []string{s.Edition, s.By, s.WeightMark, s.Note, s.Observed[2].Values[0], s.Private.Name, s.Private.Contact, s.photographs()}
	texts = append(texts, notes...)
	for _, c := range condition {
		texts = append(texts, c.Part, c.State)
	}
	return texts
}

func exampleTexts(e *schema.Example) []string {
	private := map[string]string{}
	for _, k := range e.Private {
		private[k.Key.Value] = k.Value.Value
	}
	texts := []string{e.Submitted.Edition.Value, e.By.Value, e.WeightMark.Value, e.Submitted.Note.Value, e.Observed[2].Value[0].Value, private["name"], private["contact"], private["photographs"]}
	for _, o := range e.Observed {
		texts = append(texts, o.Note.Value)
	}
	for _, c := range e.Condition {
		texts = append(texts, c.Part.Value, c.State.Value)
	}
	return texts
}

// collect gathers every text in what the library read.
func collect(v any, to *[]string) {
	switch v := v.(type) {
	case string:
		*to = append(*to, v)
	case []any:
		for _, item := range v {
			collect(item, to)
		}
	case map[string]any:
		for _, item := range v {
			collect(item, to)
		}
	}
}

// FuzzSubmission reads whatever there is: nothing panics, and what is taken
// becomes a record that reads without a problem.
func FuzzSubmission(f *testing.F) {
	data, err := jsonOf(full())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(data)
	for _, s := range []string{"", "{", `{"yearmark":"submission","version":1}`, `[[[[[[[[`, `{"yearmark":"submission","version":1e999}`, "\xef\xbb\xbf{}"} {
		f.Add([]byte(s))
	}
	d := newTestInbox(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := d.Take(data)
		if err != nil {
			if why, ok := err.(Problems); !ok || len(why) == 0 || why[0].Message == "" {
				t.Fatalf("refused without a reason: %#v", err)
			}
			return
		}
		if r.Before {
			t.Fatal("nothing was filed before")
		}
		read, problems := schema.ReadRecord(r.File(), r.Record)
		e, ok := read.(*schema.Example)
		if !ok || len(problems) > 0 || !r.Submission.says(e) || strings.TrimSpace(e.Body.Text) != "" {
			t.Fatalf("%v\n%s", problems, r.Record)
		}
	})
}
