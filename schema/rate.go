package schema

import (
	"fmt"

	"yearmark/schema/english"
)

// Rate is how many of the bows that somebody looked at had a value, where they
// do not say of which years. It is no claim and moves no odds. Counts of one
// year stand with the claim (Count) and do.
type Rate struct {
	Pos     Pos        `yaml:"-"`
	Feature Text       `yaml:"feature" jsonschema:"required" jsonschema_description:"The feature that was looked at."`
	Value   Text       `yaml:"value" jsonschema:"required" jsonschema_description:"The value that was found; of a number a figure or a range, as in 64 in."`
	With    Whole      `yaml:"with" jsonschema:"required" within:"0..1000000" jsonschema_description:"How many had it."`
	Of      Whole      `yaml:"of" jsonschema:"required" within:"1..1000000" jsonschema_description:"How many were looked at."`
	Note    Text       `yaml:"note" jsonschema_description:"A remark, as in: all of them from one estate."`
	Cites   []Citation `yaml:"cites" jsonschema:"required" jsonschema_description:"Who counted."`
}

// Words says how often it was found: "found on 4 of 6 bows looked at".
func (r *Rate) Words() string {
	return fmt.Sprintf("found on %d of %s looked at", r.With.Value, english.Count(r.Of.Value, "bow"))
}

// rates ties counts to their features, and wants no more found than looked at.
func (l *linker) rates(list []*Rate) {
	for _, r := range list {
		if f := l.featureOf(r.Feature); f != nil && r.Value.Value != "" {
			l.condition(f, r.Value)
		}
		if r.With.Value > r.Of.Value && r.Of.Value > 0 {
			l.report(CheckOutOfBounds, r.With.Pos, fmt.Sprintf("it was found on %d bows, and only %s looked at", r.With.Value, english.Plural(r.Of.Value, "one was", fmt.Sprintf("%d were", r.Of.Value))), "Write under of: how many were looked at in all, those that had it included.", Place{r.Of.Pos, "how many were looked at"})
		}
	}
}
