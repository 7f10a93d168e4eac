package schema

// FeatureKind is how a feature's values are told apart.
type FeatureKind string

// The kinds of feature.
const (
	Choice   FeatureKind = "choice"   // one of the values declared, or something else
	Presence FeatureKind = "presence" // present or absent, without declaring them
	Figure   FeatureKind = "number"   // a measured figure; a spec
	Wording  FeatureKind = "text"     // letters and figures, matched by RE2 patterns or plain words
)

// The two values of a presence feature.
const (
	Present = "present"
	Absent  = "absent"
)

// Feature is a property that one can see or measure on a bow.
type Feature struct {
	Head       `yaml:"-"`
	Name       Text            `yaml:"name" jsonschema:"required" jsonschema_description:"What the feature is called."`
	Ask        Text            `yaml:"ask" jsonschema_description:"The question to ask of the bow in the hand."`
	Look       Text            `yaml:"look" jsonschema_description:"Where and how to look."`
	Kind       Text            `yaml:"kind" jsonschema:"required,enum=choice,enum=presence,enum=number,enum=text" jsonschema_description:"choice, presence, number or text."`
	Exclusive  Flag            `yaml:"exclusive" jsonschema_description:"true if one bow has one value only (the default for choice and presence)."`
	SinglesOut Flag            `yaml:"singles-out" jsonschema_description:"true if a value stands for one model of a maker at a time, as a model number does."`
	Changeover *Whole          `yaml:"changeover" within:"0..20" jsonschema_description:"Years that two values may overlap at a change; else the reference's own figure."`
	Held       Text            `yaml:"held" jsonschema:"enum=firm,enum=usual,enum=loose" jsonschema_description:"How strictly makers kept to it: firm, usual (the default) or loose."`
	Altered    *Altered        `yaml:"altered" jsonschema_description:"How later owners change it."`
	Effort     Text            `yaml:"effort" jsonschema:"enum=glance,enum=measure,enum=unstring,enum=remove" jsonschema_description:"What it costs to look: glance (the default), measure, unstring or remove."`
	Picture    Text            `yaml:"picture" jsonschema_description:"A drawing that shows where to look."`
	Values     []*FeatureValue `yaml:"values" jsonschema_description:"The values of a choice, in the order shown."`
	Means      []*Meaning      `yaml:"means" jsonschema_description:"What people say that it, or a value of it, means; side by side where they differ, and no evidence of the year."`
	NotAFault  Text            `yaml:"not-a-fault" jsonschema_description:"What of it looks like a fault and is none; shown beside what to look at before stringing."`
	Unit       Text            `yaml:"unit" jsonschema_description:"The unit of a number: in, lb, gr, mm, cm, kg, g, or a currency's three letters, as in GBP."`
	Plausible  Range           `yaml:"plausible" jsonschema_description:"The least and the greatest figure that make sense, as in 10..120."`
	Step       Text            `yaml:"step" jsonschema_description:"The step to which a number is read, as in 1 or 1/8."`
	Formerly   []Text          `yaml:"formerly" jsonschema_description:"Names that this record had: their addresses lead on to it."`
}

// Title is the feature's name.
func (f *Feature) Title() string { return f.Name.Value }

// Value finds a declared value, or one of the two of a presence feature.
func (f *Feature) Value(id string) (*FeatureValue, bool) {
	for _, v := range f.Values {
		if v.ID.Value == id {
			return v, true
		}
	}
	if FeatureKind(f.Kind.Value) == Presence && (id == Present || id == Absent) {
		return &FeatureValue{ID: Text{Value: id}, Name: Text{Value: id}}, true
	}
	return nil, false
}

// SomethingElse is what is observed of a choice that shows none of the values declared.
const SomethingElse = "something-else"

// DrawWeight is the feature that a stamped draw weight is a figure of, where a
// reference has it.
const DrawWeight = "draw-weight"

// ValueName gives the name of a value for people, or the value itself.
func (f *Feature) ValueName(id string) string {
	v, ok := f.Value(id)
	switch {
	case ok && v.Name.Value != "":
		return v.Name.Value
	case !ok && id == SomethingElse:
		return "something else"
	}
	return id
}

// ClaimedName gives the name of a value as a claim names it: of a text feature,
// whose values may be patterns, what PatternWords draws.
func (f *Feature) ClaimedName(value string) string {
	if FeatureKind(f.Kind.Value) == Wording {
		return PatternWords(value)
	}
	return f.ValueName(value)
}

// IsExclusive says whether one bow has one value only. Choice and presence
// features are exclusive unless their record says otherwise.
func (f *Feature) IsExclusive() bool {
	if !f.Exclusive.Pos.IsZero() {
		return f.Exclusive.Value
	}
	k := FeatureKind(f.Kind.Value)
	return k == Choice || k == Presence
}

// FeatureValue is one state of a feature.
type FeatureValue struct {
	Pos     Pos         `yaml:"-"`
	ID      Text        `yaml:"id" jsonschema:"required" jsonschema_description:"The value's short name, in small letters, digits and hyphens."`
	Name    Text        `yaml:"name" jsonschema_description:"The value as people say it."`
	Also    []OtherName `yaml:"also" jsonschema_description:"Other names that people know it by, each with the years and who says so where that is known."`
	Tell    Text        `yaml:"tell" jsonschema_description:"How to tell it from the others."`
	Picture Text        `yaml:"picture" jsonschema_description:"A drawing or photograph below the folder pictures."`
	Like    []*Likeness `yaml:"like" jsonschema_description:"Other values that it is easily taken for, and what tells them apart."`
}

// Altered says which values later owners bring about, and how often.
type Altered struct {
	Pos    Pos    `yaml:"-"`
	To     []Text `yaml:"to" jsonschema_description:"The values it is changed to."`
	Chance Number `yaml:"chance" within:"0..1" jsonschema_description:"How often, from 0 to 1."`
}

// Effort is what it costs to look at a feature.
type Effort string

// The efforts, least first.
const (
	Glance   Effort = "glance"
	Measure  Effort = "measure"
	Unstring Effort = "unstring"
	Remove   Effort = "remove"
)

// LookEffort is the feature's effort, glance where its record gives none.
func (f *Feature) LookEffort() Effort {
	if f.Effort.Value == "" {
		return Glance
	}
	return Effort(f.Effort.Value)
}
