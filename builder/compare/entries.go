package compare

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"yearmark/dating"
)

// The parts of an account of changes, in order.
const (
	PartClaims   = "Claims"
	PartSources  = "Sources"
	PartRecords  = "Other records"
	PartExamples = "Examples that date otherwise"
	PartKeys     = "Dating keys that answer otherwise"
	PartFindings = "Findings"
	PartBreaks   = "Addresses that will break"
)

// Entry is one change in words, for a page or a feed.
type Entry struct {
	Part    string // one of the parts above
	ID      string // names the change within its part, and stays the same: "plover/padauk-riser"
	Sign    string // "+" for what is new, "−" for what is gone, "~" for what changed, "!" for a warning
	Title   string // what it is about
	Address string // where it stands on the site, relative to its root; empty for findings
	Words   string // what changed, in plain text
	Help    string // what to do, a sentence; of addresses that break alone
}

// Entries puts all changes into words, part by part.
func (c *Changes) Entries() []Entry {
	var list []Entry
	for _, claim := range c.Claims.Added {
		list = append(list, Entry{Part: PartClaims, ID: claim.Claim, Sign: "+", Title: claim.What, Address: claim.Address, Words: claim.After.Years + by(claim.After.Cites)})
	}
	for _, claim := range c.Claims.Withdrawn {
		words := "withdrawn, was " + claim.Before.Years
		if claim.Because != "" {
			words += ": " + claim.Because
		}
		list = append(list, Entry{Part: PartClaims, ID: claim.Claim, Sign: "−", Title: claim.What, Address: claim.Address, Words: words})
	}
	for _, claim := range slices.Concat(c.Claims.Moved, c.Claims.Changed) {
		list = append(list, Entry{Part: PartClaims, ID: claim.Claim, Sign: "~", Title: claim.What, Address: claim.Address, Words: claim.words()})
	}
	for part, records := range map[string][]RecordChange{PartSources: c.Sources, PartRecords: c.Records} {
		for _, r := range records {
			list = append(list, r.entry(part))
		}
	}
	for _, e := range c.Effect.Examples {
		list = append(list, Entry{Part: PartExamples, ID: e.Example, Sign: "~", Title: e.Title, Address: e.Address, Words: e.words(c)})
	}
	for _, k := range c.Effect.Keys {
		id := k.Model + "/" + k.Feature + "=" + k.Value
		list = append(list, Entry{Part: PartKeys, ID: id, Sign: k.sign(), Title: k.What, Address: k.Address, Words: k.words()})
	}
	list = append(list, c.Findings.entries()...)
	for _, b := range c.Breaks {
		list = append(list, Entry{Part: PartBreaks, ID: b.Address, Sign: "!", Title: b.Address, Address: b.Address, Words: b.Message, Help: b.Help})
	}
	order := []string{PartClaims, PartSources, PartRecords, PartExamples, PartKeys, PartFindings, PartBreaks}
	slices.SortStableFunc(list, func(a, b Entry) int { return cmp.Compare(slices.Index(order, a.Part), slices.Index(order, b.Part)) })
	return list
}

func by(cites []string) string {
	if len(cites) == 0 {
		return ""
	}
	return ", by " + strings.Join(cites, "; ")
}

// words says how a claim changed.
func (c *ClaimChange) words() string {
	var parts []string
	add := func(field, format string, args ...any) {
		if slices.Contains(c.Fields, field) {
			parts = append(parts, fmt.Sprintf(format, args...))
		}
	}
	b, a := c.Before, c.After
	add("value", "%s, was %s", a.Value, b.Value)
	add("years", "%s, was %s", a.Years, b.Years)
	if c.Derived {
		parts[len(parts)-1] += ", in consequence of other statements"
	}
	add("written", "written %s, was %s", cmp.Or(a.Written, "nothing"), cmp.Or(b.Written, "nothing"))
	add("cites", "%s", citesWords("cites", b.Cites, a.Cites))
	add("against", "%s", citesWords("is spoken against by", b.Against, a.Against))
	add("settled", "%s", settledWords(b.Settled, a.Settled))
	add("disputed", "%s", map[bool]string{true: "now disputed", false: "no longer disputed"}[a.Disputed])
	add("note", "its note changed")
	add("held", "held %s, was %s", cmp.Or(a.Held, "as the feature"), cmp.Or(b.Held, "as the feature"))
	add("only", "%s", map[bool]string{true: "now claimed for no other year", false: "no longer claimed for these years only"}[a.Only])
	add("credence", "credence %s, was %s", decimal(a.Credence), decimal(b.Credence))
	return strings.Join(parts, "; ")
}

