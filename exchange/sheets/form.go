package sheets

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"yearmark/exchange/editing"
	"yearmark/schema"
	"yearmark/schema/english"
)

// form is how a cell is read.
type form uint8

const (
	word       form = iota // as it stands
	yesOrNo                // yes or no
	parts                  // several words
	citations              // several citations
	sightings              // years and citations
	conditions             // part: state [fault, found strung]
	pictures               // file: shows
	called                 // name [years; citation; citation]
	premises               // feature: value, value
	years                  // in EDTF
	figures                // a figure or a range of them
)

// maxShown is how many letters of a cell a message repeats.
const maxShown = 60

// misread says why a cell cannot be read.
type misread struct{ message, help string }

// read turns a cell into what the record is to hold; nil for an empty cell.
func (f form) read(cell string) (*editing.Value, *misread) {
	cell = tidy(cell)
	if cell == "" {
		return nil, nil
	}
	if wrong := turned(f, cell); wrong != nil {
		return nil, wrong
	}
	cell = f.meant(cell)
	if wrong := oddCharacter(cell); wrong != nil {
		return nil, wrong
	}
	switch f {
	case yesOrNo:
		return readFlag(cell)
	case parts:
		return editing.Words(splitParts(cell)), nil
	case citations:
		return editing.Citations(splitParts(cell)), nil
	case sightings:
		return readSightings(cell)
	case conditions:
		return readConditions(cell), nil
	case premises:
		return readPremises(cell), nil
	case called:
		return readCalled(cell), nil
	case pictures:
		return readPairs(cell, "file", "shows"), nil
	}
	return editing.Word(cell), nil
}

// oddCharacter refuses what no record may hold, in the words of whoever reads records.
func oddCharacter(cell string) *misread {
	if strings.IndexFunc(cell, func(r rune) bool { return r > '~' || r < ' ' && r != '\n' && r != '\t' }) < 0 {
		return nil
	}
	_, problems := schema.ReadRecord("pages/cell.md", []byte("---\nrecord: page\ntitle: "+editing.Quoted(cell).String()+"\n---\n"))
	for _, p := range problems {
		if p.Check == schema.CheckOddCharacters {
			return &misread{p.Message, p.Help}
		}
	}
	return nil
}

// tidy takes white space off both ends of a cell.
func tidy(cell string) string { return strings.TrimSpace(oneLineEnd(cell)) }

// same says that two cells of the form say the same; b may do so as a
// spreadsheet shows it.
func (f form) same(a, b string) bool {
	a, b = tidy(a), tidy(b)
	switch {
	case a == b, f.meant(a) == f.meant(b), shownAs(a, b):
		return true
	case f == word:
		return false
	}
	x, wrongX := f.read(a)
	y, wrongY := f.read(b)
	if wrongX != nil || wrongY != nil || x == nil || y == nil {
		return false
	}
	return x.Equal(y)
}

func readFlag(cell string) (*editing.Value, *misread) {
	switch strings.ToLower(cell) {
	case "yes", "y", "true", "1":
		return editing.Literal("true"), nil
	case "no", "n", "false", "0":
		return editing.Literal("false"), nil
	}
	return nil, &misread{fmt.Sprintf("%q is neither yes nor no", english.Clip(cell, maxShown)), "Write yes or no, or leave the cell empty."}
}

// readSightings gathers the citations of one year that follow each other.
func readSightings(cell string) (*editing.Value, *misread) {
	list := editing.List()
	last := ""
	for _, part := range splitParts(cell) {
		year, cite, cited := strings.Cut(part, ":")
		year, cite = strings.TrimSpace(year), strings.TrimSpace(cite)
		if n, err := strconv.Atoi(year); err != nil || n < 1 || n > 9999 || strings.Trim(year, "0123456789") != "" {
			return nil, &misread{fmt.Sprintf("the sighting %q does not begin with a year", english.Clip(part, maxShown)), "Write year, colon, citation, and a bar between sightings: 1964: list-1964, p. 1 | 1966: example-0007."}
		}
		switch {
		case !cited:
			list.Append(editing.Literal(year))
			last = ""
		case year == last && cite != "":
			items := list.Items()
			items[len(items)-1].Key("cites").Append(editing.Quoted(cite))
		default:
			cites := editing.List()
			if cite != "" {
				cites.Append(editing.Quoted(cite))
			}
			list.Append(editing.Mapping().With("year", editing.Literal(year)).With("cites", cites))
			last = year
		}
	}
	return list, nil
}

