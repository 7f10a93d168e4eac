package schema

import (
	"math"
	"regexp"
	"slices"

	"yearmark/schema/english"
)

// NeverSeen is a value that somebody who looked never met with on bows of a
// model, or of a maker. Nobody need have claimed it. It is no claim: it has no
// years of its own and moves no odds, since it does not say how the bows that
// were looked at came to be looked at.
type NeverSeen struct {
	Pos     Pos        `yaml:"-"`
	Feature Text       `yaml:"feature" jsonschema:"required" jsonschema_description:"The feature that was looked at."`
	Value   Text       `yaml:"value" jsonschema:"required" jsonschema_description:"The value that was never seen; of a number a figure or a range, as in 64 in."`
	When    []Premise  `yaml:"when" jsonschema_description:"Of which bows it is said: what other features are on them, as in {riser-wood: walnut}."`
	Span    Span       `yaml:"span" jsonschema_description:"Of bows of which years it is said, in EDTF; of all where none are given."`
	Except  []Text     `yaml:"except" jsonschema_description:"In a maker's record: models of which it is not said."`
	Of      *Whole     `yaml:"of" within:"1..1000000" jsonschema_description:"How many were looked at, where that is said."`
	Note    Text       `yaml:"note" jsonschema_description:"A remark, as in: where one has it, an owner put it on."`
	Cites   []Citation `yaml:"cites" jsonschema:"required" jsonschema_description:"Who never saw one."`
	Against []Citation `yaml:"against" jsonschema_description:"Who has seen one, or says that there was one."`
}

// NeverSeenOn gives what was never seen on bows of a model: what its own record
// says, then what its maker's says of all models, where it does not except this one
// and the model was made in the years meant.
func (r *Reference) NeverSeenOn(m *Model) []*NeverSeen {
	all := slices.Clone(m.NeverSeen)
	if maker, known := r.Makers.Get(m.Maker.Value); known {
		for _, n := range maker.NeverSeen {
			elsewhere := !n.Span.IsZero() && m.Made != nil && !m.Made.Span.IsZero() && !r.Years(n.Span).Overlaps(r.Years(m.Made.Span))
			if !elsewhere && !slices.ContainsFunc(n.Except, func(t Text) bool { return t.Value == m.ID }) {
				all = append(all, n)
			}
		}
	}
	return all
}

// Shows says whether a value observed of the feature, or claimed of it, is one of
// those that a condition on the feature names. Of a text feature a claimed pattern
// is not weighed against another one: it is the same only where it is written alike.
func (f *Feature) Shows(condition, value string) bool {
	switch FeatureKind(f.Kind.Value) {
	case Figure:
		meant, err := ParseOpenRange(condition)
		seen, err2 := ParseOpenRange(value)
		return err == nil && err2 == nil && meant.Low <= seen.Low && seen.High <= meant.High && !math.IsInf(seen.Low, 0) && !math.IsInf(seen.High, 0)
	case Wording:
		pattern, err := regexp.Compile(condition)
		return value == condition || err == nil && pattern.MatchString(value)
	}
	return value == condition
}

// NeverSeenWords says of which bows it is said: "never seen on bows of 1963 where
// the riser wood is Walnut, 9 looked at".
func (r *Reference) NeverSeenWords(n *NeverSeen) string {
	words := "never seen"
	if !n.Span.IsZero() {
		words += " on bows of " + n.Span.Words()
	}
	words += r.Conditions(n.When)
	if n.Of != nil {
		words += ", " + english.Count(n.Of.Value, "bow") + " looked at"
	}
	return words
}

// neverSeen ties what was never seen to its features; a maker's may except models.
func (l *linker) neverSeen(list []*NeverSeen, ofMaker bool) {
	for _, n := range list {
		for _, p := range n.When {
			l.premise(p)
		}
		if f := l.featureOf(n.Feature); f != nil && n.Value.Value != "" {
			l.condition(f, n.Value)
		}
		for _, t := range n.Except {
			l.otherModel(t)
		}
		if len(n.Except) > 0 && !ofMaker {
			l.report(CheckMisplacedKey, n.Except[0].Pos, "only a maker's record can except models", "Delete except: here, or move the entry to never-seen: of the maker's record.")
		}
	}
}
