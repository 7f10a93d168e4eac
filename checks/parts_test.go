package checks

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/english"
)

func TestYearsForPeople(t *testing.T) {
	for _, row := range []struct {
		list []int
		want string
	}{
		{nil, ""}, {[]int{1965}, "1965"}, {[]int{1965, 1966}, "1965–1966"}, {[]int{1960, 1962, 1963}, "1960 and 1962–1963"},
		{[]int{1950, 1952, 1954, 1956, 1958}, "1950, 1952, 1954, 1956 and 1958"},
		{[]int{1950, 1952, 1954, 1956, 1958, 1960}, "1950, 1952, 1954, 1956 and 2 more stretches"},
	} {
		if got := yearsOf(row.list).String(); got != row.want {
			t.Errorf("%v reads %q, not %q", row.list, got, row.want)
		}
	}
}

// Sets of years as runs agree with sets of years one by one.
func TestYearsAsSets(t *testing.T) {
	run := rapid.Custom(func(t *rapid.T) edtf.Range {
		first := rapid.IntRange(1950, 1970).Draw(t, "first")
		return edtf.Range{First: first, Last: first + rapid.IntRange(-1, 6).Draw(t, "more")}
	})
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.SliceOfN(run, 0, 6).Draw(t, "a"), rapid.SliceOfN(run, 0, 6).Draw(t, "b")
		inA, inB := ones(a), ones(b)
		s, u := tidy(append([]edtf.Range(nil), a...)), tidy(append([]edtf.Range(nil), b...))
		for year := 1940; year < 1990; year++ {
			same(t, "a", year, has(s, year), inA[year])
			same(t, "a and b", year, has(s.with(u), year), inA[year] && inB[year])
			same(t, "a without b", year, has(s.without(u), year), inA[year] && !inB[year])
		}
		if s.count() != len(inA) {
			t.Fatalf("%d years are counted as %d", len(inA), s.count())
		}
		for i := range s {
			if i > 0 && s[i].First <= s[i-1].Last+1 {
				t.Fatalf("runs touch: %v", s)
			}
		}
	})
}

func ones(runs []edtf.Range) map[int]bool {
	in := map[int]bool{}
	for _, r := range runs {
		for y := r.First; y <= r.Last; y++ {
			in[y] = true
		}
	}
	return in
}

func has(s years, year int) bool {
	for _, r := range s {
		if r.Has(year) {
			return true
		}
	}
	return false
}

func same(t *rapid.T, what string, year int, got, want bool) {
	if got != want {
		t.Fatalf("%d is in %s: %v, not %v", year, what, got, want)
	}
}

// page makes a page whose text begins on line 6.
func page(text string) *schema.Page {
	return &schema.Page{Head: schema.Head{Kind: schema.KindPage, ID: "x", File: "pages/x.md",
		Body: schema.Prose{Text: text, Pos: schema.At("pages/x.md", 6, 1)}}}
}

func TestProseIsPlaced(t *testing.T) {
	e := readBody(page("Éin Jahr: 1965.\r\n\r\n> * [é](source:a \"Title\") in *1966*\n>   ![pic][p] and <https://e.org/1967>\n\n[p]: pictures/x.svg\n"))
	var got []string
	for _, list := range [][]mention{e.years, e.links, e.images} {
		for _, m := range list {
			got = append(got, fmt.Sprintf("%d:%d %s", m.pos.Line(), m.pos.Column(), m.text))
		}
	}
	want := "6:11 1965; 8:31 1966; 8:9 source:a; 9:20 https://e.org/1967; 11:6 pictures/x.svg"
	if strings.Join(got, "; ") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(got, "; "), want)
	}
	if e.images[0].alt != "pic" {
		t.Errorf("the words of the picture are %q", e.images[0].alt)
	}
}

func TestYearsInProse(t *testing.T) {
	for text, want := range map[string]string{
		"in 1965, 1966–67 and 1968.":               "1965 1966 1968",
		"(1965) \"1966\" 1967/68 mid-1969":         "1965 1966 1967 1969",
		"1960s, 19655, 1965a, H-1965, 1965-B":      "",
		"£1965 $1966 1,965 1965.5 1,1965":          "",
		"1849 1850 2030 2031":                      "1850 2030",
		"1965-style and 1966.":                     "1965 1966",
		"`1965` and [1966](source:a) and **1967**": "1967",
		"<b>1965</b>":                              "1965",
		"<!-- 1965 -->":                            "",
		"    1965":                                 "",
		"# Of 1965":                                "1965",
		"Made _in 1965_.":                          "1965",
		"http://e.org/1965 #1966 a_1967":           "",
	} {
		var got []string
		for _, m := range readBody(page(text)).years {
			got = append(got, m.text)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%q: got %v, not %q", text, got, want)
		}
	}
}

func TestExtentOfAWord(t *testing.T) {
	for _, row := range []struct {
		line   string
		column int
		want   string
	}{
		{"  - {feature: riser, span: 1965/1967, x: y}", 28, "1965/1967"},
		{`cites: ["list, p. 2", b]`, 9, `"list, p. 2"`},
		{`cites: ["a, b", 'c']`, 8, `["a, b", 'c']`},
		{"name: Plover the second # a note", 7, "Plover the second"},
		{"name: Plover", 1, "name"},
		{"- {a: b}", 3, "{"},
		{"é: ü", 4, "ü"},
		{"short", 40, ""},
		{`x: "open`, 4, `"open`},
	} {
		n := extent([]rune(row.line), row.column)
		runes := []rune(row.line)
		if row.want == "" {
			if n != 1 {
				t.Errorf("%q at %d: %d characters", row.line, row.column, n)
			}
			continue
		}
		if got := string(runes[row.column-1 : row.column-1+n]); got != row.want {
			t.Errorf("%q at %d is %q, not %q", row.line, row.column, got, row.want)
		}
	}
}

// However long a line and wherever the place, what is shown is no longer than
// a screen and the mark lies under it.
func TestWindow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := rapid.StringOfN(rapid.SampledFrom([]rune("ab é{}\"\t,:1中")), 0, 400, -1).Draw(t, "line")
		column, width := rapid.IntRange(-1, 420).Draw(t, "column"), rapid.IntRange(0, 50).Draw(t, "width")
		shown, before, marked := window(line, column, width)
		if n := len([]rune(shown)); n > 102 {
			t.Fatalf("%d characters are shown", n)
		}
		if before < 0 || marked < 1 || marked > 250 {
			t.Fatalf("marked %d after %d", marked, before)
		}
	})
}

func TestWords(t *testing.T) {
	for name, want := range map[string]string{"Riser wood": "riser wood", "GRP limbs": "GRP limbs", "Été": "été", "": "", "X": "X"} {
		if got := midSentence(name); got != want {
			t.Errorf("%q becomes %q", name, got)
		}
	}
	if got := quote(strings.Repeat("x", 100)); len([]rune(got)) != 63 {
		t.Errorf("a long word is quoted with %d characters", len([]rune(got)))
	}
	for n, want := range map[int]string{0: "0 years", 1: "1 year", 2: "2 years"} {
		if got := english.Count(n, "year"); got != want {
			t.Errorf("%d reads %q", n, got)
		}
	}
}