func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func settledWords(before, after string) string {
	switch {
	case before == "":
		return "now settled: " + after
	case after == "":
		return "no longer settled"
	}
	return "settled otherwise: " + after
}

// citesWords says which citations came and went.
func citesWords(verb string, before, after []string) string {
	var parts []string
	if came := without(after, before); len(came) > 0 {
		parts = append(parts, "now "+verb+" "+strings.Join(came, "; "))
	}
	if went := without(before, after); len(went) > 0 {
		parts = append(parts, "no longer "+verb+" "+strings.Join(went, "; "))
	}
	if parts == nil {
		return "its citations stand in another order"
	}
	return strings.Join(parts, "; ")
}

func without(list, others []string) []string {
	var rest []string
	for _, s := range list {
		if !slices.Contains(others, s) {
			rest = append(rest, s)
		}
	}
	return rest
}

func (r RecordChange) entry(part string) Entry {
	e := Entry{Part: part, ID: string(r.Kind) + "/" + r.ID, Title: r.Title, Address: r.Address}
	switch r.How {
	case Added:
		e.Sign, e.Words = "+", "new "+string(r.Kind)
	case Removed:
		e.Sign, e.Words = "−", string(r.Kind)+" gone"
	default:
		var parts []string
		for _, f := range r.Fields {
			parts = append(parts, f.words())
		}
		e.Sign, e.Words = "~", strings.Join(parts, "; ")
	}
	return e
}

// longest is how long a value may be that is shown before and after.
const longest = 60

func (f FieldChange) words() string {
	switch {
	case f.Field == "text":
		return "text: " + strings.Trim(f.After+", "+f.Before, ", ")
	case len(f.Before) > longest || len(f.After) > longest:
		return f.Field + " changed"
	case f.Before == "":
		return f.Field + " now " + f.After
	case f.After == "":
		return f.Field + " no longer " + f.Before
	}
	return fmt.Sprintf("%s %s, was %s", f.Field, f.After, f.Before)
}

func (e *ExampleEffect) words(c *Changes) string {
	if e.After.Refused != "" {
		return "can no longer be dated: " + e.After.Refused
	}
	if e.Before.Refused != "" {
		return "can be dated now: " + bestWords(e.After.Best)
	}
	var parts []string
	add := func(name, after, before string) {
		if after != before {
			parts = append(parts, fmt.Sprintf("%s%s, was %s", name, after, before))
		}
	}
	add("best ", bestWords(e.After.Best), bestWords(e.Before.Best))
	add("half the odds on ", modelYears(e.After.Likely50), modelYears(e.Before.Likely50))
	add("95 in 100 on ", modelYears(e.After.Likely95), modelYears(e.Before.Likely95))
	add("at its word ", modelYears(e.After.Strict), modelYears(e.Before.Strict))
	if e.Observed {
		parts = append(parts, "and what was observed on it changed")
	}
	return strings.Join(parts, "; ")
}

func bestWords(o *dating.Odds) string {
	if o == nil {
		return "no year"
	}
	return fmt.Sprintf("%s %d", o.Model, o.Year)
}

// named is how many models a sentence names.
const named = 4

