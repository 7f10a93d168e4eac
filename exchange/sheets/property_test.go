package sheets

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"yearmark/schema"
)

// writable lists columns with what somebody may write into them.
var writable = map[string]map[string]*rapid.Generator[string]{
	"claims": {
		"span":  rapid.SampledFrom([]string{"1955", "1955/1960", "1956~/1959", "1957?", "195X", "[1955,1957]", "{1955,1958}", "1958/..", "1955-06"}),
		"cites": citationCells, "against": citationCells,
		"note": anyText, "settled": anyText, "settled-by": anyText,
		"settled-on": rapid.SampledFrom([]string{"", "2020-01-01", "2021"}),
		"disputed":   rapid.SampledFrom([]string{"", "yes", "no"}),
	},
	"sources": {
		"name": rapid.Map(anyText, func(s string) string { return "N" + s }), "by": anyText, "kept": anyText,
		"kind":   rapid.SampledFrom([]string{"book", "letter", "price-list", "web"}),
		"issued": rapid.SampledFrom([]string{"", "1950", "1965-03", "196X~"}),
		"link":   rapid.SampledFrom([]string{"", "https://a.example.org/b?c=d#e"}),
	},
	"models": {
		"name": rapid.Map(anyText, func(s string) string { return "N" + s }), "picture": rapid.SampledFrom([]string{"", "bows/a.svg"}),
		"use": rapid.SampledFrom([]string{"", "target", "target | field"}),
	},
	"features": {
		"tell": anyText, "value-name": anyText,
	},
	"examples": {
		"name": anyText, "by": anyText, "weight-mark": anyText,
		"riser-wood":  rapid.SampledFrom([]string{"", "ash", "oak", "ash | elm", "oak | elm | ash"}),
		"mark":        rapid.SampledFrom([]string{"star", "ring", "ring | star"}),
		"mark 2 note": anyText,
		"feature:by":  rapid.Map(anyText, func(s string) string { return joinParts([]string{strings.TrimSpace(s)}) }),
		"condition":   rapid.Map(anyText, func(s string) string { return joinPair(strings.TrimSpace("limb"+s), strings.TrimSpace("state"+s)) }),
		"documented":  rapid.SampledFrom([]string{"1958", "1957/1958"}), // never empty: its cites are required
	},
}

var citationCells = rapid.Custom(func(t *rapid.T) string {
	place := rapid.OneOf(rapid.Just("p. 1"), rapid.Map(anyText, func(s string) string { return strings.TrimSpace("p. " + s) }))
	var parts []string
	for range rapid.IntRange(1, 4).Draw(t, "number") {
		parts = append(parts, rapid.SampledFrom([]string{"list-1955", "list-1965", "letter-1990", "example-0007"}).Draw(t, "source")+", "+place.Draw(t, "place"))
	}
	return joinParts(parts)
})

// anyText is what a person may write: the signs of YAML, of CSV and of these
// tables above all. A record does not hold invisible characters.
var anyText = rapid.Map(rapid.OneOf(
	rapid.StringOfN(rapid.SampledFrom([]rune("aB1 :#-?,[]{}&*!|>'\"%@`\\/=+~\n\té“½•")), 0, 12, -1),
	rapid.StringN(0, 12, -1),
	rapid.SampledFrom([]string{"yes", "null", "1958", "0x1F", "- a", "? b", "a: b", "#c", "=1+1", "'=1", "''", "| |", "\\|", "...", "---"}),
), visible)

func visible(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' || r == '\t' || unicode.IsGraphic(r) && !unicode.Is(unicode.Zs, r) || r == ' ' {
			return r
		}
		return -1
	}, s)
}

// texts gives every text of every record by the way that leads to it.
func texts(t testing.TB, files map[string]string) map[string]string {
	all := map[string]string{}
	for file, source := range files {
		if !strings.HasSuffix(file, ".md") {
			continue
		}
		top, err := schema.Locate(file, []byte(source))
		if err != nil {
			t.Fatal(err)
		}
		dump(all, file, top)
	}
	return all
}

func dump(all map[string]string, way string, l *schema.Located) {
	if l.Kind == schema.LocatedText {
		all[way] = l.Text
	}
	for _, item := range l.Items {
		dump(all, way+"/-", item)
	}
	for _, k := range l.Keys {
		dump(all, way+"/"+k.Name, k.Value)
	}
}

