package exports

import (
	"strings"

	"yearmark/bench"
	"yearmark/dating"
	"yearmark/schema"
)

func recordOf(r schema.Record) Record {
	return Record{ID: r.Header().ID, Name: r.Title(), Address: r.Address(), Text: strings.TrimSpace(r.Header().Body.Text)}
}

func (f Facts) maker(m *schema.Maker) Maker {
	out := Maker{Record: recordOf(m), Also: schema.OtherNames(m.Also), Called: calledOf(m.Also), Place: m.Place.Value, Order: ordersOf(m.Order), Withdrawn: withdrawnOf(m.Withdrawn)}
	for _, p := range m.People {
		out.People = append(out.People, Person{p.Name.Value, p.Role.Value, p.Span.String(), p.Note.Value, citations(p.Cites)})
	}
	if s := m.SpecialOrders; s != nil {
		out.SpecialOrders = &SpecialOrders{append([]string{}, schema.Texts(s.Features)...), s.Span.String(), citations(s.Cites)}
	}
	for _, s := range m.SaysNothing {
		out.SaysNothing = append(out.SaysNothing, SaysNothing{s.Feature.Value, s.Because.Value, citations(s.Cites)})
	}
	out.LookFirst, out.NeverSeen, out.Counted = hintsOf(m.LookFirst), neverSeenOf(m.NeverSeen), ratesOf(m.Counted)
	for _, n := range m.Namesakes {
		out.Namesakes = append(out.Namesakes, Namesake{n.Maker.Value, n.Name.Value, n.Tell.Value, citations(n.Cites)})
	}
	for _, g := range m.Missing {
		out.Missing = append(out.Missing, Gap{g.What.Value, g.Span.String(), g.Because.Value, citations(g.Cites)})
	}
	for _, w := range m.WeightMarks {
		out.Stamps = append(out.Stamps, WeightMarks{w.Span.String(), signs(w.Before), signs(w.After), rangeOf(w.Runs), citations(w.Cites)})
	}
	if len(out.Stamps) == 1 && out.Stamps[0].Span == "" {
		out.WeightMarks = &out.Stamps[0]
	}
	return out
}

func calledOf(list []schema.OtherName) []OtherName {
	var out []OtherName
	for _, n := range list {
		if !n.Plain() {
			out = append(out, OtherName{n.Name.Value, n.Span.String(), citations(n.Cites)})
		}
	}
	return out
}

func hintsOf(list []*schema.Hint) []Hint {
	var out []Hint
	for _, h := range list {
		out = append(out, Hint{h.Feature.Value, h.Because.Value, citations(h.Cites)})
	}
	return out
}

func neverSeenOf(list []*schema.NeverSeen) []NeverSeen {
	var out []NeverSeen
	for _, n := range list {
		of := 0
		if n.Of != nil {
			of = n.Of.Value
		}
		out = append(out, NeverSeen{
			n.Feature.Value, n.Value.Value, schema.Premises(n.When), n.Span.String(), schema.Texts(n.Except), of, n.Note.Value,
			append([]Citation{}, citations(n.Cites)...), citations(n.Against),
		})
	}
	return out
}

func ratesOf(list []*schema.Rate) []Rate {
	var out []Rate
	for _, r := range list {
		out = append(out, Rate{r.Feature.Value, r.Value.Value, r.With.Value, r.Of.Value, r.Note.Value, append([]Citation{}, citations(r.Cites)...)})
	}
	return out
}

func signs(list []schema.MarkSign) []MarkSign {
	var out []MarkSign
	for _, s := range list {
		out = append(out, MarkSign{Sign: s.Sign.Value, Adds: *rangeOf(s.Adds)})
	}
	return out
}

func (f Facts) model(m *schema.Model) Model {
	out := Model{Record: recordOf(m), Also: schema.OtherNames(m.Also), Called: calledOf(m.Also), Maker: m.Maker.Value, LookFirst: hintsOf(m.LookFirst), NeverSeen: neverSeenOf(m.NeverSeen), Counted: ratesOf(m.Counted), Use: schema.Texts(m.Use), Order: ordersOf(m.Order), Withdrawn: withdrawnOf(m.Withdrawn)}
	if made := yearsOf(f.Timeline.Made(m)); made != nil {
		out.Made = *made
	}
	out.Plate = plateOf(m.Plate)
	for _, r := range m.Related {
		out.Related = append(out.Related, Related{Model: r.Model.Value, How: r.How.Value, Tell: r.Tell.Value, Cites: citations(r.Cites)})
	}
	for _, o := range m.Output {
		out.Output = append(out.Output, Output{Span: o.Span.String(), Made: o.Made.Value, Cites: citations(o.Cites)})
	}
	return out
}

