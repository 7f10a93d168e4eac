package made

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// A house is one maker with all that hangs on it: forty records.
const (
	modelsPerHouse   = 8
	listsPerHouse    = 10
	examplesPerHouse = 12
	pageEvery        = 10 // houses to one that an page of prose is written about
)

type house struct {
	*maker
	rand        *rand.Rand
	id, name    string
	first, last int // years of trading
	models      []*model
	lists       []list // by year
}

// list is a price list or a catalogue of the house.
type list struct {
	year int
	id   string
}

func newHouse(m *maker) *house {
	h := &house{maker: m, rand: m.dice()}
	name := place(h.rand)
	h.id, h.name = fmt.Sprintf("%s-%d", slug(name), m.number), name+" Bows"
	h.first = 1944 + h.rand.IntN(8)
	h.last = h.first
	for n := range modelsPerHouse {
		h.models = append(h.models, newModel(h, n))
		h.last = max(h.last, h.models[n].last)
	}
	for i := range listsPerHouse {
		year := h.first + i*(h.last-h.first)/(listsPerHouse-1)
		h.lists = append(h.lists, list{year, fmt.Sprintf("%s-list-%d", h.id, year)})
	}
	return h
}

// write gives the house's records, those that others rest on first, so that a
// house cut short is still whole.
func (h *house) write() {
	if h.left < 1+listsPerHouse+len(h.others())+1+examplesPerHouse {
		h.papers()
		return
	}
	h.trade()
	h.sources()
	for n, m := range h.models {
		if h.left == 0 {
			return
		}
		h.record("models/"+m.id+".md", m.text(n))
	}
	for n := range examplesPerHouse {
		if n == 0 && h.number%pageEvery == 0 {
			h.proseDocument()
			continue
		}
		h.example(n)
	}
}

// papers fills the last places of a reference with sources nobody has worked
// through yet, told on one page.
func (h *house) papers() {
	var list strings.Builder
	for n := range max(h.left-1, 0) {
		id := fmt.Sprintf("papers-%d-%d", h.number, n)
		h.record("sources/"+id+".md", fmt.Sprintf("---\nrecord: source\nname: Papers of %s, bundle %d\nkind: letter\nissued: %d\nkept: County record office, box %d\n---\n\n%s\n", person(h.rand), n+1, 1980+n%10, n+1, prose(h.rand, 2)))
		fmt.Fprintf(&list, "- [bundle %d](source:%s)\n", n+1, id)
	}
	h.record(fmt.Sprintf("pages/papers-%d.md", h.number), "---\nrecord: page\ntitle: Papers not yet read\n---\n\nStill to be worked through:\n\n"+list.String())
}

// others names the sources that are no lists of the house.
func (h *house) others() []string {
	return []string{"advert", "notice", "stock-book", "patent", "letter", "talk", "article", "book", "web"}
}

func (h *house) source(what string) string { return h.id + "-" + what }

func (h *house) trade() {
	var b strings.Builder
	b.WriteString(line("---\nrecord: maker\nname: %s\nplace: %s", h.name, place(h.rand)))
	b.WriteString(line("trading: {span: %d/%d, cites: [\"%s, p. 1\", \"%s, first leaf\"]}", h.first, h.last, h.lists[0].id, h.source("stock-book")))
	middle := (h.first + h.last) / 2
	b.WriteString(line("owners:\n  - {id: owner-first, name: %s, span: %d/%d, cites: [\"%s, p. 2\"]}", person(h.rand), h.first, middle, h.lists[0].id))
	b.WriteString(line("  - {id: owner-second, name: %s, span: %d/%d, cites: [\"%s, sheet 2\"]}", person(h.rand), middle+1, h.last, h.source("letter")))
	b.WriteString(line("weight-marks: {after: {\"+\": +1 lb, \"++\": +2 lb}, cites: [\"%s, sheet 3\"]}\n---\n", h.source("letter")))
	b.WriteString(prose(h.rand, 5) + "\n\n")
	b.WriteString(line("It traded [from %d to %d](claim:makers/%s/trading). What is kept of its paper:\n", h.first, h.last, h.id))
	for _, l := range h.lists {
		b.WriteString(line("- [list of %d](source:%s)", l.year, l.id))
	}
	for _, o := range h.others() {
		b.WriteString(line("- [%s](source:%s)", strings.ReplaceAll(o, "-", " "), h.source(o)))
	}
	b.WriteString("\n" + prose(h.rand, 4) + " See [the bows](maker:" + h.id + ").\n")
	h.record("makers/"+h.id+".md", b.String())
}

