package schema

import (
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"yearmark/schema/english"
)

// Assemble puts records together and ties them to each other: the names they
// use, the claims that order statements are about, the units of specs. The
// records may have been part of another Reference, which must not be used
// while this runs; Folder is for those who need both. Its problems are those
// that no single record shows: names that nobody answers to, values that a
// feature does not have.
func Assemble(folder string, settings Settings, records []Record, media Media) (*Reference, Problems) {
	ref := register(folder, settings, records, media)
	return ref, link(ref, ref.Records())
}

// register puts records together.
func register(folder string, settings Settings, records []Record, media Media) *Reference {
	ref := &Reference{Folder: folder, Settings: settings, Media: media}
	for _, r := range records {
		r.Header().Kind.row().recordList(ref).put(r)
	}
	for _, k := range kindTable {
		k.recordList(ref).sort()
	}
	return ref
}

// put adds a record; of two with one identifier the later one stays.
func (s *Collection[R]) put(record Record) {
	r := record.(R)
	id := r.Header().ID
	if _, twice := s.byID[id]; !twice {
		s.list = append(s.list, r)
	} else {
		s.replaced = true
	}
	if s.byID == nil {
		s.byID = map[string]R{}
	}
	s.byID[id] = r
}

// sort orders the collection by identifier.
func (s *Collection[R]) sort() {
	if s.replaced {
		for i, r := range s.list {
			s.list[i] = s.byID[r.Header().ID]
		}
	}
	byID := func(a, b R) int { return strings.Compare(a.Header().ID, b.Header().ID) }
	if !slices.IsSortedFunc(s.list, byID) {
		slices.SortFunc(s.list, byID)
	}
}

// linker ties the records of one worker's share.
type linker struct {
	ref      *Reference
	pending  []pending
	claims   map[Record]map[string]*Claim
	patterns map[string]error
}

// pending is a problem whose remedy may be a name that is near. The nearest
// one is looked for at the end, for the first problems only: with thousands of
// unknown names among thousands of known ones it would take for ever.
type pending struct {
	Problem
	name  string
	known func() []string
}

// maxCompared bounds the known names that are compared in the search for near ones.
const maxCompared = 2_000_000

// link ties some records of a reference to all of it. A record that it finds
// tied already as it should be is not written to.
func link(ref *Reference, records []Record) Problems {
	workers := min(runtime.GOMAXPROCS(0), len(records)/64+1)
	linkers := make([]*linker, workers)
	var wait sync.WaitGroup
	for w := range workers {
		l := &linker{ref: ref, claims: map[Record]map[string]*Claim{}, patterns: map[string]error{}}
		linkers[w] = l
		wait.Go(func() {
			for i := w; i < len(records); i += workers {
				records[i].Header().Kind.row().link(l, records[i])
				l.formerly(records[i])
			}
		})
	}
	wait.Wait()
	var all []pending
	for _, l := range linkers {
		all = append(all, l.pending...)
	}
	return suggest(all)
}

// suggest sorts the problems and names the nearest known name in the first of them.
func suggest(all []pending) Problems {
	slices.SortStableFunc(all, func(a, b pending) int { return a.Problem.compare(b.Problem) })
	var problems Problems
	compared := 0
	for _, p := range all {
		if p.known != nil && compared < maxCompared {
			known := p.known()
			compared += len(known)
			if near, ok := Nearest(p.name, known); ok {
				p.Help, p.Remedies = "Did you mean \""+near+"\"?", []Remedy{Rename(p.Pos, p.name, near)}
			}
		}
		problems = append(problems, p.Problem)
	}
	return problems.sorted()
}

func (l *linker) report(check string, at Pos, message, help string, why ...Place) {
	l.pending = append(l.pending, pending{Problem: Problem{Check: check, Pos: at, Message: message, Help: help, Why: why}})
}

