package schema

import (
	"fmt"
	"regexp/syntax"

	"yearmark/schema/english"
)

// featureOf finds the feature of that name, or reports that there is none.
func (l *linker) featureOf(name Text) *Feature {
	if name.Value == "" {
		return nil
	}
	f, ok := l.ref.Features.Get(name.Value)
	if !ok {
		l.dangling(name.Pos, KindFeature, name.Value, ids(&l.ref.Features))
		return nil
	}
	return f
}

func (l *linker) featureClaim(c *Claim) {
	f := l.featureOf(c.Feature)
	if f == nil || c.Value.Value == "" {
		return
	}
	switch FeatureKind(f.Kind.Value) {
	case Figure:
		l.report(CheckMisplacedKey, c.Feature.Pos, fmt.Sprintf("%q is a number, and its figures are specs", f.ID), fmt.Sprintf("Move the claim to specs: {spec: %s, range: …, span: …, cites: […]}.", f.ID))
	case Wording:
		l.pattern(c.Value)
	case Choice, Presence:
		l.value(f, c.Value)
	}
}

func (l *linker) value(f *Feature, t Text) {
	if _, ok := f.Value(t.Value); ok {
		return
	}
	if len(f.Values) == 0 && FeatureKind(f.Kind.Value) == Choice {
		return // that the feature has no values is reported with the feature
	}
	p := Problem{Check: CheckUnknownValue, Pos: t.Pos, Message: fmt.Sprintf("%q is not a value of %q", english.Clip(t.Value, 60), f.ID), Missing: f.File}
	p.Help = "Its values are " + orList(firstFew(f.valueIDs())) + "."
	p.Why = []Place{{f.Kind.Pos, "the feature is declared here"}}
	l.pending = append(l.pending, pending{p, t.Value, f.valueIDs})
}

// maxPattern bounds a pattern, in bytes.
const maxPattern = 500

// pattern wants a value that RE2 takes.
func (l *linker) pattern(t Text) {
	if len(t.Value) > maxPattern {
		l.report(CheckBadPattern, t.Pos, fmt.Sprintf("the pattern is %d characters long, more than %d", len(t.Value), maxPattern), "Write several claims with shorter patterns.")
		return
	}
	err, done := l.patterns[t.Value]
	if !done {
		_, err = syntax.Parse(t.Value, syntax.Perl)
		l.patterns[t.Value] = err
	}
	if err != nil {
		reason := err.Error()
		if e, ok := err.(*syntax.Error); ok {
			reason = e.Code.String()
		}
		l.report(CheckBadPattern, t.Pos, fmt.Sprintf("%q is not a pattern: %s", english.Clip(t.Value, 60), reason), "If the text is meant as it stands, put a backslash before each of . + * ? ( ) [ ] { } | ^ $ \\.")
	}
}

func (l *linker) specClaim(c *Claim) {
	f := l.featureOf(c.Spec)
	if f == nil {
		return
	}
	if kind := FeatureKind(f.Kind.Value); kind != Figure {
		if kind != "" {
			l.report(CheckMisplacedKey, c.Spec.Pos, fmt.Sprintf("%q is no number, and its values are features", f.ID), fmt.Sprintf("Move the claim to features: {feature: %s, value: …, span: …, cites: […]}.", f.ID), Place{f.Kind.Pos, "its kind is declared here"})
		}
		return
	}
	want := Unit(f.Unit.Value)
	switch {
	case c.Range.IsZero() || c.Range.Unit == want:
	case c.Range.Unit == "":
		c.Range.Unit = want
	default:
		l.report(CheckWrongUnit, c.Range.Pos, fmt.Sprintf("%q is not in the unit of %q", c.Range.Written, f.ID), inUnit(want), Place{f.Unit.Pos, "the unit is declared here"})
	}
}

func inUnit(want Unit) string {
	if want == "" {
		return "Leave the unit out: this number has none."
	}
	return fmt.Sprintf("Give the figure in %s.", want)
}

func (l *linker) feature(f *Feature) {
	l.likenesses(f)
	l.sayings(f)
}
