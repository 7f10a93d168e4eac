package provenance

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"yearmark/schema"
)

// The shelf of the tests: a list (.97), a catalogue (.98), a letter (.75), a
// recollection (.60); a bulletin (article, .80) that copied the letter, a book
// (.85) that copied the bulletin and the list, a page of the web (.60) that
// copied the book and the bulletin.
func shelf() map[string]string {
	return map[string]string{
		"list":     "kind: price-list",
		"cat":      "kind: catalogue",
		"letter":   "kind: letter",
		"talk":     "kind: recollection",
		"bulletin": "kind: article\nrelies-on: [letter]",
		"tome":     "kind: book\nrelies-on: [bulletin, list]",
		"page":     "kind: web\nrelies-on: [tome, bulletin]",
	}
}

// The expected figures are computed by hand from the formulas of the package
// comment; the working stands beside each.
func TestAssessmentByHand(t *testing.T) {
	sources := shelf()
	for i := range 5 {
		sources[fmt.Sprintf("letter-%d", i)] = "kind: letter"
	}
	sources["collected"] = "kind: book\nrelies-on: [letter-0, letter-1, letter-2, letter-3, letter-4]"
	sources["papers"], sources["cat-2"] = "kind: factory-paper", "kind: catalogue"
	sources["site"] = "kind: web"
	sources["review"] = "kind: article\nrelies-on: [cat]"
	sources["book-1"], sources["book-2"] = "kind: book\nrelies-on: [letter]", "kind: book\nrelies-on: [letter]"
	for _, row := range []struct {
		name, claim   string
		pro, contra   float64
		nPro, nContra int
		credence      float64
	}{
		// the check values of the design
		{"a book of five letters", "span: 1965, cites: [collected]", .85 * (1 - .25*.25*.25*.25*.25), 0, 1, 0, .8491699},
		{"three for, a web page against", "span: 1965, cites: [papers, cat, letter], against: [site]",
			1 - .01*.02*.25, .60, 3, 1, .99995 * .4 / (1 - .99995*.6)},
		{"two catalogues disagree", "span: 1965, cites: [cat], against: [cat-2]", .98, .98, 1, 1, .98 * .02 / (1 - .98*.98)},
		{"a catalogue and an article on it", "span: 1965, cites: [cat, review]", .98, 0, 1, 0, .98},
		{"two books on one letter", "span: 1965, cites: [book-1, book-2]", .75 * (1 - .15*.15), 0, 1, 0, .733125},

		{"one list", "span: 1965, cites: [list]", .97, 0, 1, 0, .97},
		{"one list cited twice", `span: 1965, cites: ["list, p. 2", "list, p. 3"]`, .97, 0, 1, 0, .97},
		{"two lists", "span: 1965, cites: [list, cat]", 1 - .02*.03, 0, 2, 0, .9994},
		{"a bulletin that copied a letter", "span: 1965, cites: [bulletin]", .80 * .75, 0, 1, 0, .60},
		{"the letter and its copy", "span: 1965, cites: [letter, bulletin]", .75, 0, 1, 0, .75},
		// the tome is right with .85 and has the bulletin's word (.80 * .75) or the list's
		{"a book of two origins", "span: 1965, cites: [tome]", .85 * (1 - .40*.03), 0, 1, 0, .8398},
		// the page needs itself and the bulletin with the letter, or the tome with either:
		// with the bulletin's word (.6) it has it; without (.4) it needs tome and list
		{"by two ways", "span: 1965, cites: [page]", .60 * (.60 + .40*.85*.97), 0, 1, 0, .557880},
		{"an example", "span: 1965, cites: [example-0007]", .90, 0, 1, 0, .90},
		{"a source and an example", "span: 1965, cites: [talk, example-0007]", 1 - .4*.1, 0, 2, 0, .96},
		{"against", "span: 1965, cites: [list], against: [talk]", .97, .60, 1, 1, .97 * .40 / (1 - .97*.60)},
		{"settled", `span: 1965, cites: [list], against: [talk], settled: {because: "x"}`, .97, .60, 1, 1, .97},
		// the letter with .75 for both, the bulletin with .8: F is the letter or the list, A letter and bulletin
		{"an origin on both sides", "span: 1965, cites: [letter, list], against: [bulletin]",
			1 - .25*.03, .60, 2, 1, (.75*.2 + .25*.97) / (1 - .75*.8)},
		// right about one side only: half of .75 each, which exclude each other
		{"one source on both sides", `span: 1965, cites: ["letter, p. 1"], against: ["letter, p. 2"]`, .375, .375, 1, 1, .375},
		// three bulletins that misread one letter are one against
		{"three copies against", "span: 1965, cites: [cat], against: [bulletin, book-1, book-2]",
			.98, .75 * (1 - .2*.15*.15), 1, 1, .98 * (1 - .746625) / (1 - .98*.746625)},
		{"doubted", `span: "1965?", cites: [list]`, .97, 0, 1, 0, .485},
		{"doubted and about", `span: "1965%", cites: [list]`, .97, 0, 1, 0, .485},
		{"about", "span: 1965~, cites: [list]", .97, 0, 1, 0, .97},
		{"doubted, against and settled", `span: "1965?", cites: [list], against: [talk], settled: {because: "x"}`, .97, .60, 1, 1, .485},
		{"attestations count", "attested: [{year: 1965, cites: [talk]}, {year: 1966, cites: [letter]}]", 1 - .25*.40, 0, 2, 0, .90},
	} {
		t.Run(row.name, func(t *testing.T) {
			ref := book{sources: sources, claims: []string{row.claim}}.reference(t)
			a := Weigh(ref).Of(claim(t, ref, "c0"))
			if a.For.Witnesses != row.nPro || a.Against.Witnesses != row.nContra {
				t.Errorf("%d witnesses for and %d against, want %d and %d", a.For.Witnesses, a.Against.Witnesses, row.nPro, row.nContra)
			}
			near(t, "the chance for it", a.For.Chance, row.pro)
			near(t, "the chance against it", a.Against.Chance, row.contra)
			if math.Abs(a.Credence-row.credence) > 1e-6 { // some are given to six figures
				t.Errorf("the credence is %.9f, not %.9f", a.Credence, row.credence)
			}
		})
	}
}

