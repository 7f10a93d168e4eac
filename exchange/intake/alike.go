package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"yearmark/dating"
	"yearmark/schema"
)

// Alike is a bow on record that a submission may be, and why.
type Alike struct {
	Example string `json:"example"` // its identifier
	Name    string `json:"name"`    // its name for people
	Sure    bool   `json:"sure"`    // a number that one bow alone should have is the same
	Because string `json:"because"` // "the same serial number; differs in riser wood"
	private bool   // it rests on what is private, and must not stand in a record
}

// Words says how likely it is the same bow: "very likely the same bow as example 0007".
func (a Alike) Words() string {
	if a.Sure {
		return "very likely the same bow as example " + a.Example
	}
	return "may be the same bow as example " + a.Example
}

// bow is a bow as duplicates are looked for: what was seen on it.
type bow struct {
	id, name string
	model    string
	seen     map[string]seenOn
	mark     string // the weight mark, folded
	number   string // a serial number kept under private, letters and digits alone
}

type seenOn struct {
	values []string
	sure   bool
}

func bowOf(e *schema.Example) bow {
	b := bow{id: e.ID, name: e.Title(), model: e.Model.Value, seen: map[string]seenOn{}, mark: dating.Fold(e.WeightMark.Value)}
	for _, o := range e.Observed {
		var values []string
		for _, v := range o.Value {
			values = append(values, dating.Fold(v.Value))
		}
		b.seen[o.Feature.Value] = seenOn{values, o.Sureness() != schema.Unsure}
	}
	for _, k := range e.Private {
		if strings.Contains(strings.ToLower(k.Key.Value), "serial") {
			b.number = bare(k.Value.Value)
		}
	}
	return b
}

func bowOfSubmission(s *Submission) bow {
	b := bow{model: s.Model, seen: map[string]seenOn{}, mark: dating.Fold(s.WeightMark)}
	for _, o := range s.Observed {
		var values []string
		for _, v := range o.Values {
			values = append(values, dating.Fold(v))
		}
		b.seen[o.Feature] = seenOn{values, o.Sure != string(schema.Unsure)}
	}
	return b
}

// bare keeps a number's letters and digits.
func bare(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}

// bowIndex holds the bows on record, so that those alike are found at once.
type bowIndex struct {
	ref     *schema.Reference
	plain   map[string]bool  // "feature\x00text": letters that the records claim of many bows
	byText  map[string][]int // bows by "feature\x00bare text", of features of kind text
	byMark  map[string][]int // bows by "model\x00weight mark"
	byOther map[string][]int // bows by the number kept under private
	bows    []bow
}

func newBowIndex(ref *schema.Reference) *bowIndex {
	h := &bowIndex{ref: ref, plain: map[string]bool{}, byText: map[string][]int{}, byMark: map[string][]int{}, byOther: map[string][]int{}}
	for _, m := range ref.Models.All() {
		for _, c := range m.Features {
			h.plain[c.Feature.Value+"\x00"+bare(c.Value.Value)] = true
		}
	}
	return h
}

func (h *bowIndex) add(b bow) {
	at := len(h.bows)
	h.bows = append(h.bows, b)
	for _, key := range h.numbers(b) {
		h.byText[key] = append(h.byText[key], at)
	}
	if b.mark != "" && b.model != "" {
		h.byMark[b.model+"\x00"+b.mark] = append(h.byMark[b.model+"\x00"+b.mark], at)
	}
	if b.number != "" {
		h.byOther[b.number] = append(h.byOther[b.number], at)
	}
}

// numbers gives what is read on a bow that one bow alone should have: letters
// and at least two figures of a text feature that does not stand for a model,
// and that no claim names as they stand.
func (h *bowIndex) numbers(b bow) []string {
	var keys []string
	for _, id := range h.textFeatures(b) {
		seen := b.seen[id]
		if len(seen.values) != 1 {
			continue
		}
		text := bare(seen.values[0])
		figures := strings.Map(func(r rune) rune {
			if unicode.IsDigit(r) {
				return r
			}
			return -1
		}, text)
		if len(figures) >= 2 && !h.plain[id+"\x00"+text] {
			keys = append(keys, id+"\x00"+text)
		}
	}
	return keys
}

