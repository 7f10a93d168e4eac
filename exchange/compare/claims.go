package compare

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"yearmark/schema"
)

// claimsOf gives every claim of a reference by its key.
func claimsOf(ref *schema.Reference) map[string]*schema.Claim {
	all := map[string]*schema.Claim{}
	for c := range ref.Claims() {
		all[c.Key()] = c
	}
	return all
}

func claimChanges(before, after State) ClaimChanges {
	old, now := claimsOf(before.Ref), claimsOf(after.Ref)
	changes := ClaimChanges{[]ClaimChange{}, []ClaimChange{}, []ClaimChange{}, []ClaimChange{}}
	for _, key := range slices.Sorted(maps.Keys(now)) {
		if was, known := old[key]; known {
			changes.compare(before, after, was, now[key])
			continue
		}
		c := now[key]
		changes.Added = append(changes.Added, ClaimChange{Claim: key, Address: c.Address(), What: after.Ref.Statement(c), Fields: []string{}, After: after.claim(c)})
	}
	for _, key := range slices.Sorted(maps.Keys(old)) {
		if _, still := now[key]; !still {
			c := old[key]
			address := c.Address()
			if w := withdrawn(after.Ref, c); w != nil {
				page, _, _ := strings.Cut(c.Address(), "#")
				address = page + "#" + w.ID.Value // where its note stands
			}
			changes.Withdrawn = append(changes.Withdrawn, ClaimChange{
				Claim: key, Address: address, What: before.Ref.Statement(c), Fields: []string{}, Because: withdrawnBecause(after.Ref, c), Before: before.claim(c),
			})
		}
	}
	return changes
}

// compare sorts a claim that both states have by what changed about it.
func (l *ClaimChanges) compare(before, after State, was, is *schema.Claim) {
	c := ClaimChange{Claim: is.Key(), Address: is.Address(), What: after.Ref.Statement(is), Before: before.claim(was), After: after.claim(is)}
	c.Fields = c.Before.differs(c.After)
	switch {
	case len(c.Fields) == 0:
	case slices.Contains(c.Fields, "years") || slices.Contains(c.Fields, "written"):
		c.Derived = !slices.Contains(c.Fields, "written")
		l.Moved = append(l.Moved, c)
	default:
		l.Changed = append(l.Changed, c)
	}
}

// differs names the fields in which two states of a claim differ.
func (s *ClaimState) differs(t *ClaimState) []string {
	fields := []string{}
	for _, f := range []struct {
		name string
		same bool
	}{
		{"value", s.Value == t.Value}, {"written", s.Written == t.Written}, {"years", s.Years == t.Years},
		{"cites", slices.Equal(s.Cites, t.Cites)}, {"against", slices.Equal(s.Against, t.Against)},
		{"settled", s.Settled == t.Settled}, {"disputed", s.Disputed == t.Disputed}, {"credence", s.Credence == t.Credence},
		{"note", s.Note == t.Note}, {"held", s.Held == t.Held}, {"only", s.Only == t.Only}, {"except", slices.Equal(s.Except, t.Except)}, {"when", s.When == t.When},
	} {
		if !f.same {
			fields = append(fields, f.name)
		}
	}
	return fields
}

// claim gives a claim as this state has it.
func (s State) claim(c *schema.Claim) *ClaimState {
	assessment := s.Weighing.Of(c)
	state := &ClaimState{
		Value: claimValue(c), Written: writtenDates(c), Years: s.Timeline.Years(c).String(),
		Cites: cites(c.Citations()), Against: cites(c.Against),
		Disputed: c.Disputed.Value, Credence: math.Round(assessment.Credence*1e4) / 1e4,
		Note: c.Note.Value, Held: c.Held.Value, Only: c.Only.Value, Except: append([]string{}, schema.Texts(c.Except)...), When: schema.Premises(c.When),
	}
	if c.Settled != nil {
		state.Settled = strings.Join([]string{c.Settled.Because.Value, c.Settled.By.Value, c.Settled.On.String()}, "; ")
		for _, name := range c.Settled.Over {
			state.Settled += "; over " + name.Value
		}
	}
	return state
}

func cites(list []schema.Citation) []string {
	all := []string{}
	for _, c := range list {
		all = append(all, c.String())
	}
	return all
}

// claimValue is what is claimed, as the record has it: "riser-wood: padauk".
func claimValue(c *schema.Claim) string {
	switch c.About {
	case schema.AboutFeature:
		return c.Feature.Value + ": " + c.Value.Value
	case schema.AboutSpec:
		return c.Spec.Value + ": " + c.Range.Written
	}
	return c.Name.Value
}

// writtenDates is when a claim is said to hold, as the record has it.
func writtenDates(c *schema.Claim) string {
	var parts []string
	if text := c.Span.String(); text != "" {
		parts = append(parts, text)
	}
	if c.Era.Value != "" {
		parts = append(parts, "era "+c.Era.Value)
	}
	if len(c.Attested) > 0 {
		var years []string
		for _, a := range c.Attested {
			years = append(years, strconv.Itoa(a.Year.Value))
		}
		parts = append(parts, "seen in "+strings.Join(years, ", "))
	}
	return strings.Join(parts, "; ")
}

// withdrawnBecause is the reason that a model's record gives for a claim that is gone.
func withdrawnBecause(ref *schema.Reference, c *schema.Claim) string {
	if w := withdrawn(ref, c); w != nil {
		return w.Because.Value
	}
	return ""
}

// notes gives the withdrawn claims of the record in which a claim stood.
func notes(ref *schema.Reference, c *schema.Claim) []*schema.Withdrawn {
	if c.Maker != nil {
		if m, ok := ref.Makers.Get(c.Maker.ID); ok {
			return m.Withdrawn
		}
		return nil
	}
	if m, ok := ref.Models.Get(c.Model.ID); ok {
		return m.Withdrawn
	}
	return nil
}

// withdrawn finds the note that a claim left, or nil.
func withdrawn(ref *schema.Reference, c *schema.Claim) *schema.Withdrawn {
	for _, w := range notes(ref, c) {
		if w.ID.Value == c.ID.Value || w.ID.Value == c.Anchor() {
			return w
		}
	}
	return nil
}