func plateOf(p *schema.Plate) *Plate {
	if p == nil {
		return nil
	}
	out := &Plate{Picture: p.Picture.Value}
	for _, point := range p.Points {
		if point.Of == nil || len(point.At) != 2 {
			continue
		}
		out.Points = append(out.Points, Point{[]float64{point.At[0].Value, point.At[1].Value}, point.Of.Key()})
	}
	return out
}

func withdrawnOf(list []*schema.Withdrawn) []Withdrawn {
	var out []Withdrawn
	for _, w := range list {
		out = append(out, Withdrawn{ID: w.ID.Value, Because: w.Because.Value, On: w.On.String()})
	}
	return out
}

func ordersOf(list []*schema.Order) []Order {
	key := func(c *schema.Claim, written schema.Text) string {
		if c == nil {
			return written.Value
		}
		return c.Key()
	}
	var out []Order
	for _, o := range list {
		out = append(out, Order{
			First: key(o.FirstClaim, o.First), How: o.How.Value, Second: key(o.SecondClaim, o.Second), Of: key(o.OfClaim, o.Of),
			Lasts: rangeOf(o.Lasts), Cites: citations(o.Cites), Against: citations(o.Against), Settled: settlementOf(o.Settled), Open: o.Disputed.Value, With: schema.Texts(o.Disputed.With),
		})
	}
	return out
}

func featureOf(f *schema.Feature) Feature {
	out := Feature{
		Record: recordOf(f), Kind: f.Kind.Value, Ask: f.Ask.Value, Look: f.Look.Value, Exclusive: f.IsExclusive(), SinglesOut: f.SinglesOut.Value,
		Held: f.Held.Value, Effort: string(f.LookEffort()), NotAFault: f.NotAFault.Value, Unit: f.Unit.Value, Plausible: rangeOf(f.Plausible), Step: f.Step.Value,
	}
	if out.Held == "" {
		out.Held = "usual"
	}
	if f.Changeover != nil {
		out.Changeover = &f.Changeover.Value
	}
	if f.Altered != nil {
		out.Altered = &Altered{To: append([]string{}, schema.Texts(f.Altered.To)...), Chance: f.Altered.Chance.Value}
	}
	for _, m := range f.Means {
		out.Means = append(out.Means, Meaning{m.Value.Value, m.Says.Value, m.By.Value, append([]Citation{}, citations(m.Cites)...)})
	}
	for _, v := range f.Values {
		value := FeatureValue{ID: v.ID.Value, Name: f.ValueName(v.ID.Value), Also: schema.OtherNames(v.Also), Called: calledOf(v.Also), Tell: v.Tell.Value}
		for _, like := range v.Like {
			value.Like = append(value.Like, Likeness{like.Value.Value, like.Tell.Value})
		}
		out.Values = append(out.Values, value)
	}
	return out
}

func (f Facts) source(s *schema.Source) Source {
	out := Source{
		Record: recordOf(s), Also: schema.OtherNames(s.Also), Called: calledOf(s.Also), Kind: s.Kind.Value, By: s.By.Value, Issued: s.Issued.String(), ReliesOn: schema.Texts(s.ReliesOn), Kept: s.Kept.Value,
		Link: s.Link.Value, Origins: append([]string{}, f.Weighing.Origins(s.ID)...),
	}
	if !s.Credence.Pos.IsZero() {
		out.Credence = &s.Credence.Value
	}
	if s.Copied != nil {
		out.Copied = &Copied{On: s.Copied.On.String(), SHA256: s.Copied.SHA256.Value}
	}
	if !s.Consulted.Pos.IsZero() {
		out.Consulted = &s.Consulted.Value
	}
	out.Rights, out.Places = s.Rights.Value, placesOf(s)
	if r := s.Recording; r != nil && s.MayShow() != schema.ShowsNone {
		out.Recording = r.Link.Value
	}
	return out
}