func TestDoubtOfAnEraIsTheClaims(t *testing.T) {
	ref := book{sources: shelf(), claims: []string{"span: 1965, cites: [list]"}}.reference(t)
	m, _ := ref.Models.Get("plover")
	c := claim(t, ref, "c0")
	era := *c
	era.About, era.ID.Value, era.Span = schema.AboutEra, "late", c.Span
	m.Eras = append(m.Eras, &era)
	c.Era.Value, c.Span = "late", schema.Span{}
	near(t, "the credence", Weigh(ref).Of(c).Credence, .97)
	doubtful := book{sources: shelf(), claims: []string{`span: "1965?", cites: [list]`}}.reference(t)
	era.Span = claim(t, doubtful, "c0").Span
	near(t, "the credence in a doubted era", Weigh(ref).Of(c).Credence, .485)
}

func TestSupports(t *testing.T) {
	ref := book{sources: shelf(), claims: []string{`span: 1965, cites: ["page, top", "bulletin, p. 3", list]`}}.reference(t)
	w := Weigh(ref)
	c := claim(t, ref, "c0")
	got := w.Supports(c.Cites)
	// by the tome and the list .6*.85*.97, by the bulletin .6*.8*.75, by the tome and the bulletin .6*.85*.8*.75
	if want := "[{[page tome list] <nil>} {[page bulletin letter] <nil>} {[page tome bulletin letter] <nil>}]"; fmt.Sprint(got[0].Ways) != want {
		t.Errorf("the page goes back by %v, want %s", got[0].Ways, want)
	}
	if fmt.Sprint(got[1].Ways, got[2].Ways) != "[{[bulletin letter] <nil>}] [{[list] <nil>}]" || got[0].More || got[1].Cite.Place != "p. 3" {
		t.Errorf("the others go back by %v and %v", got[1].Ways, got[2].Ways)
	}
	near(t, "the bulletin by itself", got[1].Chance, .60)
	if id, ok := w.Through(c.Cites[1:2]); !ok || id != "letter" {
		t.Errorf("all goes through %q", id)
	}
	if id, ok := w.Through(c.Cites); ok {
		t.Errorf("all goes through %q, though there are two origins", id)
	}
}

