package checks

import (
	"fmt"

	"yearmark/chronology"
	"yearmark/provenance"
	"yearmark/schema"
)

var impossibleYears = Check{
	Name: "impossible-years", Family: Contradiction, Level: Error,
	Meaning: "Some statements cannot all be true, whatever the years: the set told is the smallest, so that leaving out any one of them would do.",
	Example: `features:
  - {id: oval, feature: maker-mark, value: oval, attested: [{year: 1968, cites: ["list-1968, cover"]}]}
  - {id: script, feature: maker-mark, value: script, span: 1967/1971, cites: ["bulletin-12, p. 3"]}
order:
  - {first: oval, how: meets, second: script, cites: [letter-aldous]}
→ the script maker's mark is claimed from 1967, which 2 statements exclude`,
	Remedy: "Mend the statement that is wrong. If the sources truly disagree, put the other side under against: and add settled: with the reason, or disputed: true to show both.",
	Run:    reportUnsettled,
	finds: func(p *Pass) []contradiction {
		var found []contradiction
		for _, c := range p.Timeline.Conflicts() {
			found = append(found, p.explainConflict(c))
		}
		return found
	},
}

// explainConflict tells a contradiction step by step, the last step at the
// place of the finding.
func (p *Pass) explainConflict(c chronology.Conflict) contradiction {
	q := contradiction{settled: c.Settled, disputed: c.Disputed}
	q.finding = Finding{
		Pos:     c.Primary,
		Message: exclusion(c),
	}
	q.finding.Help, q.finding.Remedies = closer(c)
	for i, step := range c.Steps {
		place := p.step(step)
		if i > 0 && i == len(c.Steps)-1 {
			place.Message = "but " + place.Message
		}
		q.finding.Why = append(q.finding.Why, place)
		if step.Claim != nil {
			q.claims = append([]*schema.Claim{step.Claim}, q.claims...)
		}
		if step.Order != nil {
			q.orders = append(q.orders, step.Order)
		}
	}
	q.finding.Claims = q.claims
	return q
}

// closer is the remedy where two spans miss each other by one year and an order
// says that a year lies between them, which people mean by "earlier" seldom; else it is empty.
func closer(c chronology.Conflict) (string, []schema.Remedy) {
	for _, s := range c.Steps {
		if s.Order == nil || c.Years != 1 {
			continue
		}
		for gap, close := range map[schema.Relation]schema.Relation{schema.Before: schema.Meets, schema.After: schema.MetBy} {
			if schema.Relation(s.Order.How.Value) == gap {
				return fmt.Sprintf("%q says that at least a whole year lies between the two. If the one came straight after the other, write how: %s.", gap, close),
					[]schema.Remedy{schema.Rename(s.Order.How.Pos, string(gap), string(close))}
			}
		}
	}
	return "", nil
}

// exclusion says what the last statement of the chain claims, and that the others exclude it.
func exclusion(c chronology.Conflict) string {
	last, others := c.Steps[len(c.Steps)-1].Fact, len(c.Steps)-1
	switch others {
	case 0:
		return last + ", which cannot be"
	case 1:
		return last + ", which another statement excludes"
	}
	return fmt.Sprintf("%s, which %d statements exclude", last, others)
}

// step tells one statement of a chain at its place.
func (s *shared) step(step chronology.Step) Place {
	place := Place{Pos: step.Pos, Message: step.Sentence}
	var a provenance.Assessment
	switch {
	case step.Order != nil:
		a = s.Weighing.Cited(step.Order.Cites, step.Order.Against)
	case step.Claim != nil:
		a = s.Weighing.Of(step.Claim)
	default:
		return place
	}
	place.Credence = &a.Credence
	return place
}

// derivation tells how a claim came by years that its record does not state.
func (s *shared) derivation(c *schema.Claim) []Place {
	if !s.Timeline.Derived(c) {
		return nil
	}
	const longest = 8
	var why []Place
	for _, bound := range s.Timeline.Why(c) {
		why = append(why, Place{Pos: at(c), Message: fmt.Sprintf("%s is derived: %s", s.what(c), bound)})
		for _, step := range bound.Steps {
			why = append(why, s.step(step))
		}
		if len(why) >= longest {
			break
		}
	}
	return why
}