// readPremises gathers the features and values on which a claim depends.
func readPremises(cell string) *editing.Value {
	all := editing.Mapping()
	for _, pair := range splitPairs(cell) {
		var values []string
		for v := range strings.SplitSeq(pair[1], ",") {
			values = append(values, strings.TrimSpace(v))
		}
		if len(values) == 1 {
			all.With(pair[0], editing.Word(values[0]))
		} else {
			all.With(pair[0], editing.Words(values))
		}
	}
	return all
}

// premiseCells undoes readPremises.
func premiseCells(list []schema.Premise) string {
	var all []string
	for _, p := range list {
		values := make([]string, len(p.Values))
		for i, v := range p.Values {
			values[i] = v.Value
		}
		all = append(all, joinPair(p.Feature.Value, strings.Join(values, ", ")))
	}
	return strings.Join(all, between)
}

func readPairs(cell, first, second string) *editing.Value {
	list := editing.List()
	for _, pair := range splitPairs(cell) {
		item := editing.Mapping().With(first, editing.Word(pair[0]))
		if pair[1] != "" {
			item.With(second, editing.Word(pair[1]))
		}
		list.Append(item)
	}
	return list
}

// conditionCell writes a condition: "upper limb: slight twist [twist, found strung]".
func conditionCell(c *schema.Condition) string {
	var notes []string
	if c.Fault.Value != "" {
		notes = append(notes, c.Fault.Value)
	}
	if c.Found.Value != "" {
		notes = append(notes, "found "+c.Found.Value)
	}
	if len(notes) == 0 && conditionNotes.MatchString(c.State.Value) {
		notes = append(notes, noFault)
	}
	state := c.State.Value
	if len(notes) > 0 {
		state = strings.TrimSpace(state + " [" + strings.Join(notes, ", ") + "]")
	}
	return joinPair(c.Part.Value, state)
}

// conditionNotes are what conditionCell writes after the state. noFault stands
// where the state itself ends in what would be read as a fault.
var conditionNotes = regexp.MustCompile(`^(.*?)\s*\[(?:` + noFault + `|(crack|lifting|twist|delamination|loose|worn|missing|repaired)(?:, found (strung|unstrung))?|found (strung|unstrung))\]$`)

const noFault = "no fault"

func readConditions(cell string) *editing.Value {
	list := editing.List()
	for _, pair := range splitPairs(cell) {
		state, fault, found := pair[1], "", ""
		if m := conditionNotes.FindStringSubmatch(state); m != nil {
			state, fault, found = m[1], m[2], m[3]+m[4]
		}
		item := editing.Mapping().With("part", editing.Word(pair[0]))
		for _, key := range [][2]string{{"state", state}, {"fault", fault}, {"found", found}} {
			if key[1] != "" {
				item.With(key[0], editing.Word(key[1]))
			}
		}
		list.Append(item)
	}
	return list
}

// calledCells writes other names: "The Robin [1961/1963; dockets, p. 2]".
func calledCells(list []schema.OtherName) string {
	all := make([]string, len(list))
	for i, n := range list {
		all[i] = n.Name.Value
		details := []string{n.Span.String()}
		for _, c := range n.Cites {
			details = append(details, c.String())
		}
		if !n.Plain() || calledNotes.MatchString(all[i]) {
			all[i] += " [" + strings.Join(details, "; ") + "]"
		}
	}
	return joinParts(all)
}

// calledNotes are what calledCells writes after a name.
var calledNotes = regexp.MustCompile(`^(.*\S)\s*\[([^\[\]]*)\]$`)

func readCalled(cell string) *editing.Value {
	list := editing.List()
	for _, part := range splitParts(cell) {
		m := calledNotes.FindStringSubmatch(part)
		if m == nil || strings.Trim(m[2], "; ") == "" {
			if m != nil {
				part = m[1]
			}
			list.Append(editing.Word(part))
			continue
		}
		span, cites, _ := strings.Cut(m[2], ";")
		item, quoted := editing.Mapping().With("name", editing.Word(m[1])), editing.List()
		if span = strings.TrimSpace(span); span != "" {
			item.With("span", editing.Word(span))
		}
		for cite := range strings.SplitSeq(cites, ";") {
			if cite = strings.TrimSpace(cite); cite != "" {
				quoted.Append(editing.Quoted(cite))
			}
		}
		if len(quoted.Items()) > 0 {
			item.With("cites", quoted)
		}
		list.Append(item)
	}
	return list
}
