package schema

import (
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

func (d *decoder) pos(n *yaml.Node) Pos {
	return d.at(n.Line+d.shift, n.Column)
}

// at is the place of a line and a column of the file.
func (d *decoder) at(line, column int) Pos {
	if d.number == 0 {
		d.number = fileNumberOf(d.file)
	}
	return d.number.at(line, column)
}

// inside is the place of a byte of a scalar's value, or of the scalar itself
// where it is not written on one line as it reads.
func (d *decoder) inside(n *yaml.Node, offset int) Pos {
	at := d.pos(n)
	if offset <= 0 || offset > len(n.Value) || n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		return at
	}
	quote := 0
	if n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0 {
		quote = 1
	}
	line := d.line(n.Line)
	start := runeOffset(line, n.Column-1+quote)
	if start < 0 || !strings.HasPrefix(string(line[start:]), n.Value) {
		return at
	}
	return at.moved(0, quote+utf8.RuneCountInString(n.Value[:offset]))
}

// runeOffset is the byte at which the nth character of a line begins, or -1.
func runeOffset(line []byte, n int) int {
	at := 0
	for ; n > 0; n-- {
		if at >= len(line) {
			return -1
		}
		_, size := utf8.DecodeRune(line[at:])
		at += size
	}
	return at
}

// line gives a line of the YAML, counted from 1, without its end.
func (d *decoder) line(n int) []byte {
	if d.starts == nil {
		d.starts = append(d.starts, 0)
		for i, c := range d.front {
			if c == '\n' {
				d.starts = append(d.starts, i+1)
			}
		}
	}
	if n < 1 || n > len(d.starts) {
		return nil
	}
	line, _, _ := cutLine(d.front[d.starts[n-1]:])
	return line
}
