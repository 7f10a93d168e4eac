package compare

import (
	"cmp"
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"

	"yearmark/dating"
	"yearmark/schema"
	"yearmark/schema/english"
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
	Address string // where it stands on the site, relative to its root; empty for findings and for what is gone
	Words   string // what changed, in plain text
	Help    string // what to do, a sentence; of addresses that break alone
	Check   string // the name of the check; of findings alone
}

// Entries puts all changes into words, part by part. The claims of a model or
// maker that is new or gone as a whole are counted with it, and the rows of its
// key are left out.
func (c *Changes) Entries() []Entry {
	list, counted := c.claimEntries()
	for _, r := range c.Sources {
		list = append(list, r.entry(PartSources))
	}
	for i := range c.Records {
		r := &c.Records[i]
		e := r.entry(PartRecords)
		if w := counted[r]; w != nil {
			e.Words += w.made + ", with " + english.Count(w.claims, "claim")
		}
		list = append(list, e)
	}
	for _, e := range c.Effect.Examples {
		list = append(list, Entry{Part: PartExamples, ID: e.Example, Sign: "~", Title: e.Title, Address: e.Address, Words: c.shifted(&e)})
	}
	whole := c.wholeRecords()
	for _, k := range c.Effect.Keys {
		if whole[k.Model] == nil {
			id := k.Model + "/" + k.Feature + "=" + k.Value
			e := Entry{Part: PartKeys, ID: id, Sign: k.sign(), Title: k.What, Address: k.Address, Words: k.words()}
			if k.After == nil {
				e.Address = ""
			}
			list = append(list, e)
		}
	}
	list = append(list, c.Findings.entries()...)
	for _, b := range c.Breaks {
		list = append(list, Entry{Part: PartBreaks, ID: b.Address, Sign: "!", Title: b.Address, Address: b.Address, Words: b.Message, Help: b.Help})
	}
	return list
}

// Part is one part of an account of changes, with its entries.
type Part struct {
	Name    string
	Entries []Entry
}

// Parts gives the entries part by part, without parts that have none.
func (c *Changes) Parts() []Part {
	var list []Part
	for _, e := range c.Entries() {
		if n := len(list); n == 0 || list[n-1].Name != e.Part {
			list = append(list, Part{Name: e.Part})
		}
		last := &list[len(list)-1]
		last.Entries = append(last.Entries, e)
	}
	return list
}

// Published gives the parts that readers of the site are told: what changed,
// what it moves, and what the checks find now or no longer; not what is left
// for the editor to do.
func (c *Changes) Published() []Part {
	return slices.DeleteFunc(c.Parts(), func(p Part) bool { return p.Name == PartBreaks })
}

// wholeRecords gives the models and makers that are new or gone, by how the
// keys of their claims begin.
func (c *Changes) wholeRecords() map[string]*RecordChange {
	all := map[string]*RecordChange{}
	for i, r := range c.Records {
		switch {
		case r.How == Changed:
		case r.Kind == schema.KindModel:
			all[r.ID] = &c.Records[i]
		case r.Kind == schema.KindMaker:
			all["makers/"+r.ID] = &c.Records[i]
		}
	}
	return all
}

// whole is what is told of a record that is new or gone with its claims.
type whole struct {
	made   string // ", made by Halvane 1961–1966", of a new model
	claims int
}