// dangling reports a name that nothing answers to.
func (l *linker) dangling(at Pos, kind Kind, name string, known func() []string) {
	p := Problem{Check: CheckDangling, Pos: at, Message: fmt.Sprintf("there is no %s %q", kind, english.Clip(name, 60)), Missing: kind.FileOf(name)}
	p.Help = fmt.Sprintf("Write the file name of a record in the folder %s, or add a record %s.md there.", kind.Folder(), name)
	if !isIdentifier(name) {
		p.Help = fmt.Sprintf("Write the file name of a record in the folder %s, without its ending: small letters, digits and hyphens.", kind.Folder())
	}
	l.pending = append(l.pending, pending{p, name, known})
}

// ids gives the identifiers in a collection.
func ids[R Record](s *Collection[R]) func() []string {
	return func() []string {
		all := make([]string, 0, s.Len())
		for _, r := range s.All() {
			all = append(all, r.Header().ID)
		}
		return all
	}
}

func (l *linker) maker(m *Maker) {
	for _, c := range m.Claims() {
		l.claim(c)
		for _, t := range c.Except {
			l.otherModel(t)
		}
	}
	for _, w := range m.WeightMarks {
		l.cites(w.Cites)
	}
	for _, p := range m.People {
		l.cites(p.Cites)
	}
	l.habits(m)
	l.sayings(m)
	l.orders(m.Order, m)
}

func (l *linker) source(s *Source) {
	l.sayings(s)
	l.sources(s.ReliesOn)
	for _, p := range s.Places {
		l.sources(p.ReliesOn)
	}
}

// sources wants each name to be a source's or an example's.
func (l *linker) sources(names []Text) {
	for _, t := range names {
		l.cite(Citation{Source: t.Value, Pos: t.Pos}, false)
	}
}

func (l *linker) model(m *Model) {
	if name := m.Maker; name.Value != "" {
		if _, ok := l.ref.Makers.Get(name.Value); !ok {
			l.dangling(name.Pos, KindMaker, name.Value, ids(&l.ref.Makers))
		}
	}
	for _, c := range m.Claims() {
		l.claim(c)
	}
	l.orders(m.Order, m)
	for _, r := range m.Related {
		l.otherModel(r.Model)
		l.cites(r.Cites)
	}
	for _, o := range m.Output {
		l.cites(o.Cites)
	}
	l.plate(m)
	l.sayings(m)
}

func (l *linker) otherModel(name Text) {
	if name.Value == "" {
		return
	}
	if _, ok := l.ref.Models.Get(name.Value); !ok {
		l.dangling(name.Pos, KindModel, name.Value, ids(&l.ref.Models))
	}
}

// claim ties a claim's names: its sources, its era, its feature and value.
func (l *linker) claim(c *Claim) {
	l.cites(c.Cites)
	l.cites(c.Against)
	for i := range c.Attested {
		if !c.Attested[i].Bare {
			l.cites(c.Attested[i].Cites)
		}
	}
	for i := range c.Counted {
		l.cites(c.Counted[i].Cites)
	}
	l.opponents(c.Settled, c.Disputed, c.home())
	if c.Era.Value != "" {
		l.era(c)
	}
	for _, when := range c.When {
		l.premise(when)
	}
	switch c.About {
	case AboutFeature:
		l.featureClaim(c)
	case AboutSpec:
		l.specClaim(c)
	}
}

func (l *linker) cites(list []Citation) {
	for i, c := range list {
		alone := i > 0 && c.Place == "" && list[i-1].Place == "" && list[i-1].Pos.Line() == c.Pos.Line()
		l.cite(c, alone)
		if more := l.secondSource(c); more != "" {
			l.report(CheckMalformedCite, c.Pos, "two sources stand in one pair of quotes, and only the first counts", more)
		}
	}
}