func modelYears(list []dating.ModelYears) string {
	var parts []string
	for i, m := range list {
		if i == named {
			parts = append(parts, fmt.Sprintf("%d further models", len(list)-named))
			break
		}
		parts = append(parts, m.Model+" "+yearWords(m.Years))
	}
	return cmp.Or(strings.Join(parts, ", "), "no year")
}

// yearWords joins years, those that follow one another as "1964–1967".
func yearWords(years []int) string {
	var parts []string
	for i := 0; i < len(years); {
		j := i
		for j+1 < len(years) && years[j+1] == years[j]+1 {
			j++
		}
		part := strconv.Itoa(years[i])
		if j > i {
			part += "–" + strconv.Itoa(years[j])
		}
		parts = append(parts, part)
		i = j + 1
	}
	return cmp.Or(strings.Join(parts, " and "), "no year")
}

func (k *KeyEffect) sign() string {
	switch {
	case k.Before == nil:
		return "+"
	case k.After == nil:
		return "−"
	}
	return "~"
}

func (k *KeyEffect) words() string {
	years := func(a *KeyAnswer) string { return strings.Join(a.Years, " and ") }
	switch {
	case k.Before == nil:
		return "new row: " + years(k.After)
	case k.After == nil:
		return "row gone, was " + years(k.Before)
	}
	var parts []string
	add := func(name, after, before string) {
		if after != before {
			parts = append(parts, fmt.Sprintf("%s%s, was %s", name, after, before))
		}
	}
	add("", years(k.After), years(k.Before))
	add("best ", yearWords(one(k.After.Best)), yearWords(one(k.Before.Best)))
	add("half the odds on ", yearWords(k.After.Likely50), yearWords(k.Before.Likely50))
	add("95 in 100 on ", yearWords(k.After.Likely95), yearWords(k.Before.Likely95))
	add("at its word ", yearWords(k.After.Strict), yearWords(k.Before.Strict))
	return strings.Join(parts, "; ")
}

func one(year int) []int {
	if year == 0 {
		return nil
	}
	return []int{year}
}

func (f FindingChanges) entries() []Entry {
	var list []Entry
	for _, g := range f.Gained {
		list = append(list, Entry{Part: PartFindings, ID: g.Check + " " + g.File, Sign: "+", Title: fmt.Sprintf("%s %s", g.Level, g.Check), Words: g.File + ": " + g.Message})
	}
	for _, l := range f.Lost {
		list = append(list, Entry{Part: PartFindings, ID: l.Check + " " + l.File, Sign: "−", Title: fmt.Sprintf("%s %s", l.Level, l.Check), Words: l.File + ": " + l.Message})
	}
	return list
}

// JSON writes the changes in the documented form.
func (c *Changes) JSON(w io.Writer) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(c)
}

// Text writes the changes for people, at most so many of a part; 0 means all.
func (c *Changes) Text(w io.Writer, most int) error {
	var b strings.Builder
	fmt.Fprintf(&b, "From %s to %s\n", c.Old, c.New)
	if c.None() {
		b.WriteString("\nNothing changed.\n")
	}
	entries := c.Entries()
	for i := 0; i < len(entries); {
		j := i
		for j < len(entries) && entries[j].Part == entries[i].Part {
			j++
		}
		fmt.Fprintf(&b, "\n%s (%d)\n", entries[i].Part, j-i)
		for k, e := range entries[i:j] {
			if most > 0 && k == most {
				fmt.Fprintf(&b, "  … and %d more: add --all to see them\n", j-i-most)
				break
			}
			e.write(&b)
		}
		i = j
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// String names a state: "HEAD~1, edition 2026-11-14 1d2fa62bc85f".
func (s Side) String() string { return s.Name + ", edition " + s.Edition }

func (e Entry) write(b *strings.Builder) {
	if e.Part == PartBreaks {
		fmt.Fprintf(b, "  ! %s: %s\n    %s\n", e.Address, e.Words, e.Help)
		return
	}
	fmt.Fprintf(b, "  %s %s: %s\n", e.Sign, e.Title, e.Words)
}
