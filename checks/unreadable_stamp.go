package checks

import (
	"slices"

	"yearmark/bench"
	"yearmark/schema"
)

var unreadableStamp = Check{
	Name: "unreadable-stamp", Family: Examples, Level: Warning,
	Meaning: "A stamped draw weight cannot be read by its maker's signs, so that it counts for nothing when the bow is dated.",
	Example: `weight-mark: "Y45 @ 28"
→ the weight mark cannot be read: the sign "Y" in "Y45 @ 28" is not one that this maker is recorded to have used`,
	Remedy: "Write the stamp as it stands on the bow; if it does, record what the sign means under `weight-marks` of its maker.",
	Run: func(p *Pass) {
		for _, e := range p.Ref.Examples.All() {
			if e.WeightMark.Value == "" {
				continue
			}
			readings := []*schema.WeightMarks{nil} // of no known maker: by its figure alone
			if maker := p.Ref.MakerOf(e); maker != nil && len(maker.WeightMarks) > 0 {
				readings = maker.WeightMarks
			}
			var unread error
			if !slices.ContainsFunc(readings, func(w *schema.WeightMarks) bool {
				before, after := w.Signs()
				_, unread = bench.ReadWeightMark(e.WeightMark.Value, bench.Convention{Before: before, After: after})
				return unread == nil
			}) {
				p.Report(Finding{Pos: e.WeightMark.Pos, Message: "the weight mark cannot be read: " + unread.Error()})
			}
		}
	},
}