// placesOf gives the places of a source, as far as they may be shown.
func placesOf(s *schema.Source) []Place {
	if s.MayShow() == schema.ShowsNone {
		return nil
	}
	var list []Place
	for _, p := range s.EveryPlace() {
		out := Place{
			At: p.At.Value, Says: p.Says.Value, By: p.SaidBy(), Own: p.Own.Value, ReliesOn: schema.Texts(p.ReliesOn),
			Kind: p.Kind.Value, Hedge: p.Hedge.Value, CorrectedAt: p.CorrectedAt.Value,
		}
		if c := p.Cue(); c != nil {
			out.Cue = &Cue{c.Start.Seconds(), c.End.Seconds()}
		}
		if s.MayShow() == schema.ShowsAll {
			out.Scan, out.Region = p.Scan.Value, p.Region.String()
		}
		list = append(list, out)
	}
	return list
}

func (f Facts) example(e *schema.Example) Example {
	out := Example{
		Record: recordOf(e), Model: e.Model.Value, Either: schema.Texts(e.Either), Seen: e.Seen.String(), By: e.By.Value, Observed: []Observed{}, WeightMark: e.WeightMark.Value,
		Dated: f.dated(e),
	}
	for _, o := range e.Observed {
		out.Observed = append(out.Observed, Observed{Feature: o.Feature.Value, Value: append([]string{}, schema.Texts(o.Value)...), Sure: string(o.Sureness()), Note: o.Note.Value, Owners: o.OwnersWork()})
	}
	if d := e.Documented; d != nil {
		out.Documented = &Documented{Span: d.Span.String(), Cites: append([]Citation{}, citations(d.Cites)...)}
	}
	for _, a := range e.Attributed {
		out.Attributed = append(out.Attributed, Attribution{a.Span.String(), a.By.Value, schema.Texts(a.From), citations(a.Cites)})
	}
	out.Setup = setupOf(e)
	for _, h := range e.History {
		out.History = append(out.History, Event{h.On.String(), h.What.Value, citations(h.Cites)})
	}
	for _, s := range e.Sales {
		out.Sales = append(out.Sales, Sale{s.On.String(), s.Price.Written, citations(s.Cites)})
	}
	for _, c := range e.Condition {
		out.Condition = append(out.Condition, Condition{c.Part.Value, c.State.Value, c.Fault.Value, c.Found.Value})
	}
	for _, p := range e.Pictures {
		out.Pictures = append(out.Pictures, Picture{p.File.Value, p.Shows.Value})
	}
	if s := e.Submitted; s != nil {
		out.Submitted = &Submitted{On: s.On.String(), Edition: s.Edition.Value, Note: s.Note.Value, Reviewed: s.Reviewed.String(), Unreviewed: e.Unreviewed()}
	}
	return out
}

// setupOf is the owner's set-up, unless a fault keeps the bow from being strung.
func setupOf(e *schema.Example) *Setup {
	s := e.Setup
	if s == nil || bench.Unsafe(e.Faults()) {
		return nil
	}
	return &Setup{rangeOf(s.Brace), rangeOf(s.String), s.NockingPoint.Value, s.Arrow.Value, s.Shot.Value}
}

// dated is what an example dates to, as its page says; nil where that cannot be told.
func (f Facts) dated(e *schema.Example) *Dated {
	if f.LeaveOneOut == nil {
		return nil
	}
	answer, err := f.LeaveOneOut.Brief(e)
	if err != nil {
		return nil
	}
	out := &Dated{Impossible: answer.Impossible, Strict: modelYears(answer.Strict.Years), Likely95: modelYears(answer.Likely95)}
	if answer.Best != nil {
		out.Best = &Odds{answer.Best.Model, answer.Best.Maker, answer.Best.Year, rounded(answer.Best.Chance)}
	}
	return out
}

func modelYears(list []dating.ModelYears) []ModelYears {
	out := make([]ModelYears, 0, len(list))
	for _, m := range list {
		out = append(out, ModelYears{m.Model, m.Maker, m.Years})
	}
	return out
}