// One source that carries what two others say is what all goes through.
func TestThroughACarrier(t *testing.T) {
	sources := shelf()
	sources["notes"] = "kind: web\nrelies-on: [tome]"
	sources["more-notes"] = "kind: web\nrelies-on: [tome]"
	ref := book{sources: sources, claims: []string{"span: 1965, cites: [notes, more-notes]"}}.reference(t)
	w := Weigh(ref)
	if id, ok := w.Through(claim(t, ref, "c0").Cites); !ok || id != "tome" {
		t.Errorf("all goes through %q, want the tome", id)
	}
	if a := w.Of(claim(t, ref, "c0")); a.For.Witnesses != 1 {
		t.Errorf("%d witnesses", a.For.Witnesses)
	}
}

func TestOnlyRecollection(t *testing.T) {
	sources := shelf()
	sources["retold"] = "kind: article\nrelies-on: [talk]"
	ref := book{sources: sources, claims: []string{"span: 1965, cites: [retold, talk]", "span: 1966, cites: [retold, page]", "span: 1967, against: [talk]"}}.reference(t)
	for id, want := range map[string]bool{"c0": true, "c1": false, "c2": false} {
		if got := OnlyRecollection(ref, claim(t, ref, id).Citations()); got != want {
			t.Errorf("%s is of recollection alone: %v", id, got)
		}
	}
}

func TestCredenceOfTheReferenceCounts(t *testing.T) {
	ref := book{sources: shelf(), claims: []string{"span: 1965, cites: [talk]"},
		judge: "judgement: {credence: {recollection: 0.25}}\n"}.reference(t)
	near(t, "the credence", Weigh(ref).Of(claim(t, ref, "c0")).Credence, .25)
	near(t, "that of the made span", Weigh(ref).Of(claim(t, ref, "made")).Credence, .97)
}

func TestRings(t *testing.T) {
	sources := shelf()
	sources["ring-a"] = "kind: book\nrelies-on: [ring-b]"
	sources["ring-b"] = "kind: article\nrelies-on: [ring-c]"
	sources["ring-c"] = "kind: letter\nrelies-on: [ring-a]"
	sources["loop"] = "kind: web\nrelies-on: [loop]"
	sources["open-a"] = "kind: book\nrelies-on: [open-b, cat]"
	sources["open-b"] = "kind: web\nrelies-on: [open-a]"
	sources["copy"] = "kind: book\nrelies-on: [ring-b]"
	ref := book{sources: sources, claims: []string{
		"span: 1965, cites: [ring-a, ring-b, ring-c]", "span: 1966, cites: [open-b]", "span: 1967, cites: [copy]",
	}}.reference(t)
	w := Weigh(ref)
	var rings []string
	for _, ring := range w.Rings() {
		var ids []string
		for _, s := range ring.Sources {
			ids = append(ids, s.ID)
		}
		rings = append(rings, fmt.Sprint(strings.Join(ids, " "), " ", ring.Grounded))
	}
	if got := strings.Join(rings, "; "); got != "loop false; open-a open-b true; ring-a ring-b ring-c false" {
		t.Errorf("the rings are %s", got)
	}
	// a ring that leads nowhere has no origin, nor has a copy of it
	for _, id := range []string{"c0", "c2"} {
		if a := w.Of(claim(t, ref, id)); a != (Assessment{}) || w.Supports(claim(t, ref, id).Cites)[0].Ways != nil {
			t.Errorf("a ring alone is assessed as %+v", a)
		}
	}
	// of a ring that leads on, open-b (.60) takes the catalogue's facts by way of open-a
	a := w.Of(claim(t, ref, "c1"))
	near(t, "the credence by way of a ring", a.Credence, .60*.85*.98)
	if a.For.Witnesses != 1 || fmt.Sprint(w.Origins("open-b")) != "[cat]" || w.Origins("ring-a") != nil {
		t.Errorf("a ring that leads on has %d witnesses and the origins %v", a.For.Witnesses, w.Origins("open-b"))
	}
}

