package exports

import (
	"math"

	"yearmark/chronology"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/schema/edtf"
)

func (f Facts) claim(c *schema.Claim) Claim {
	out := Claim{
		Key: c.Key(), About: string(c.About), Address: c.Address(), Name: c.Name.Value, Feature: c.FeatureID(), Value: c.Value.Value,
		Span: c.Span.String(), Era: c.Era.Value, Only: c.Only.Value, Except: schema.Texts(c.Except), When: premises(c.When), Held: c.Held.Value, Disputed: c.Disputed.Value, With: schema.Texts(c.Disputed.With), Note: c.Note.Value,
		Years: yearsOf(f.Timeline.Years(c)), Derived: f.derived(c),
		Cites: citations(c.Citations()), Against: citations(c.Against), Assessment: f.assessment(c), Settled: settlementOf(c.Settled),
	}
	out.Stated = out.Years
	if f.Timeline.Derived(c) {
		out.Stated = yearsOf(f.Timeline.Stated(c))
	}
	if out.Cites == nil {
		out.Cites = []Citation{}
	}
	if c.Maker != nil {
		out.Maker = c.Maker.ID
	} else {
		out.Model = c.Model.ID
	}
	out.Range = rangeOf(c.Range)
	for _, a := range c.Attested {
		seen := Attestation{Year: a.Year.Value, Cites: citations(a.Cites)}
		if seen.Cites == nil {
			seen.Cites = []Citation{}
		}
		out.Attested = append(out.Attested, seen)
	}
	for _, n := range c.Counted {
		out.Counted = append(out.Counted, Count{n.Year.Value, n.With.Value, n.Of.Value, citations(n.Cites)})
	}
	return out
}

func premises(list []schema.Premise) []Premise {
	var out []Premise
	for _, p := range list {
		out = append(out, Premise{p.Feature.Value, schema.Texts(p.Values)})
	}
	return out
}

// yearsOf gives years as the document has them, or nil where none is possible.
func yearsOf(y edtf.Years) *Years {
	if y.Empty() {
		return nil
	}
	out := &Years{
		Shape: "interval", Certain: []Stretch{}, Members: y.Members, Words: y.String(),
		Starts: Between{y.A, y.B}, Ends: Between{y.C, y.D},
	}
	switch y.Choice {
	case edtf.OneOf:
		out.Shape = "one-of"
	case edtf.AllOf:
		out.Shape = "all-of"
	}
	for _, run := range y.CertainRuns() {
		out.Certain = append(out.Certain, Stretch(run))
	}
	return out
}

var sides = map[chronology.Side]string{
	chronology.EarliestStart: "earliest-start", chronology.LatestStart: "latest-start",
	chronology.EarliestEnd: "earliest-end", chronology.LatestEnd: "latest-end",
}

func (f Facts) derived(c *schema.Claim) []Bound {
	var list []Bound
	for _, b := range f.Timeline.Why(c) {
		list = append(list, Bound{Side: sides[b.Side], Year: b.Year, Words: b.String(), Steps: stepsOf(b.Steps)})
	}
	return list
}

func stepsOf(steps []chronology.Step) []Step {
	list := make([]Step, 0, len(steps))
	for _, s := range steps {
		step := Step{Fact: s.Fact, Cites: citations(s.Cites)}
		if s.Claim != nil {
			step.Claim = s.Claim.Key()
		}
		list = append(list, step)
	}
	return list
}

func conflictOf(c chronology.Conflict) Conflict {
	return Conflict{Sentence: c.String(), Steps: stepsOf(c.Steps), Settled: c.Settled, Disputed: c.Disputed}
}

func citations(list []schema.Citation) []Citation {
	if len(list) == 0 {
		return nil
	}
	out := make([]Citation, 0, len(list))
	for _, c := range list {
		out = append(out, Citation{c.Source, c.Place})
	}
	return out
}

func rangeOf(r schema.Range) *Range {
	if r.IsZero() {
		return nil
	}
	return &Range{Low: r.Low, High: r.High, Unit: string(r.Unit), Written: r.Written}
}

func (f Facts) assessment(c *schema.Claim) Assessment {
	a := f.Weighing.Of(c)
	out := Assessment{Credence: rounded(a.Credence), Doubted: a.Doubted, Estimated: a.Estimated, For: f.side(a.For, c.Citations())}
	if len(c.Against) > 0 {
		against := f.side(a.Against, c.Against)
		out.Against = &against
	}
	return out
}

func (f Facts) side(s provenance.Side, cites []schema.Citation) Side {
	out := Side{Witnesses: s.Witnesses, Chance: rounded(s.Chance), Citations: []Support{}}
	for _, support := range f.Weighing.Supports(cites) {
		one := Support{Citation: Citation{support.Cite.Source, support.Cite.Place}, Chance: rounded(support.Chance), Ways: []Way{}, More: support.More}
		for _, way := range support.Ways {
			w := Way{Sources: way.Sources}
			if way.Place != nil {
				w.Place = way.Place.At.Value
			}
			one.Ways = append(one.Ways, w)
		}
		out.Citations = append(out.Citations, one)
	}
	return out
}

// rounded keeps nine figures after the point: what lies beyond is the machine's.
func rounded(x float64) float64 { return math.Round(x*1e9) / 1e9 }

func settlementOf(s *schema.Settlement) *Settlement {
	if s == nil {
		return nil
	}
	return &Settlement{Because: s.Because.Value, By: s.By.Value, On: s.On.String(), Over: schema.Texts(s.Over)}
}
