package schema

import (
	"fmt"
	"slices"
)

// What practitioners say beside the years of things: shown with its sources,
// and no evidence of a year.

// Meaning is what somebody says that a feature, or one of its values, means.
// Several of one value stand side by side.
type Meaning struct {
	Pos   Pos        `yaml:"-"`
	Value Text       `yaml:"value" jsonschema_description:"The value that is meant; without it the feature as a whole. Of a text feature, letters or a pattern."`
	Says  Text       `yaml:"says" jsonschema:"required" jsonschema_description:"What it is said to mean."`
	By    Text       `yaml:"by" jsonschema_description:"Who says so, where the source is not theirs alone."`
	Cites []Citation `yaml:"cites" jsonschema:"required" jsonschema_description:"Where they say so."`
}

// Hint is a feature that a practitioner looks at first.
type Hint struct {
	Pos     Pos        `yaml:"-"`
	Feature Text       `yaml:"feature" jsonschema:"required" jsonschema_description:"The feature to look at."`
	Because Text       `yaml:"because" jsonschema_description:"Why, in a sentence."`
	Cites   []Citation `yaml:"cites" jsonschema_description:"Who says so."`
}

// Namesake is another maker of the same or a like name.
type Namesake struct {
	Pos   Pos        `yaml:"-"`
	Maker Text       `yaml:"maker" jsonschema_description:"The file name of the other maker's record, where there is one."`
	Name  Text       `yaml:"name" jsonschema_description:"Its name, where there is no record."`
	Tell  Text       `yaml:"tell" jsonschema:"required" jsonschema_description:"How to tell the two apart."`
	Cites []Citation `yaml:"cites" jsonschema_description:"Who says so."`
}

// Gap is what would be known from something that nobody has found.
type Gap struct {
	Pos     Pos        `yaml:"-"`
	What    Text       `yaml:"what" jsonschema:"required" jsonschema_description:"What is missing: the list of 1967, the shop books."`
	Span    Span       `yaml:"span" jsonschema_description:"The years of which it would tell, in EDTF."`
	Because Text       `yaml:"because" jsonschema_description:"What is known of its fate."`
	Cites   []Citation `yaml:"cites" jsonschema_description:"Who says so."`
}

// Saying is one of these, with those who say so.
type Saying struct {
	Pos   Pos
	What  string // within a sentence: "what the dot means"
	Cites []Citation
}

// Sayings gives what a record says besides dated statements, in its order.
func Sayings(r Record) []Saying {
	var list []Saying
	hints := func(all []*Hint) {
		for _, h := range all {
			list = append(list, Saying{h.Pos, "where to look first", h.Cites})
		}
	}
	unseen := func(all []*NeverSeen) {
		for _, n := range all {
			list = append(list, Saying{n.Pos, "what was never seen", slices.Concat(n.Cites, n.Against)})
		}
	}
	counted := func(all []*Rate) {
		for _, r := range all {
			list = append(list, Saying{r.Pos, "on how many it was found", r.Cites})
		}
	}
	called := func(all []OtherName) {
		for _, n := range all {
			if !n.Plain() {
				list = append(list, Saying{n.Pos, "that it was called " + n.Name.Value, n.Cites})
			}
		}
	}
	switch r := r.(type) {
	case *Source:
		called(r.Also)
	case *Feature:
		for _, v := range r.Values {
			called(v.Also)
		}
		for _, m := range r.Means {
			list = append(list, Saying{m.Pos, "what " + Lowered(r.Title()) + " means", m.Cites})
		}
	case *Model:
		called(r.Also)
		hints(r.LookFirst)
		unseen(r.NeverSeen)
		counted(r.Counted)
	case *Maker:
		called(r.Also)
		if o := r.SpecialOrders; o != nil {
			list = append(list, Saying{o.Pos, "its special orders", o.Cites})
		}
		for _, n := range r.SaysNothing {
			list = append(list, Saying{n.Pos, "what says nothing of its bows", n.Cites})
		}
		hints(r.LookFirst)
		for _, n := range r.Namesakes {
			list = append(list, Saying{n.Pos, "its namesake", n.Cites})
		}
		for _, g := range r.Missing {
			list = append(list, Saying{g.Pos, "what is missing of it", g.Cites})
		}
		unseen(r.NeverSeen)
		counted(r.Counted)
	}
	return list
}

// sayings ties what a record says besides dated statements.
func (l *linker) sayings(r Record) {
	for _, s := range Sayings(r) {
		l.cites(s.Cites)
	}
	switch r := r.(type) {
	case *Feature:
		l.means(r)
	case *Model:
		l.hints(r.LookFirst)
		l.neverSeen(r.NeverSeen, false)
		l.rates(r.Counted)
	case *Maker:
		l.hints(r.LookFirst)
		l.neverSeen(r.NeverSeen, true)
		l.rates(r.Counted)
		for _, n := range r.Namesakes {
			l.namesake(r, n)
		}
	}
}

func (l *linker) means(f *Feature) {
	for _, m := range f.Means {
		switch kind := FeatureKind(f.Kind.Value); {
		case m.Value.Value == "":
		case kind == Wording:
			l.pattern(m.Value)
		case kind == Figure:
			l.report(CheckMisplacedKey, m.Value.Pos, "a figure has no values that mean something", "Delete value:, so that it is said of the feature as a whole.")
		default:
			l.value(f, m.Value)
		}
	}
}

func (l *linker) hints(list []*Hint) {
	first := map[string]Pos{}
	for _, h := range list {
		l.featureOf(h.Feature)
		if at, twice := first[h.Feature.Value]; twice {
			l.report(CheckDuplicate, h.Feature.Pos, fmt.Sprintf("%q is to be looked at first twice", h.Feature.Value), "Delete one of the two.", Place{at, "the first is here"})
		}
		first[h.Feature.Value] = h.Feature.Pos
	}
}

func (l *linker) namesake(m *Maker, n *Namesake) {
	switch name := n.Maker.Value; {
	case name == "" && n.Name.Value == "":
		l.report(CheckMissingKey, n.Pos, "a namesake has neither maker nor name", "Add maker: with the other maker's file name, or name: where it has no record.")
	case name == m.ID:
		l.report(CheckDuplicate, n.Maker.Pos, "a maker is its own namesake", "Write the other maker's file name.")
	case name != "":
		if _, ok := l.ref.Makers.Get(name); !ok {
			l.dangling(n.Maker.Pos, KindMaker, name, ids(&l.ref.Makers))
		}
	}
}

// either holds the models of which a bow may be one.
func (l *linker) either(e *Example) {
	for i, m := range e.Either {
		l.otherModel(m)
		if slices.ContainsFunc(e.Either[:i], func(t Text) bool { return t.Value == m.Value }) {
			l.report(CheckDuplicate, m.Pos, fmt.Sprintf("%q stands twice under either", m.Value), "Delete one of the two.")
		}
	}
	switch {
	case len(e.Either) == 1:
		l.report(CheckMissingKey, e.Either[0].Pos, "either names a single model", "Write the other models that it may be, or model: where it is known.")
	case len(e.Either) > 0 && e.Model.Value != "":
		l.report(CheckMisplacedKey, e.Either[0].Pos, "a bow has both model and either", "Keep model where it is known, either where it may be one of several.", Place{e.Model.Pos, "the model is here"})
	}
}
