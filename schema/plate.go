package schema

import "fmt"

// Plate is a drawing of a model on which pointers lead to its telling features.
type Plate struct {
	Pos     Pos      `yaml:"-"`
	Picture Text     `yaml:"picture" jsonschema:"required" jsonschema_description:"A drawing or photograph below the folder pictures."`
	Points  []*Point `yaml:"points" jsonschema_description:"Where on it the features of claims are to be seen."`
}

// Point is where on a plate the feature of a claim is to be seen.
type Point struct {
	Pos   Pos      `yaml:"-"`
	At    []Number `yaml:"at" jsonschema:"required" within:"0..100" jsonschema_description:"How far across the picture and how far down, each in per cent: [46, 40]."`
	Claim Text     `yaml:"claim" jsonschema:"required" jsonschema_description:"The claim pointed to: its permanent name, or makers/ID/name of a claim of the maker's."`

	Of *Claim `yaml:"-"` // what the name stands for; nil where it is wrong
}

// Likeness is another value that one is easily taken for.
type Likeness struct {
	Pos   Pos  `yaml:"-"`
	Value Text `yaml:"value" jsonschema:"required" jsonschema_description:"The other value of the same feature."`
	Tell  Text `yaml:"tell" jsonschema_description:"What tells the two apart."`
}

// plate keeps its picture within the folder pictures and wants two figures of a point.
func (d *decoder) plate(p *Plate) {
	if p == nil {
		return
	}
	d.picture(p.Picture)
	for _, point := range p.Points {
		if len(point.At) != 2 && !d.unread(point.Pos, "at") {
			d.report(CheckOutOfBounds, point.Pos, fmt.Sprintf("a point lies at two figures, and %d are given", len(point.At)), "Write at: [46, 40], how far across the picture and how far down, each in per cent.")
		}
	}
}

// plate finds the claims that a model's plate points to, its own or its maker's.
func (l *linker) plate(m *Model) {
	if m.Plate == nil {
		return
	}
	for _, point := range m.Plate.Points {
		tie(&point.Of, l.named(point.Claim, m))
		if c := point.Of; c != nil && (c.FeatureID() == "" || c.Model != m && c.home().Header().ID != m.Maker.Value) {
			l.report(CheckMisplacedKey, point.Claim.Pos, fmt.Sprintf("%q is no feature of this model", point.Claim.Value), "Point to a claim under features: or specs: of this record, or of its maker's.")
		}
	}
}

// likenesses wants each look-alike to be another value of the feature.
func (l *linker) likenesses(f *Feature) {
	for _, v := range f.Values {
		for _, like := range v.Like {
			if like.Value.Value == v.ID.Value && like.Value.Value != "" {
				l.report(CheckDuplicate, like.Value.Pos, fmt.Sprintf("%q is said to be taken for itself", v.ID.Value), "Name the other value.")
				continue
			}
			if like.Value.Value != "" {
				l.value(f, like.Value)
			}
		}
	}
}
