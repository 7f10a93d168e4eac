package search

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/search/words"
	"yearmark/testdata/need"
)

var draw = flag.Uint64("draw", 0, "draw testdata/drawn.tsv anew from the demonstration with this seed")

// drawnOfEach is how many questions are drawn of each sort.
const drawnOfEach = 4

// drawer draws records and asks of each what a person would type who wants it. What
// answers is worked out from the records: everything of which the question is
// true. The search is not asked.
type drawer struct {
	rng *rand.Rand
	ref *schema.Reference
	w   *writer
}

// sorts are the sorts of question; each gives nothing where the record that it
// drew allows no such question.
var sorts = []struct {
	name string
	ask  func(*drawer) (question string, right []string)
}{
	{"maker and feature", (*drawer).makerAndFeature},
	{"value and year", (*drawer).valueAndYear},
	{"model and value", (*drawer).modelAndValue},
	{"a stamped number", (*drawer).stamped},
	{"words of a source", (*drawer).sourceWords},
	{"a source by its kind and year", (*drawer).sourceByYear},
	{"a figure in a range", (*drawer).figure},
	{"another name", (*drawer).otherName},
	{"a letter wrong", (*drawer).misspelt},
	{"what was seen on an example", (*drawer).seen},
}

// drawn gives the lines of the file: question, answers, sort.
func drawn(ref *schema.Reference, seed uint64) string {
	d := &drawer{rand.New(rand.NewPCG(seed, 0)), ref, &writer{ref: ref}}
	var b strings.Builder
	fmt.Fprintf(&b, "# Drawn from the demonstration by go test ./search -run TestDrawnQuestions -draw %d: the question, a tab, every address\n"+
		"# that the records make an answer, a tab, the sort of question. Never to be edited, nor to choose weights by.\n", seed)
	for _, sort := range sorts {
		taken := map[string]bool{}
		for len(taken) < drawnOfEach {
			question, right := sort.ask(d)
			question = strings.ToLower(question)
			if len(right) == 0 || question == "" || taken[question] {
				continue
			}
			taken[question] = true
			slices.Sort(right)
			fmt.Fprintf(&b, "%s\t%s\t%s\n", question, strings.Join(slices.Compact(right), " "), sort.name)
		}
	}
	return b.String()
}

func pick[T any](d *drawer, list []T) T { return list[d.rng.IntN(len(list))] }

// claim draws a claim on a model, its maker's among them.
func (d *drawer) claim() (*schema.Model, *schema.Claim) {
	m := pick(d, d.ref.Models.All())
	return m, pick(d, d.ref.ClaimsOn(m))
}

// choice draws a claim of a declared value.
func (d *drawer) choice() (*schema.Model, *schema.Claim, *schema.Feature) {
	for {
		m, c := d.claim()
		if f, ok := d.ref.Features.Get(c.Feature.Value); ok && schema.FeatureKind(f.Kind.Value) == schema.Choice {
			return m, c, f
		}
	}
}

// valueSaid is how a person says a value: with its feature where another value is called the same.
func (d *drawer) valueSaid(f *schema.Feature, value string) string {
	name, twins := f.ValueName(value), 0
	for _, other := range d.ref.Features.All() {
		for _, v := range other.Values {
			if other.ValueName(v.ID.Value) == name {
				twins++
			}
		}
	}
	if twins > 1 || name == "None" {
		return name + " " + f.Title()
	}
	return name
}

// has gives a model, and those of its eras, of which a claim holds, in the year
// asked for if one is.
func (d *drawer) has(m *schema.Model, year int, holds func(*schema.Claim) bool) []string {
	var list []string
	for _, c := range d.ref.ClaimsOn(m) {
		span := d.w.span(c)
		if !holds(c) || year != 0 && !span.Has(year) {
			continue
		}
		list = append(list, m.Address())
		for _, e := range m.Eras {
			if s := d.w.span(e); meets(s, span) && (year == 0 || s.Has(year)) {
				list = append(list, e.Address())
			}
		}
	}
	return list
}

// sawIt gives the examples on which a value was seen and that are of the model and year asked for, if any.
func (d *drawer) sawIt(model string, year int, saw func(*schema.Observed) bool) []string {
	var list []string
	for _, e := range d.ref.Examples.All() {
		inYear := year == 0 || e.Documented != nil && spanOf(e.Documented.Span.Expr).Has(year)
		if inYear && (model == "" || e.Model.Value == model) && slices.ContainsFunc(e.Observed, saw) {
			list = append(list, e.Address())
		}
	}
	return list
}

func isValue(c *schema.Claim, feature, value string) bool {
	return c.Feature.Value == feature && c.Value.Value == value
}

