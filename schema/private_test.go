package schema_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"yearmark/schema"
	"yearmark/testdata/secrets"
)

// TestMaskPrivate holds the mask to what is private in a record drawn at random
// and to no more: what is shown stays, line by line, and is the same record.
func TestMaskPrivate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		source := secrets.Example("SECRET").Draw(t, "record")
		before, problems := schema.ReadRecord("examples/a.md", []byte(source))
		if len(problems) > 0 {
			t.Fatalf("the test writes what cannot be read: %v\n%s", problems, source)
		}
		masked := schema.MaskPrivate("examples/a.md", []byte(source))
		if strings.Contains(string(masked), "SECRET") || bytes.Count(masked, []byte("\n")) != strings.Count(source, "\n") || strings.Count(string(masked), secrets.Shown) != strings.Count(source, secrets.Shown) {
			t.Fatalf("%s\nbecame\n%s", source, masked)
		}
		top, err := schema.Locate("examples/a.md", masked)
		if err != nil {
			t.Fatalf("%s\ncannot be read: %v", masked, err)
		}
		public, err := before.Header().PublicFile()
		if want := wordsOf(top); err != nil || !bytes.Equal(public.Text, masked) || !slices.Equal(public.Words, want) {
			t.Fatalf("%s\nhas the words %v, want %v: %v", public.Text, public.Words, want, err)
		}
		after, _ := schema.ReadRecord("examples/a.md", masked)
		was, is := before.(*schema.Example), after.(*schema.Example)
		if was.Name.Value != is.Name.Value || was.By.Value != is.By.Value || was.WeightMark.Value != is.WeightMark.Value || len(was.Observed) != len(is.Observed) || len(was.Condition) != len(is.Condition) {
			t.Fatalf("%s\nreads otherwise than\n%s", masked, source)
		}
	})
}

// wordsOf lists the keys and values of a file that is read anew.
func wordsOf(l *schema.Located) (list []schema.Word) {
	for _, item := range l.Items {
		list = append(list, wordsOf(item)...)
	}
	for _, k := range l.Keys {
		list = append(list, schema.Word{Start: int32(k.Start), End: int32(k.End), Key: true})
		list = append(list, wordsOf(k.Value)...)
	}
	if l.Kind == schema.LocatedText && l.Start < l.End {
		list = append(list, schema.Word{Start: int32(l.Start), End: int32(l.End)})
	}
	return list
}

// TestMaskUnreadable breaks a record at random: where it cannot be read, what
// follows private is masked to the end of the front matter.
func TestMaskUnreadable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		source := secrets.Example("SECRET").Draw(t, "record")
		at := rapid.IntRange(4, len(source)-len("---\n\nThe prose is shown.\n")-4).Draw(t, "at")
		if end := strings.IndexAny(source[at:], "\r\n"); end > 0 {
			at += end // a sign at the end of a line breaks no word
		}
		source = source[:at] + rapid.SampledFrom([]string{" \"", " '", " {", " [", " }", " : :", "\n\tx", "\n&a", "\u200b", "\x00", "\n- x", " |"}).Draw(t, "sign") + source[at:]
		masked := schema.MaskPrivate("examples/a.md", []byte(source))
		if strings.Contains(string(masked), "SECRET") || bytes.Count(masked, []byte("\n")) != strings.Count(source, "\n") {
			t.Fatalf("%s\nbecame\n%s", source, masked)
		}
		_, problems := schema.ReadRecord("examples/a.md", []byte(source))
		for _, p := range problems {
			if strings.Contains(p.Message+p.Help, "SECRET") {
				t.Fatalf("%s\n%+v", source, p)
			}
		}
	})
}

