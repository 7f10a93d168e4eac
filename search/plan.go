package search

import (
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"
)

// plan says which terms stand for a question: what Bleve is asked to score.
type plan struct {
	phrases   []phrase // all must be there
	groups    []group  // the more of them a document has, the better
	hopeless  bool     // nothing can match
	corrected []Corrected
	unknown   []string // words that nothing stands for
	ignored   []string
}

// group is the terms that stand for one word.
type group struct {
	word  string
	terms []weighted
}

// weighted is a term and how much it counts.
type weighted struct {
	term  string
	boost float64
}

// plan works out a question's terms from the dictionary.
func (d *dictionary) plan(typed string, typing bool) plan {
	wishes, phrases := parse(typed, typing)
	p := plan{phrases: phrases}
	if len(wishes) > maxTokens {
		for _, w := range wishes[maxTokens:] {
			p.ignored = append(p.ignored, w.word)
		}
		wishes = wishes[:maxTokens]
	}
	for _, w := range wishes {
		d.add(&p, w)
	}
	p.groups = uniqueGroups(p.groups)
	d.shorten(&p)
	d.addHeld(&p)
	for _, ph := range phrases {
		for _, term := range ph {
			if term != "" && d.text[term] == 0 {
				p.hopeless = true
				p.unknown = append(p.unknown, term)
			}
		}
	}
	if len(p.groups) == 0 && len(phrases) == 0 && strings.TrimSpace(typed) != "" {
		p.hopeless = true
	}
	return p
}

// add finds the terms that stand for one word asked for.
func (d *dictionary) add(p *plan, w wish) {
	exact := ""
	for _, term := range w.terms {
		if d.text[term] > 0 {
			exact = term
			break
		}
	}
	if w.prefix && utf8.RuneCountInString(w.word) >= minPrefix {
		if terms := beginnings(exact, d.prefixed(w.word, maxPrefix)); len(terms) > 0 {
			p.groups = append(p.groups, group{w.word, terms})
			return
		}
	}
	switch {
	case exact != "":
		p.groups = append(p.groups, group{w.word, []weighted{{exact, 1}}})
	case w.optional:
	case d.addParts(p, w):
	case w.fuzzy && d.addNear(p, w):
	default:
		p.unknown = append(p.unknown, w.word)
	}
}

// addParts adds the known parts of an unknown code.
func (d *dictionary) addParts(p *plan, w wish) bool {
	c := Corrected{Word: w.word}
	for _, part := range w.parts {
		if d.text[part] > 0 {
			p.groups = append(p.groups, group{part, []weighted{{part, 1}}})
			c.Used = append(c.Used, part)
		}
	}
	if len(c.Used) == 0 {
		return false
	}
	p.corrected = append(p.corrected, c)
	return true
}

// addNear adds the terms near to a word that no document has.
func (d *dictionary) addNear(p *plan, w wish) bool {
	list := d.near(w.word, maxNear)
	if len(list) == 0 {
		return false
	}
	c := Corrected{Word: w.word}
	for _, n := range list {
		c.Used = append(c.Used, n.word)
	}
	p.corrected = append(p.corrected, c)
	p.groups = append(p.groups, group{w.word, beginnings("", list)})
	return true
}

// beginnings weighs the terms that stand for one word alike, the exact one
// more. Bleve divides what a group of terms scores by their number; the weights
// make up for that.
func beginnings(exact string, list []candidate) []weighted {
	var terms []weighted
	if exact != "" {
		terms = append(terms, weighted{exact, exactBoost})
	}
	for _, c := range list {
		if c.term != exact {
			terms = append(terms, weighted{c.term, 1})
		}
	}
	if len(terms) == 1 {
		terms[0].boost = 1
	}
	for i := range terms {
		terms[i].boost *= float64(len(terms))
	}
	return terms
}

// uniqueGroups drops repeats of one and the same group of terms.
func uniqueGroups(groups []group) []group {
	var unique []group
	for _, g := range groups {
		if !slices.ContainsFunc(unique, func(u group) bool { return slices.Equal(u.terms, g.terms) }) {
			unique = append(unique, g)
		}
	}
	return unique
}

// shorten keeps the rarest words of a long question, as many as fit beside its phrases.
func (d *dictionary) shorten(p *plan) {
	free := maxWords - len(p.phrases)
	if len(p.groups) <= free {
		return
	}
	type rank struct{ place, count int }
	ranks := make([]rank, len(p.groups))
	for i, g := range p.groups {
		ranks[i].place = i
		for _, t := range g.terms {
			ranks[i].count += d.text[t.term]
		}
	}
	slices.SortFunc(ranks, func(a, b rank) int {
		return cmp.Or(cmp.Compare(a.count, b.count), cmp.Compare(a.place, b.place))
	})
	keep := map[int]bool{}
	for _, r := range ranks[:free] {
		keep[r.place] = true
	}
	var kept []group
	for i, g := range p.groups {
		if keep[i] {
			kept = append(kept, g)
		} else {
			p.ignored = append(p.ignored, g.word)
		}
	}
	p.groups = kept
}
