package checks

import (
	"sort"
	"unicode/utf8"

	"yearmark/schema"
)

// places turns offsets in a text into lines and columns of its file. One
// goroutine at a time may ask it.
type places struct {
	source []byte
	start  schema.Pos
	lines  []int // where each line begins
	// last is the place asked for last: one after another along a long line,
	// places are counted on from there.
	last struct{ line, offset, characters int }
}

func newPlaces(source []byte, start schema.Pos) *places {
	p := &places{source: source, start: start, lines: []int{0}}
	for i, c := range source {
		if c == '\n' {
			p.lines = append(p.lines, i+1)
		}
	}
	return p
}

// at gives the place of an offset; columns are counted in characters.
func (p *places) at(offset int) schema.Pos {
	offset = min(max(offset, 0), len(p.source))
	line := sort.SearchInts(p.lines, offset+1) - 1
	from, characters := p.lines[line], 0
	if p.last.line == line && p.last.offset > from && p.last.offset <= offset {
		from, characters = p.last.offset, p.last.characters
	}
	characters += utf8.RuneCount(p.source[from:offset])
	p.last.line, p.last.offset, p.last.characters = line, offset, characters
	if line == 0 {
		characters += p.start.Column() - 1
	}
	return schema.At(p.start.File(), p.start.Line()+line, 1+characters)
}