// sources writes the lists and all other paper; the book goes back to the
// article, the article to the letter, and the page on the web to the book.
func (h *house) sources() {
	for n, l := range h.lists {
		kind, name := "price-list", "Retail price list"
		if n%3 == 0 {
			kind, name = "catalogue", "Catalogue"
		}
		h.paper(l.id, fmt.Sprintf("name: %s of %s, %d\nkind: %s\nby: %s\nissued: %d\nkept: \"Club library, box %d\"\n", name, h.name, l.year, kind, h.name, l.year, h.number%40+1))
	}
	year := func() int { return h.first + h.rand.IntN(h.last-h.first) }
	late := 1984 + h.rand.IntN(8)
	said := func(what, kind, more string) {
		h.paper(h.source(what), fmt.Sprintf("name: %s of %s\nkind: %s\n%s", title(what), h.name, kind, more))
	}
	said("advert", "advertisement", line("by: %s\nissued: %d-%02d\nkept: Bound volumes", h.name, year(), h.rand.IntN(12)+1))
	said("notice", "advertisement", line("by: %s\nissued: %d\nkept: Bound volumes", h.name, year()))
	said("stock-book", "factory-paper", line("by: %s\nissued: %d/%d\nkept: Family of the founder", h.name, h.first, h.last))
	said("patent", "patent", line("by: %s\nissued: %d\nkept: Patent library", person(h.rand), year()))
	said("letter", "letter", line("by: %s\nissued: %d\nkept: Club library", person(h.rand), late))
	said("talk", "recollection", line("by: %s\nissued: %d\nkept: Tape in the club library", person(h.rand), late+3))
	said("article", "article", line("by: %s\nissued: %d\nrelies-on: [%s]\nkept: Bound volumes", person(h.rand), late+4, h.source("letter")))
	said("book", "book", line("by: %s\nissued: %d\nrelies-on: [%s, %s]\nkept: Reading shelf", person(h.rand), late+8, h.source("article"), h.source("talk")))
	said("web", "web", line("by: Unsigned\nissued: %d\nrelies-on: [%s]\nlink: https://made.example.org/%s.html\ncopied: {on: 2020-02-%02d}\nkept: Printed copy", late+15, h.source("book"), h.id, h.rand.IntN(28)+1))
}

// paper writes the record of one source.
func (h *house) paper(id, front string) {
	h.record("sources/"+id+".md", "---\nrecord: source\n"+front+"---\n\n"+prose(h.rand, 1+h.rand.IntN(3))+"\n")
}

// at names the place in the house's paper that bears out a year: the list of
// that year or, between two lists, the next; after the last one, the stock book.
func (h *house) at(year int) string {
	for _, l := range h.lists {
		if l.year >= year {
			return fmt.Sprintf("%s, p. %d", l.id, h.rand.IntN(14)+1)
		}
	}
	return fmt.Sprintf("%s, leaf %d", h.source("stock-book"), h.rand.IntN(90)+1)
}

// proseDocument tells of the house at length.
func (h *house) proseDocument() {
	var b strings.Builder
	b.WriteString(line("---\nrecord: page\ntitle: %s and its bows\nabout: How the shop rose and fell\nrank: %d\n---\n", h.name, h.number/pageEvery+1))
	for _, m := range h.models {
		b.WriteString(line("## The %s\n\n%s\n\nThe [%s](model:%s) came out in [%d](claim:%s/made). %s\n", m.name, prose(h.rand, 5), m.name, m.id, m.first, m.id, prose(h.rand, 4)))
	}
	b.WriteString(line("Most of it rests on [a letter](source:%s).", h.source("letter")))
	h.record("pages/"+h.id+".md", b.String())
}
