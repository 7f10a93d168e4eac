package schema

import (
	"fmt"

	"yearmark/schema/english"
)

// Formerly gives the names that a record had before.
func Formerly(r Record) []Text {
	switch r := r.(type) {
	case *Maker:
		return r.Formerly
	case *Model:
		return r.Formerly
	case *Feature:
		return r.Formerly
	case *Source:
		return r.Formerly
	case *Example:
		return r.Formerly
	case *Page:
		return r.Formerly
	}
	return nil
}

// formerly wants former names to be names, and none of them that of a record.
func (l *linker) formerly(r Record) {
	kind := r.Header().Kind
	for _, t := range Formerly(r) {
		if !isIdentifier(t.Value) {
			l.report(CheckBadIdentifier, t.Pos, fmt.Sprintf("%q was never the name of a record", english.Clip(t.Value, 60)), "Write the file name that the record had, without its ending: small letters, digits and hyphens.")
		} else if _, taken := l.ref.Record(kind, t.Value); taken {
			l.report(CheckDuplicate, t.Pos, fmt.Sprintf("%q is the name of another %s now", t.Value, kind), "Take it out of formerly: its address leads to that record.")
		}
	}
}
