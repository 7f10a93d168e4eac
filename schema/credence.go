package schema

// MaxCredence is how far a source is believed at most: none is certain.
const MaxCredence = .999

// KindCredence is the editor's figure for a kind of source, from 0 to
// MaxCredence, or the default; a kind that nobody knows counts as the least believed.
func (r *Reference) KindCredence(kind SourceKind) float64 {
	if c, ok := r.Settings.Judgement.Credence[kind]; ok {
		return credible(c.Value)
	}
	defaults := DefaultJudgement().Credence
	if c, ok := defaults[kind]; ok {
		return c.Value
	}
	return defaults[SaleListing].Value
}

// SourceCredence is a source's own credence, or that of its kind.
func (r *Reference) SourceCredence(s *Source) float64 {
	if !s.Credence.Pos.IsZero() {
		return credible(s.Credence.Value)
	}
	return r.KindCredence(SourceKind(s.Kind.Value))
}

// PlaceCredence is how far a source is believed at one of its places: the place's
// kind goes before the source's own credence, and a hedge lowers either.
func (r *Reference) PlaceCredence(s *Source, p *SourcePlace) float64 {
	credence := r.SourceCredence(s)
	if p.Kind.Value != "" {
		credence = r.KindCredence(SourceKind(p.Kind.Value))
	}
	switch Sureness(p.Hedge.Value) {
	case Fairly:
		return credence * .8
	case Unsure:
		return credence * .5
	}
	return credence
}

// credible keeps a credence within its bounds.
func credible(credence float64) float64 {
	if !(credence > 0) {
		return 0
	}
	return min(credence, MaxCredence)
}
