package checks

import "yearmark/bench"

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
			var before, after map[string]float64 // of no known maker: by its figure alone
			if maker := p.Ref.MakerOf(e); maker != nil {
				before, after = maker.WeightMarks.Signs()
			}
			if _, err := bench.ReadWeightMark(e.WeightMark.Value, bench.Convention{Before: before, After: after}); err != nil {
				p.Report(Finding{Pos: e.WeightMark.Pos, Message: "the weight mark cannot be read: " + err.Error()})
			}
		}
	},
}