// claimEntries tells the claims: those added, those gone, those that moved or
// changed. Those of records that are new or gone are counted.
func (c *Changes) claimEntries() ([]Entry, map[*RecordChange]*whole) {
	var list []Entry
	add := func(claim *ClaimChange, sign, words string) {
		list = append(list, Entry{Part: PartClaims, ID: claim.Claim, Sign: sign, Title: claim.What, Address: claim.Address, Words: words})
	}
	records, counted := c.wholeRecords(), map[*RecordChange]*whole{}
	notOfWhole := func(claim *ClaimChange) bool {
		r := records[path.Dir(claim.Claim)]
		if r == nil {
			return true
		}
		if counted[r] == nil {
			counted[r] = &whole{}
		}
		counted[r].claims++
		if claim.After != nil && r.Kind == schema.KindModel && path.Base(claim.Claim) == string(schema.AboutMade) {
			counted[r].made = strings.TrimRight(", made by "+cmp.Or(c.names["makers/"+r.maker], r.maker)+" "+claim.After.Years, " ")
		}
		return false
	}
	for i := range c.Claims.Added {
		if claim := &c.Claims.Added[i]; notOfWhole(claim) {
			add(claim, "+", claim.After.Years+by(claim.After.Cites))
		}
	}
	for i := range c.Claims.Withdrawn {
		claim := &c.Claims.Withdrawn[i]
		if !notOfWhole(claim) {
			continue
		}
		if claim.Because != "" {
			add(claim, "−", "withdrawn, was "+claim.Before.Years+": "+claim.Because)
			continue
		}
		add(claim, "−", "gone, was "+claim.Before.Years)
		list[len(list)-1].Address = ""
	}
	for _, claim := range slices.Concat(c.Claims.Moved, c.Claims.Changed) {
		add(&claim, "~", claim.words())
	}
	return list, counted
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
	add("when", "where %s, was %s", cmp.Or(a.When, "always"), cmp.Or(b.When, "always"))
	add("except", "not of %s", cmp.Or(strings.Join(a.Except, ", "), "no model any more"))
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

// citesWords says which citations were added and removed.
func citesWords(verb string, before, after []string) string {
	var parts []string
	if added := without(after, before); len(added) > 0 {
		parts = append(parts, "now "+verb+" "+strings.Join(added, "; "))
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
		e.Sign, e.Words, e.Address = "−", string(r.Kind)+" gone", ""
	default:
		var parts []string
		for _, f := range r.Fields {
			parts = append(parts, f.words())
		}
		e.Sign, e.Words = "~", strings.Join(parts, "; ")
	}
	return e
}

// fieldName is the field that tells the name of a record's file.
const fieldName = "file name"

// longest is how long a value may be that is shown before and after.
const longest = 150

func (f FieldChange) words() string {
	switch {
	case f.Field == fieldName:
		return fmt.Sprintf("called %s now, was %s; the old address leads on", f.After, f.Before)
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

// shifted says how an example's answer moved.
func (c *Changes) shifted(e *ExampleEffect) string {
	if e.After.Refused != "" {
		return "can no longer be dated: " + e.After.Refused
	}
	if e.Before.Refused != "" {
		return "can be dated now: " + c.best(e.After.Best)
	}
	var parts []string
	add := func(name, after, before string) {
		if after != before {
			parts = append(parts, fmt.Sprintf("%s%s, was %s", name, after, before))
		}
	}
	add("best ", c.best(e.After.Best), c.best(e.Before.Best))
	add("half the odds on ", c.modelYears(e.After.Likely50), c.modelYears(e.Before.Likely50))
	add("95 in 100 on ", c.modelYears(e.After.Likely95), c.modelYears(e.Before.Likely95))
	add("at its word ", c.modelYears(e.After.Strict), c.modelYears(e.Before.Strict))
	if e.Observed {
		parts = append(parts, "and what was observed on it changed")
	}
	return strings.Join(parts, "; ")
}

func (c *Changes) best(o *dating.Odds) string {
	if o == nil {
		return "no year"
	}
	return fmt.Sprintf("%s %d", c.bow(o.Model, o.Maker), o.Year)
}

func (f FindingChanges) entries() []Entry {
	var list []Entry
	for _, g := range f.Gained {
		list = append(list, Entry{Part: PartFindings, ID: g.Check + " " + g.File, Check: g.Check, Sign: "+", Title: fmt.Sprintf("%s %s", g.Level, g.Check), Words: g.File + ": " + g.Message})
	}
	for _, l := range f.Lost {
		list = append(list, Entry{Part: PartFindings, ID: l.Check + " " + l.File, Check: l.Check, Sign: "−", Title: fmt.Sprintf("%s %s", l.Level, l.Check), Words: l.File + ": " + l.Message})
	}
	return list
}