// cite wants a source or an example; mayBePlace says that the name stands
// where an unquoted place would after its comma.
func (l *linker) cite(c Citation, mayBePlace bool) {
	if _, ok := l.ref.Cited(c.Source); ok {
		return
	}
	if id, ok := c.ExampleID(); ok {
		l.dangling(c.Pos, KindExample, id, ids(&l.ref.Examples))
		return
	}
	l.dangling(c.Pos, KindSource, c.Source, ids(&l.ref.Sources))
	p := &l.pending[len(l.pending)-1]
	if mended := l.ref.withPlaceRunIn(c); mended != "" {
		p.Help, p.known = fmt.Sprintf("Write the place after a comma: %q.", mended), nil
		l.offer(instead(c.Pos, c.Source, mended))
	}
	if mayBePlace {
		p.Help = fmt.Sprintf("If %q is a place in the source before it, put the two in quotes together: \"source, %s\". Else add a source of that name.", c.Source, c.Source)
	}
}

func (l *linker) era(c *Claim) {
	if c.Model == nil {
		return
	}
	for _, e := range c.Model.Eras {
		if e.ID.Value == c.Era.Value {
			return
		}
	}
	known := func() []string {
		var all []string
		for _, e := range c.Model.Eras {
			all = append(all, e.ID.Value)
		}
		return all
	}
	p := Problem{Check: CheckDangling, Pos: c.Era.Pos, Message: fmt.Sprintf("the model %q has no era %q", c.Model.ID, english.Clip(c.Era.Value, 60)), Missing: c.Model.File}
	p.Help = "Add it under eras, or give the claim a span of its own."
	if isIdentifier(c.Era.Value) {
		p.Remedies = []Remedy{{
			Title: fmt.Sprintf("Add an era %q to %s; its years are asked for next", c.Era.Value, c.Model.Title()),
			Edits: []Edit{{Pos: At(c.Model.File, 0, 0), Keys: []string{"eras", "-", "id"}, New: c.Era.Value}},
		}}
	}
	if eras := known(); len(eras) > 0 {
		p.Help = "Its eras are " + orList(firstFew(eras)) + "."
	}
	l.pending = append(l.pending, pending{p, c.Era.Value, known})
}

func (l *linker) example(e *Example) {
	l.otherModel(e.Model)
	l.either(e)
	first := map[string]Pos{}
	for _, o := range e.Observed {
		f := l.featureOf(o.Feature)
		if f == nil {
			continue
		}
		if o.OwnersWork() {
			l.seenValues(f, o)
			continue // it may stand beside the maker's own
		}
		if at, twice := first[f.ID]; twice && (f.IsExclusive() || FeatureKind(f.Kind.Value) == Figure) {
			l.report(CheckDuplicate, o.Pos, fmt.Sprintf("%q is observed twice on one bow", f.ID), "Keep one; where you cannot tell which value it is, write both in one: value: [a, b].", Place{at, "the first is here"})
		}
		first[f.ID] = o.Pos
		l.seenValues(f, o)
	}
	if e.Documented != nil {
		l.cites(e.Documented.Cites)
	}
	for _, a := range e.Attributed {
		l.cites(a.Cites)
		for _, name := range a.From {
			l.featureOf(name)
		}
	}
	for _, h := range e.History {
		l.cites(h.Cites)
	}
	for _, s := range e.Sales {
		l.cites(s.Cites)
	}
}

func (l *linker) seenValues(f *Feature, o *Observed) {
	for _, v := range o.Value {
		l.seen(f, v)
	}
}

// figures wants a text that read takes for figures in the unit of the feature.
func (l *linker) figures(f *Feature, t Text, read func(string) (Range, error)) {
	r, err := read(t.Value)
	if m, bad := err.(*Malformed); bad {
		l.report(m.Check, t.Pos, m.Message, m.Help)
	} else if r.Unit != "" && r.Unit != Unit(f.Unit.Value) {
		l.report(CheckWrongUnit, t.Pos, fmt.Sprintf("%q is not in the unit of %q", t.Value, f.ID), inUnit(Unit(f.Unit.Value)), Place{f.Unit.Pos, "the unit is declared here"})
	}
}

// seen wants an observed value to suit its feature.
func (l *linker) seen(f *Feature, t Text) {
	switch FeatureKind(f.Kind.Value) {
	case Choice:
		if t.Value != SomethingElse {
			l.value(f, t)
		}
	case Presence:
		l.value(f, t)
	case Figure:
		l.figures(f, t, ParseRange)
	}
}