// TestEditedCellsSayWhatTheyAre writes random cells: each must then be what the
// record says, every other cell what it was, every comment and every line of
// prose still there, and the same table once more changes nothing.
func TestEditedCellsSayWhatTheyAre(t *testing.T) {
	files := register(t)
	tables := map[string]Table{}
	for _, table := range Tables(Facts{Ref: load(t, files)}) {
		tables[table.Name] = table
	}
	before := cells(t, files)
	rapid.Check(t, func(rt *rapid.T) {
		name := rapid.SampledFrom(slices.Sorted(maps.Keys(writable))).Draw(rt, "table")
		g := gridOf(t, tables[name])
		want := maps.Clone(before)
		for range rapid.IntRange(1, 5).Draw(rt, "edits") {
			row := rapid.SampledFrom(g.rows[1:]).Draw(rt, "row")
			column := rapid.SampledFrom(slices.Sorted(maps.Keys(writable[name]))).Draw(rt, "column")
			cell := writable[name][column].Draw(rt, "cell")
			if row[0] == "0008" && strings.HasPrefix(column, "documented") || row[0] == "0008" && column == "mark 2 note" {
				continue // a paper without its citation, a remark on nothing seen: refused elsewhere
			}
			key := row[0]
			if name == "features" {
				if key += "/" + row[3]; !strings.HasPrefix(key, "riser-wood/") {
					continue // of a feature without written values nothing can be said
				}
			}
			row[g.column(t, column)] = cell
			want[name+" "+key+" "+column] = tidy(cell)
		}
		p, err := Prepare(load(t, files), name+".csv", g.bytes(t))
		if err != nil {
			rt.Fatalf("%v\n%q", err, g.rows)
		}
		now := after(files, p)
		got := cells(t, now)
		for k := range got {
			if tidy(want[k]) == tidy(got[k]) {
				want[k] = got[k]
			}
		}
		maps.DeleteFunc(want, func(_, v string) bool { return v == "" })
		if d := cmp.Diff(want, got); d != "" {
			rt.Fatalf("%s", d)
		}
		keptBesides(rt, t, files, now)
		again, err := Prepare(load(t, now), name+".csv", withoutSums(t, g).bytes(t))
		if err != nil || len(again.Changes) > 0 {
			rt.Fatalf("taken in again: %v, %v", err, again)
		}
	})
}

// withoutSums empties the column of checksums, which are those of the records before.
func withoutSums(t *testing.T, g *grid) *grid {
	for _, row := range g.rows[1:] {
		row[g.column(t, checksumColumn)] = ""
	}
	return g
}

// keptBesides wants what no cell is about to be as it was.
func keptBesides(rt *rapid.T, t *testing.T, before, now map[string]string) {
	was, is := texts(t, before), texts(t, now)
	for _, way := range []string{"/private/owner", "/private/paid", "/private/serial", "/order/-/first", "/maker", "/model", "/record", "/values/-/id", "/unit"} {
		for k, v := range was {
			if strings.HasSuffix(k, way) && is[k] != v {
				rt.Fatalf("%s was %q and is %q", k, v, is[k])
			}
		}
	}
	for file, source := range before {
		if file == schema.SettingsFile {
			continue
		}
		_, prose, _ := strings.Cut(strings.TrimPrefix(source, "---\n"), "\n---\n")
		if !strings.HasSuffix(now[file], "\n---\n"+prose) {
			rt.Fatalf("the text of %s is %q", file, now[file])
		}
		for _, comment := range []string{"# the heron's own remark", "# by the lists", "# woods", "# plain to see", "# after the note", "# no id", "# top shelf", "# PRIVATE-REMARK", "# PRIVATE-LINE", "# till she sold", "# the only one"} {
			if strings.Contains(source, comment) && !strings.Contains(now[file], comment) && !strings.Contains(comment, "shelf") {
				rt.Fatalf("the comment %q is gone from %s:\n%s", comment, file, now[file])
			}
		}
	}
}

func TestPartsOfACellAreReadAsWritten(t *testing.T) {
	trimmed := rapid.Map(anyText, strings.TrimSpace).Filter(func(s string) bool { return s != "" })
	rapid.Check(t, func(rt *rapid.T) {
		list := rapid.SliceOfN(trimmed, 0, 5).Draw(rt, "parts")
		if got := splitParts(joinParts(list)); !slices.Equal(got, list) {
			rt.Fatalf("%q became %q by way of %q", list, got, joinParts(list))
		}
		pair := [2]string{trimmed.Draw(rt, "name"), trimmed.Draw(rt, "what")}
		got := splitPairs(joinPair(pair[0], pair[1]) + between + joinPair("x", ""))
		if len(got) != 2 || got[0] != pair || got[1] != [2]string{"x", ""} {
			rt.Fatalf("%q became %q", pair, got)
		}
	})
}

// TestNoCellIsAFormula holds guarded cells to the list of the OWASP page on CSV
// injection (from memory) and its full-width forms, and wants every cell back
// as it was.
func TestNoCellIsAFormula(t *testing.T) {
	for _, cell := range []string{"=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", " =1", "\u00a0=1", "＝1", "＋1", "－1", "＠x", "'=1", "''=1", "' =1"} {
		if g := guard(cell); g != "'"+cell {
			t.Errorf("%q is written %q", cell, g)
		}
	}
	for _, cell := range []string{"", "1955", "a=1", "'", "''", "'a", "''a", "1-2", "\\"} {
		if g := guard(cell); g != cell {
			t.Errorf("%q is written %q", cell, g)
		}
	}
	rapid.Check(t, func(rt *rapid.T) {
		cell := rapid.OneOf(anyText, rapid.StringOf(rapid.SampledFrom([]rune("'=+-@\t a＝")))).Draw(rt, "cell")
		g := guard(cell)
		if got := unguard(g); got != cell {
			rt.Fatalf("%q became %q by way of %q", cell, got, g)
		}
		if first := strings.TrimLeft(g, " "); first != "" && strings.ContainsRune("=+-@\t\r＝", []rune(first)[0]) {
			rt.Fatalf("%q is written %q, which is a formula", cell, g)
		}
	})
}