func sawValue(feature, value string) func(*schema.Observed) bool {
	return func(o *schema.Observed) bool {
		return o.Feature.Value == feature && slices.ContainsFunc(o.Value, func(t schema.Text) bool { return t.Value == value })
	}
}

// makerAndFeature: "kerrigate tip overlays".
func (d *drawer) makerAndFeature() (string, []string) {
	m, _, f := d.choice()
	maker, _ := d.ref.Makers.Get(m.Maker.Value)
	right := []string{maker.Address(), f.Address()}
	for _, other := range d.ref.Models.All() {
		if other.Maker.Value != m.Maker.Value {
			continue
		}
		right = append(right, d.has(other, 0, func(c *schema.Claim) bool { return c.Feature.Value == f.ID })...)
		for _, c := range d.ref.ClaimsOn(other) {
			if c.Feature.Value == f.ID {
				right = append(right, f.Address()+"#value-"+c.Value.Value)
			}
		}
	}
	return firstWord(maker.Title()) + " " + f.Title(), right
}

func firstWord(s string) string { return strings.Fields(s)[0] }

// valueAndYear: "ox-blood glass 1963".
func (d *drawer) valueAndYear() (string, []string) {
	_, c, f := d.choice()
	year := d.year(d.w.span(c))
	if year == 0 {
		return "", nil
	}
	right := d.sawIt("", year, sawValue(f.ID, c.Value.Value))
	for _, m := range d.ref.Models.All() {
		right = append(right, d.has(m, year, func(other *schema.Claim) bool { return isValue(other, f.ID, c.Value.Value) })...)
	}
	return fmt.Sprintf("%s %d", d.valueSaid(f, c.Value.Value), year), right
}

func (d *drawer) year(span edtf.Range) int {
	if span == (edtf.Range{}) {
		return 0
	}
	return span.First + d.rng.IntN(span.Last-span.First+1)
}

// modelAndValue: "mirkbeck horn".
func (d *drawer) modelAndValue() (string, []string) {
	m, c, f := d.choice()
	right := d.has(m, 0, func(other *schema.Claim) bool { return isValue(other, f.ID, c.Value.Value) })
	return m.Title() + " " + d.valueSaid(f, c.Value.Value), append(right, d.sawIt(m.ID, 0, sawValue(f.ID, c.Value.Value))...)
}

// stamped: a serial or model number as it stands on an example, "65-172".
func (d *drawer) stamped() (string, []string) {
	e := pick(d, d.ref.Examples.All())
	for _, o := range e.Observed {
		f, ok := d.ref.Features.Get(o.Feature.Value)
		if !ok || schema.FeatureKind(f.Kind.Value) != schema.Wording || len(o.Value) != 1 {
			continue
		}
		number := o.Value[0].Value
		right := d.sawIt("", 0, sawValue(f.ID, number))
		for _, m := range d.ref.Models.All() {
			right = append(right, d.has(m, 0, func(c *schema.Claim) bool {
				return c.Feature.Value == f.ID && regexp.MustCompile(c.Value.Value).MatchString(number)
			})...)
		}
		return number, right
	}
	return "", nil
}

// sourceWords: four words that stand together in what a place says, the first one a long one.
func (d *drawer) sourceWords() (string, []string) {
	s := pick(d, d.ref.Sources.All())
	if len(s.EveryPlace()) == 0 || s.MayShow() == schema.ShowsNone {
		return "", nil
	}
	p := pick(d, s.EveryPlace())
	all := strings.Fields(p.Says.Value)
	if len(all) < 8 {
		return "", nil
	}
	from := d.rng.IntN(len(all) - 4)
	if len(all[from]) < 5 {
		return "", nil
	}
	typed := strings.Map(func(r rune) rune {
		if strings.ContainsRune(".,;:()“”", r) {
			return -1
		}
		return r
	}, strings.Join(all[from:from+4], " "))
	return typed, []string{s.Address(), s.Address() + "#" + schema.Citation{Place: p.At.Value}.Anchor()}
}

// sourceByYear: "kerrigate price list 1962".
func (d *drawer) sourceByYear() (string, []string) {
	s := pick(d, d.ref.Sources.All())
	issued := spanOf(s.Issued.Expr)
	if s.By.Value == "" || issued == (edtf.Range{}) {
		return "", nil
	}
	var right []string
	for _, other := range d.ref.Sources.All() {
		if other.By.Value == s.By.Value && other.Kind.Value == s.Kind.Value && spanOf(other.Issued.Expr) == issued {
			right = append(right, other.Address())
		}
	}
	return fmt.Sprintf("%s %s %d", firstWord(s.By.Value), strings.ReplaceAll(s.Kind.Value, "-", " "), issued.First), right
}

