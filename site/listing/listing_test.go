package listing

import (
	"context"
	"html"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"yearmark/schema"
	"yearmark/testdata/need"
)

var (
	numbers = regexp.MustCompile(`<span id="L(\d+)">`)
	tags    = regexp.MustCompile(`<[^>]*>`)
)

// shown gives the text of a listing.
func shown(t *testing.T, listing string) string {
	t.Helper()
	return html.UnescapeString(tags.ReplaceAllString(listing, ""))
}

// TestEveryLineIsShown wants each record of the demonstration letter by letter,
// what is private aside, and an address for each line.
func TestEveryLineIsShown(t *testing.T) {
	ref, problems, err := schema.Read(filepath.Join(need.Root(t), "content"))
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	for _, r := range ref.Records() {
		head := r.Header()
		got, err := listed(r)
		if err != nil {
			t.Errorf("%s: %v", head.File, err)
			continue
		}
		masked := schema.MaskPrivate(head.File, head.Source)
		if text := shown(t, string(got)); text != string(masked) {
			t.Errorf("%s is shown as\n%s", head.File, text)
		}
		lines := numbers.FindAllStringSubmatch(string(got), -1)
		if want := strings.Count(string(masked), "\n"); len(lines) != want || lines[want-1][1] != strconv.Itoa(want) {
			t.Errorf("%s: %d lines have addresses, of %d", head.File, len(lines), want)
		}
	}
}

// listed gives a record's listing.
func listed(r schema.Record) (string, error) {
	lines, err := Of(r)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	err = Listing(lines).Render(context.Background(), &b)
	return b.String(), err
}

func record(t *testing.T, file, source string) schema.Record {
	t.Helper()
	r, _ := schema.ReadRecord(file, []byte(source))
	if r == nil {
		t.Fatal("not read")
	}
	return r
}

func TestPiecesAreMarked(t *testing.T) {
	got, err := listed(record(t, "models/a.md", "---\nrecord: model # why\nmade: {span: 1958/1971, cites: [\"list, p. 2\"]}\nuse: One in white. Nobody\n---\n\n# Head\n[a] [b [c](d) ![e](f) [g](h i) `j [k](l)` `m\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		`<b class="nt">span</b>`, `<b class="m">1958/1971</b>`, `<b class="s">&#34;list, p. 2&#34;</b>`,
		`<b class="c"># why</b>`, `<b class="s">One in white. Nobody</b>`, `<b class="gh"># Head`,
		`[a] [b <b class="nt">[c]</b><b class="na">(d)</b> <b class="nt">![e]</b><b class="na">(f)</b> [g](h i) <b class="sb">` + "`j [k](l)`</b> `m\n",
	} {
		if !strings.Contains(string(got), want) {
			t.Errorf("%s is not in\n%s", want, got)
		}
	}
}

// TestHarmIsText shows markup as text and what is private not at all.
func TestHarmIsText(t *testing.T) {
	for file, source := range map[string]string{
		"examples/a.md": "---\nrecord: example\nname: \"<script>alert(1)</script>\"\nprivate: {owner: SECRET} # SECRET\n---\n<script>x</script> [a](javascript:x) <img onerror=x>\n",
		"examples/b.md": "---\r\nrecord: example\r\nprivate:\r\n  owner: SECRET\r\n# SECRET\r\nname: </pre>\r\n---\r\n```html\r\n<script>x</script>\r\n```\r\n",
	} {
		got, err := listed(record(t, file, source))
		if err != nil {
			t.Error(err)
		}
		for _, harm := range []string{"<script", "SECRET", "<img", "onerror=x>", "href=\"javascript", "</pre>\n<", "style="} {
			if strings.Contains(strings.TrimSuffix(string(got), "</pre>"), harm) {
				t.Errorf("%s: %s stands in\n%s", file, harm, got)
			}
		}
	}
	odd, _ := schema.ReadRecord("examples/c.md", []byte("---\nrecord: example\nname: \"\\0\\x1b\"\n---\n")) // the reader refuses it, and so nothing need be listed
	if got, err := listed(odd); strings.ContainsAny(string(got), "\x00\x1b") {
		t.Errorf("%v, %q", err, got)
	}
}

// TestProseIsShownWhole: whatever signs of Markdown a line has, opened, shut or
// neither, its letters are shown as they stand.
func TestProseIsShownWhole(t *testing.T) {
	line := rapid.StringMatching("( ?[-1#][.)]? )?[][`!() a<é]{0,14}\n")
	rapid.Check(t, func(t *rapid.T) {
		source := "---\nrecord: page\n---\n" + strings.Join(rapid.SliceOfN(line, 1, 4).Draw(t, "lines"), "")
		r, _ := schema.ReadRecord("pages/a.md", []byte(source))
		got, err := listed(r)
		if err != nil {
			t.Fatal(err)
		}
		if text := html.UnescapeString(tags.ReplaceAllString(got, "")); text != source {
			t.Fatalf("%q is shown as %q", source, text)
		}
	})
}

// BenchmarkListing lists every record of the demonstration beside the bare
// escaping of the same bytes.
func BenchmarkListing(b *testing.B) {
	ref, _, err := schema.Read(filepath.Join(need.Root(b), "content"))
	if err != nil {
		b.Fatal(err)
	}
	b.Run("escaped", func(b *testing.B) {
		for b.Loop() {
			for _, r := range ref.Records() {
				_ = html.EscapeString(string(r.Header().Source))
			}
		}
	})
	b.Run("listed", func(b *testing.B) {
		for b.Loop() {
			for _, r := range ref.Records() {
				if _, err := listed(r); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
}
