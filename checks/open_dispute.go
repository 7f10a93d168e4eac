package checks

var openDispute = Check{
	Name: "open-dispute", Family: Settling, Level: Note,
	Meaning: "A statement is openly disputed; the site shows both sides.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2"], against: ["bulletin-12, p. 3"], disputed: true}
→ riser wood "padauk" is disputed: 1 witness for, 1 against`,
	Remedy: "Nothing need be wrong. When the matter is decided, write settled: with the reason in place of disputed: true.",
	Run: func(p *Pass) {
		contradictions := p.contradicted()
		for d := range p.decisions {
			if !d.Disputed.Value || d.Settled != nil || len(d.Against) == 0 && len(d.Disputed.With) == 0 {
				continue // idle-dispute says the last
			}
			why := p.sides(d)
			for _, c := range contradictions[d.key()] {
				if d.covers(c) {
					why = append(why, Place{Pos: c.finding.Pos, Message: c.finding.Message})
					why = append(why, othersIn(c, d)...)
				}
			}
			p.Report(Finding{Pos: d.Disputed.Pos, Message: d.name + " is disputed: " + p.witnesses(d), Why: why, Claims: claimsOf(d.claim)})
		}
	},
}

// othersIn gives the places of a contradiction other than the statement itself.
func othersIn(q contradiction, d decision) []Place {
	var others []Place
	for _, place := range q.finding.Why {
		if place.Pos != d.pos {
			others = append(others, place)
		}
	}
	return others
}