// textFeatures gives the features of kind text seen on a bow, by name, without
// those that stand for a model.
func (h *bowIndex) textFeatures(b bow) []string {
	var list []string
	for id := range b.seen {
		if f, ok := h.ref.Features.Get(id); ok && schema.FeatureKind(f.Kind.Value) == schema.Wording && !f.SinglesOut.Value {
			list = append(list, id)
		}
	}
	slices.Sort(list)
	return list
}

// fewest is how many features must agree before bows without a number count as alike.
const fewest = 3

// mostAlike is how many bows are named.
const mostAlike = 5

// alike finds the bows on record that a bow may be.
func (h *bowIndex) alike(b bow) []Alike {
	list := h.sameNumber(b)
	if b.model != "" && b.mark != "" {
		for _, at := range h.byMark[b.model+"\x00"+b.mark] {
			other := h.bows[at]
			known := slices.ContainsFunc(list, func(a Alike) bool { return a.Example == other.id })
			if n := len(h.shared(b, other)); !known && n >= fewest && len(h.differing(b, other)) == 0 {
				list = append(list, Alike{Example: other.id, Name: other.name, Because: fmt.Sprintf("the same model and weight mark, and alike in all %d features seen on both", n)})
			}
		}
	}
	slices.SortFunc(list, func(x, y Alike) int {
		if x.Sure != y.Sure && x.Sure {
			return -1
		} else if x.Sure != y.Sure {
			return 1
		}
		return cmp.Compare(x.Example, y.Example)
	})
	return list[:min(len(list), mostAlike)]
}

// sameNumber finds the bows with a number that one bow alone should have.
func (h *bowIndex) sameNumber(b bow) []Alike {
	why := map[int]Alike{}
	for _, key := range h.numbers(b) {
		feature, text, _ := strings.Cut(key, "\x00")
		for _, at := range h.byText[key] {
			why[at] = Alike{Because: "the same " + h.name(feature)}
		}
		for _, at := range h.byOther[text] {
			if _, known := why[at]; !known {
				why[at] = Alike{Because: "a number kept in private is the same", private: true}
			}
		}
	}
	var list []Alike
	for at, a := range why {
		other := h.bows[at]
		if h.makersDiffer(b, other) {
			continue
		}
		a.Example, a.Name, a.Sure = other.id, other.name, true
		if differing := h.differing(b, other); len(differing) > 0 {
			a.Because += "; differs in " + strings.Join(differing, ", ")
		}
		list = append(list, a)
	}
	return list
}

// makersDiffer says that two bows are known to be of different makers, who number alike.
func (h *bowIndex) makersDiffer(a, b bow) bool {
	m, okM := h.ref.Models.Get(a.model)
	n, okN := h.ref.Models.Get(b.model)
	return okM && okN && m.Maker.Value != n.Maker.Value
}

func (h *bowIndex) shared(a, b bow) []string {
	var list []string
	for id := range a.seen {
		if _, both := b.seen[id]; both {
			list = append(list, id)
		}
	}
	slices.Sort(list)
	return list
}

// differing names the features in which two bows differ, those aside of which
// either observer was unsure.
func (h *bowIndex) differing(a, b bow) []string {
	var list []string
	if a.model != "" && b.model != "" && a.model != b.model {
		list = append(list, "model")
	}
	for _, id := range h.shared(a, b) {
		x, y := a.seen[id], b.seen[id]
		if x.sure && y.sure && !slices.ContainsFunc(x.values, func(v string) bool { return h.same(id, v, y.values) }) {
			list = append(list, h.name(id))
		}
	}
	return list
}

// same says whether a value is among others, figures by what they come to and
// letters by letters and digits alone.
func (h *bowIndex) same(feature, value string, others []string) bool {
	f, _ := h.ref.Features.Get(feature)
	return slices.ContainsFunc(others, func(other string) bool {
		if f == nil {
			return value == other
		}
		switch schema.FeatureKind(f.Kind.Value) {
		case schema.Figure:
			a, errA := schema.ParseRange(value)
			b, errB := schema.ParseRange(other)
			return errA == nil && errB == nil && a.Low <= b.High && b.Low <= a.High
		case schema.Wording:
			return bare(value) == bare(other)
		}
		return value == other
	})
}

// name is the feature's name within a sentence.
func (h *bowIndex) name(id string) string {
	if f, ok := h.ref.Features.Get(id); ok && f.Title() != "" {
		name := []rune(f.Title())
		if len(name) > 1 && unicode.IsLower(name[1]) {
			name[0] = unicode.ToLower(name[0])
		}
		return string(name)
	}
	return id
}
