package blank

import (
	"fmt"

	"yearmark/schema"
)

// Unsaid gives lines for the features that a model's or example's record says
// nothing of, such as those that were added to the reference after it.
func Unsaid(ref *schema.Reference, kind schema.Kind, id string) []string {
	said := map[string]bool{}
	var claim, figure string
	switch kind {
	case schema.KindModel:
		m, ok := ref.Models.Get(id)
		if !ok {
			return nil
		}
		for _, c := range m.Claims() {
			said[c.FeatureID()] = true
		}
		claim, figure = "features:  - {feature: %s, value: , span: , cites: []}%s", "specs:     - {spec: %s, range: 0..0%s, span: , cites: []}%s"
	case schema.KindExample:
		e, ok := ref.Examples.Get(id)
		if !ok {
			return nil
		}
		for _, o := range e.Observed {
			said[o.Feature.Value] = true
		}
		claim, figure = "observed:  - {feature: %s, value: }%s", "observed:  - {feature: %s, value: 0%s}%s"
	}
	var view formView
	for _, f := range ref.Features.All() {
		if !said[f.ID] {
			view.add(f)
		}
	}
	var lines []string
	for _, f := range view.Features {
		lines = append(lines, fmt.Sprintf(claim, f.ID, f.Answers()))
	}
	for _, f := range view.Figures {
		lines = append(lines, fmt.Sprintf(figure, f.ID, f.Unit, f.Question()))
	}
	return lines
}
