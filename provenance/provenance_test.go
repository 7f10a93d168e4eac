package provenance

import (
	"fmt"
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
func TestStandingByHand(t *testing.T) {
	for _, row := range []struct {
		name, claim           string
		forNames, against     string
		pro, contra, credence float64
	}{
		{"one list", "span: 1965, cites: [list]", "list 0.97", "", .97, 0, .97},
		{"one list cited twice", `span: 1965, cites: ["list, p. 2", "list, p. 3"]`, "list 0.97", "", .97, 0, .97},
		{"two lists", "span: 1965, cites: [list, cat]", "cat 0.98, list 0.97", "",
			1 - .02*.03, 0, .9994},
		{"a bulletin that copied a letter", "span: 1965, cites: [bulletin]", "letter 0.75", "", .75, 0, .75},
		{"the letter and its copy", "span: 1965, cites: [letter, bulletin]", "letter 0.75", "", .75, 0, .75},
		// by way of the page the letter is worth .60 at most, by way of the bulletin .75
		{"the best way counts", "span: 1965, cites: [page, bulletin]", "letter 0.75, list 0.60", "",
			1 - .25*.40, 0, .90},
		{"the lowest on the way", "span: 1965, cites: [page]", "letter 0.60, list 0.60", "", 1 - .4*.4, 0, .84},
		{"a book of two origins", "span: 1965, cites: [tome]", "letter 0.75, list 0.85", "",
			1 - .25*.15, 0, .9625},
		{"an example", "span: 1965, cites: [example-0007]", "example-0007 0.90", "", .90, 0, .90},
		{"a source and an example", "span: 1965, cites: [talk, example-0007]", "talk 0.60, example-0007 0.90", "",
			1 - .4*.1, 0, .96},
		{"against", "span: 1965, cites: [list], against: [talk]", "list 0.97", "talk 0.60", .97, .60, .97 * .40},
		{"settled", `span: 1965, cites: [list], against: [talk], settled: {because: "x"}`, "list 0.97", "talk 0.60",
			.97, .60, .97},
		{"an origin on both sides", "span: 1965, cites: [letter, list], against: [bulletin]", "letter 0.75, list 0.97", "letter 0.75",
			1 - .25*.03, .75, (1 - .25*.03) * .25},
		{"doubted", `span: "1965?", cites: [list]`, "list 0.97", "", .97, 0, .485},
		{"doubted and about", `span: "1965%", cites: [list]`, "list 0.97", "", .97, 0, .485},
		{"about", "span: 1965~, cites: [list]", "list 0.97", "", .97, 0, .97},
		{"doubted, against and settled", `span: "1965?", cites: [list], against: [talk], settled: {because: "x"}`,
			"list 0.97", "talk 0.60", .97, .60, .485},
		{"attestations count", "attested: [{year: 1965, cites: [talk]}, {year: 1966, cites: [letter]}]",
			"letter 0.75, talk 0.60", "", 1 - .25*.40, 0, .90},
	} {
		t.Run(row.name, func(t *testing.T) {
			ref := book{sources: shelf(), claims: []string{row.claim}}.reference(t)
			s := Weigh(ref).Of(claim(t, ref, "c0"))
			if got := names(s.For); got != row.forNames {
				t.Errorf("for it speak %q, not %q", got, row.forNames)
			}
			if got := names(s.Against); got != row.against {
				t.Errorf("against it speak %q, not %q", got, row.against)
			}
			near(t, "the credit for", s.CreditFor, row.pro)
			near(t, "the credit against", s.CreditAgainst, row.contra)
			near(t, "the credence", s.Credence, row.credence)
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

func TestWaysAreTold(t *testing.T) {
	ref := book{sources: shelf(), claims: []string{`span: 1965, cites: ["page, top", "bulletin, p. 3"]`}}.reference(t)
	s := Weigh(ref).Of(claim(t, ref, "c0"))
	letter := s.For[0]
	if got := fmt.Sprint(letter.Cites, letter.Via); got != "[page, top bulletin, p. 3] [[page bulletin letter] [bulletin letter]]" {
		t.Errorf("the letter is reached by %s", got)
	}
	list := s.For[1]
	if got := fmt.Sprint(list.Via); got != "[[page tome list]]" {
		t.Errorf("the list is reached by %s", got)
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
		for _, s := range ring {
			ids = append(ids, s.ID)
		}
		rings = append(rings, strings.Join(ids, " "))
	}
	if got := strings.Join(rings, "; "); got != "loop; open-a open-b; ring-a ring-b ring-c" {
		t.Errorf("the rings are %s", got)
	}
	// a ring that leads nowhere is one origin, believed as its least member (the letter, .75)
	if got := names(w.Of(claim(t, ref, "c0")).For); got != "ring-a 0.75" {
		t.Errorf("a ring is the witnesses %s", got)
	}
	// a ring that leads on is no origin: open-b (.60) takes the catalogue's facts by way of open-a
	if got := names(w.Of(claim(t, ref, "c1")).For); got != "cat 0.60" {
		t.Errorf("a ring that leads on is the witnesses %s", got)
	}
	if s := w.Of(claim(t, ref, "c2")); names(s.For) != "ring-a 0.75" || len(s.For[0].Origin.Ring) != 3 || s.For[0].Origin.Source != nil {
		t.Errorf("a copy of a ring is the witnesses %s", names(s.For))
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
	near(t, "with the example", Weigh(ref).Of(claim(t, ref, "c1")).Credence, .80)
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
	if got := names(w.Origins("page")); got != "letter 0.60, list 0.60" {
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
	s := Weigh(ref).Of(claim(t, ref, "c0"))
	if len(s.For) != 1 || len(s.For[0].Via[0]) != length+1 {
		t.Errorf("a chain of %d sources ends in %s", length, names(s.For))
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