func TestLeavingOut(t *testing.T) {
	sources := shelf()
	sources["report"] = "kind: article\nrelies-on: [example-0007]"
	ref := book{sources: sources, claims: []string{
		"span: 1965, cites: [example-0007, talk]", "span: 1966, cites: [report]", "span: 1967, cites: [list], against: [example-0007]",
	}}.reference(t)
	w := WeighWithout(ref, func(c schema.Citation) bool { return c.Source == "example-0007" })
	near(t, "the credence without the example", w.Of(claim(t, ref, "c0")).Credence, .60)
	near(t, "that of what copied the example alone", w.Of(claim(t, ref, "c1")).Credence, 0)
	near(t, "that of what it spoke against", w.Of(claim(t, ref, "c2")).Credence, .97)
	near(t, "with the example", Weigh(ref).Of(claim(t, ref, "c1")).Credence, .80*.90)
}

func TestWayBack(t *testing.T) {
	ref := book{sources: shelf(), claims: []string{
		"span: 1965, cites: [letter, letter]", "span: 1966, cites: [bulletin]", "span: 1967, cites: [list], against: [letter]",
	}}.reference(t)
	w := Weigh(ref)
	keys := func(list []*schema.Claim) string {
		var ids []string
		for _, c := range list {
			ids = append(ids, c.ID.Value)
		}
		return strings.Join(ids, " ")
	}
	if got := keys(w.DependsOn("letter")); got != "c0" {
		t.Errorf("on the letter rest %q", got)
	}
	if got := keys(w.DependsOn("list")); got != "made c2" {
		t.Errorf("on the list rest %q", got)
	}
	if got := keys(w.SpeaksAgainst("letter")); got != "c2" {
		t.Errorf("the letter speaks against %q", got)
	}
	var ids []string
	for _, s := range w.ReliedOnBy("bulletin") {
		ids = append(ids, s.ID)
	}
	if !slices.Equal(ids, []string{"page", "tome"}) {
		t.Errorf("the bulletin is relied on by %q", ids)
	}
	if got := strings.Join(w.Origins("page"), ", "); got != "letter, list" {
		t.Errorf("the page goes back to %s", got)
	}
	if w.Origins("nothing") != nil || w.DependsOn("nothing") != nil {
		t.Error("a source that is not there has origins or claims")
	}
}

func TestALongChain(t *testing.T) {
	const length = 20_000
	sources := map[string]string{"list": "kind: price-list"}
	last := "list"
	for i := range length {
		id := fmt.Sprintf("copy-%05d", i)
		sources[id] = "kind: web\nrelies-on: [" + last + "]"
		last = id
	}
	ref := book{sources: sources, claims: []string{"span: 1965, cites: [" + last + "]"}}.reference(t)
	w := Weigh(ref)
	if a := w.Of(claim(t, ref, "c0")); a.For.Witnesses != 1 || a.Estimated {
		t.Errorf("a chain of %d sources is assessed as %+v", length, a)
	}
	if way := w.Supports(claim(t, ref, "c0").Cites)[0].Ways[0].Sources; len(way) != length+1 || way[length] != "list" {
		t.Errorf("a chain of %d sources is %d long", length, len(way))
	}
}

func TestManyAtOnce(t *testing.T) {
	ref := book{sources: shelf(), claims: []string{"span: 1965, cites: [page, list]"}}.reference(t)
	w := Weigh(ref)
	var wait sync.WaitGroup
	got := make([]float64, 50)
	for i := range got {
		wait.Go(func() { got[i] = w.Of(claim(t, ref, "c0")).Credence + float64(len(w.DependsOn("list"))) })
	}
	wait.Wait()
	for _, g := range got {
		near(t, "the credence", g, got[0])
	}
}
