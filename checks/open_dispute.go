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
			if !d.disputed.Value || d.settled != nil {
				continue
			}
			why := p.sides(d)
			for _, q := range contradictions[d.key()] {
				why = append(why, Place{Pos: q.finding.Pos, Message: q.finding.Message})
				why = append(why, othersIn(q, d)...)
			}
			if len(d.against) == 0 && len(why) == len(d.cites) {
				continue // idle-dispute says so
			}
			p.Report(Finding{Pos: d.disputed.Pos, Message: d.name + " is disputed: " + p.witnesses(d), Why: why, Claims: claimsOf(d.claim)})
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