// TestMaskDoubtful: keys that are misspelt, out of place or in a file that
// cannot be read are private too, and what is not meant stays as it is.
func TestMaskDoubtful(t *testing.T) {
	for _, source := range []string{
		"---\nprivat: {owner: SECRET}\nname: shown\n---\nshown\n",
		"---\nPrivate:\n  owner: SECRET\n# SECRET\nname: shown\n---\n",
		"---\npirvate: SECRET\nname: shown\n---\n",
		"---\nobserved:\n  - feature: shown # shown\n    # SECRET\n    private: {a: SECRET,\n      b: SECRET}\n\n    # SECRET\n    value: shown # shown\n---\n",
		"---\nobserved:\n  - private: SECRET\n    value: shown\n---\n",
		"---\n? private\n: {owner: SECRET,\n   paid: SECRET}\n? name\n: shown\n---\n",
		"---\nname: shown\nprivate: ? SECRET\n---\nshown\n",
		"---\nname: shown\nprivate: [SECRET\nseen: SECRET\n---\nshown\n",
		"---\nname: shown\nprivate: {owner: &a SECRET}\nby: *a\n---\nshown\n",
		"---\nname: shown\nprivate: SECRET\nprivate: [SECRET]\n---\nshown\n",
		"---\nname: shown # private: SECRET\n# SECRET\nby: shown\n---\nshown\n",
		"---\nnote: | # private: SECRET\n  private: shown\nby: shown\n---\nshown\n",
		"---\nname: shown\nprivate:\n  owner: SECRET\n",
		"name: shown\nprivate:\n  owner: SECRET\n",
		"---\nname: shown\npri\u200bvate: SECRET\n---\nshown\n",
		"---\nname: shown\nprivate:\n\towner: SECRET\n---\nshown\n",
		"---\nname: shown\nprivate: # SECRET\nby: shown\n---\nshown\n",
	} {
		masked := string(schema.MaskPrivate("examples/a.md", []byte(source)))
		if strings.Contains(masked, "SECRET") || strings.Count(masked, "\n") != strings.Count(source, "\n") || strings.Count(masked, "shown") != strings.Count(source, "shown") {
			t.Errorf("%q became %q", source, masked)
		}
	}
	for _, source := range []string{
		"", "---\nname: elevate\nby: \"a private letter\" # shown\n---\nprivate: shown\n", "---\nname: \"C:\\\\x\"\n---\n", "---\nname: [\n---\nprivate: x\n",
	} {
		if masked := schema.MaskPrivate("examples/a.md", []byte(source)); string(masked) != source {
			t.Errorf("%q became %q", source, masked)
		}
	}
}

// TestWordsKeptBack: what a source says of which nothing is shown is dots, in
// every way in which it can be written, and what stands beside it stays.
func TestWordsKeptBack(t *testing.T) {
	const kept = "SECRET words"
	for _, says := range []string{
		"{at: p. 1, says: SECRET words, scan: a.png}", "{at: p. 1, says: \"SECRET words\",\n     scan: a.png}",
		"at: p. 1\n    says: |\n      SECRET words\n\n      SECRET words\n    scan: a.png", "at: p. 1\n    says: >-\n      SECRET words\n    scan: a.png",
		"at: p. 1\n    says: SECRET words\n      SECRET words\n    scan: a.png", "{at: p. 1, \"\\x73ays\": 'SECRET words\n\n      SECRET words', scan: a.png}",
		"at: p. 1\n    # says: SECRET words\n    says: SECRET words # SECRET\n    scan: a.png",
	} {
		for _, shown := range []string{"none", "\"none\"", `"\x6eone"`} {
			source := "---\nrecord: source\nname: A letter\nkind: letter\nshown: " + shown + "\nplaces:\n  - " + says + "\n---\n"
			if _, problems := schema.ReadRecord("sources/a.md", []byte(source)); len(problems) > 0 {
				t.Fatalf("the test writes what cannot be read: %v\n%s", problems, source)
			}
			masked := schema.MaskPrivate("sources/a.md", []byte(source))
			if bytes.Contains(masked, []byte("SECRET")) || bytes.Count(masked, []byte("\n")) != strings.Count(source, "\n") {
				t.Errorf("%s\nbecame\n%s", source, masked)
			}
			r, problems := schema.ReadRecord("sources/a.md", masked)
			if s, ok := r.(*schema.Source); !ok || len(problems) > 0 || len(s.Places) != 1 || s.Places[0].Scan.Value != "a.png" || s.Places[0].At.Value != "p. 1" {
				t.Errorf("%s\nbecame\n%s: %v", source, masked, problems)
			}
			top, err := schema.Locate("sources/a.md", masked)
			if public, _ := schema.PublicFileOf("sources/a.md", []byte(source)); err != nil || !slices.Equal(public.Words, wordsOf(top)) {
				t.Errorf("%s\nhas the words %v: %v", masked, public.Words, err)
			}
			public := strings.Replace(source, "shown: "+shown, "shown: words", 1)
			if !bytes.Contains(schema.MaskPrivate("sources/a.md", []byte(public)), []byte(kept)) {
				t.Errorf("the words that are shown are dots: %s", public)
			}
		}
	}
}