// figure: "skelbeck 43 lb".
func (d *drawer) figure() (string, []string) {
	m, c := d.claim()
	f, ok := d.ref.Features.Get(c.Spec.Value)
	if !ok {
		return "", nil
	}
	figure := float64(int(c.Range.Low)) + float64(d.rng.IntN(1+int(c.Range.High-c.Range.Low)))
	if figure < c.Range.Low {
		figure = c.Range.Low
	}
	written := strconv.FormatFloat(figure, 'f', -1, 64)
	right := d.has(m, 0, func(other *schema.Claim) bool {
		return other.Spec.Value == f.ID && other.Range.Low <= figure && figure <= other.Range.High
	})
	return m.Title() + " " + written + " " + f.Unit.Value, append(right, d.sawIt(m.ID, 0, sawValue(f.ID, written))...)
}

// otherName: a name in a maker's, model's or source's record that is not its title.
func (d *drawer) otherName() (string, []string) {
	type named struct{ name, address string }
	var list []named
	for _, m := range d.ref.Makers.All() {
		for _, also := range m.Also {
			list = append(list, named{also.Name.Value, m.Address()})
		}
		for _, o := range m.Owners {
			list = append(list, named{o.Name.Value, m.Address()})
		}
		for _, p := range m.People {
			list = append(list, named{p.Name.Value, m.Address()})
		}
		for _, n := range m.Namesakes {
			list = append(list, named{n.Name.Value, m.Address()})
		}
	}
	for _, s := range d.ref.Sources.All() {
		for _, also := range s.Also {
			list = append(list, named{also.Name.Value, s.Address()})
		}
	}
	one := pick(d, list)
	var right []string
	for _, other := range list {
		if other.name == one.name {
			right = append(right, other.address)
		}
	}
	for _, s := range d.ref.Sources.All() {
		if s.By.Value == one.name {
			right = append(right, s.Address())
		}
	}
	return one.name, right
}

// misspelt: the name of a model, feature or value in which one long word has a letter wrong.
func (d *drawer) misspelt() (string, []string) {
	m, c, f := d.choice()
	name, right := m.Title(), append(d.has(m, 0, func(*schema.Claim) bool { return true }), m.Address())
	switch d.rng.IntN(3) {
	case 1:
		name, right = f.Title(), []string{f.Address()}
	case 2:
		name, right = d.valueSaid(f, c.Value.Value), []string{f.Address() + "#value-" + c.Value.Value}
		for _, other := range d.ref.Models.All() {
			right = append(right, d.has(other, 0, func(o *schema.Claim) bool { return isValue(o, f.ID, c.Value.Value) })...)
		}
	}
	all := strings.Fields(name)
	i := slices.IndexFunc(all, func(w string) bool { return len(w) > 5 })
	if i < 0 {
		return "", nil
	}
	q := questioner{rng: d.rng}
	wrong := q.misspelt(all[i])
	if wrong == all[i] {
		return "", nil
	}
	all[i] = wrong
	return strings.Join(all, " "), right
}

// seen: a model and three words of a remark on an example of it.
func (d *drawer) seen() (string, []string) {
	e := pick(d, d.ref.Examples.All())
	m, ok := d.ref.Models.Get(e.Model.Value)
	if !ok || len(e.Observed) == 0 {
		return "", nil
	}
	var long []string
	for _, t := range words.Split(pick(d, e.Observed).Note.Value) {
		if t.Kind == words.Word && len(t.Word) > 3 {
			long = append(long, t.Word)
		}
	}
	if len(long) < 3 {
		return "", nil
	}
	from := d.rng.IntN(len(long) - 2)
	return m.Title() + " " + strings.Join(long[from:from+3], " "), []string{e.Address()}
}

// wantDrawnRank is the mean reciprocal rank that the drawn questions must reach: 0.760 when they were first
// asked, 0.912 when others of their sorts were answered well. What is missed still is a slip that makes another word, words
// of grammar in a quotation, and names under which the register has several records.
const wantDrawnRank = 0.91

// TestDrawnQuestions asks what was drawn. With -draw it draws first.
func TestDrawnQuestions(t *testing.T) {
	if *draw != 0 {
		ref, problems, err := schema.Read(filepath.Join(need.Root(t), "content"))
		if err != nil || len(problems) > 0 {
			t.Fatal(err, problems)
		}
		if err := os.WriteFile("testdata/drawn.tsv", []byte(drawn(ref, *draw)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	asked, rank, _ := askFile(t, "testdata/drawn.tsv")
	if want := len(sorts) * drawnOfEach; asked != want {
		t.Errorf("%d questions are drawn, want %d", asked, want)
	}
	if rank < wantDrawnRank {
		t.Errorf("the mean reciprocal rank is %.3f, want %.2f", rank, wantDrawnRank)
	}
}
