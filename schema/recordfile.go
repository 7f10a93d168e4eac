package schema

import (
	"fmt"
	"path"
	"reflect"
	"strings"

	"go.yaml.in/yaml/v3"

	"yearmark/schema/english"
)

// ReadRecord reads one record alone: file is its path below the reference's
// folder ("models/plover.md"), source the file's bytes, which must not be
// changed afterwards. What needs other records (names of makers, models,
// features, sources) is not looked at; Assemble does that. A caller who
// follows edits keeps the records of unchanged files and their problems, reads
// the changed ones anew, and assembles them again.
//
// The record is nil where nothing could be read: no kind of record belongs
// into that folder, or the file has no readable front matter.
func ReadRecord(file string, source []byte) (Record, Problems) {
	d := &decoder{file: file}
	kind, id, ok := RecordAt(file)
	if !ok {
		d.report(CheckStrayFile, At(file, 0, 0), "this is no place for a record", "Records lie in "+orList(kindFolders())+", and their names end in .md.")
		return nil, d.problems
	}
	r := d.record(kind, id, source)
	return r, d.problems.sorted()
}

// NameFault finds what is wrong with a name that a record of a kind is to have;
// ok is true where it can have it.
func NameFault(kind Kind, id string) (fault Problem, ok bool) {
	_, problems := ReadRecord(kind.FileOf(id), []byte("---\nrecord: "+string(kind)+"\n---\n"))
	for _, p := range problems {
		if p.Check == CheckBadIdentifier || p.Check == CheckStrayFile {
			return p, false
		}
	}
	return Problem{}, true
}

// RecordAt gives the kind and the identifier of the record that a file holds, by
// its path below the reference's folder; ok is false of what is no record's.
func RecordAt(file string) (kind Kind, id string, ok bool) {
	folder, name := path.Split(file)
	id, isRecord := strings.CutSuffix(name, ".md")
	for _, k := range Kinds {
		if folder == k.Folder()+"/" {
			return k, id, isRecord
		}
	}
	return "", "", false
}

func kindFolders() []string {
	var all []string
	for _, k := range Kinds {
		all = append(all, k.Folder())
	}
	return all
}

// record reads a record's file.
func (d *decoder) record(kind Kind, id string, source []byte) Record {
	d.identifier(id, kind)
	text, ok := d.readable(source)
	if !ok {
		return nil
	}
	p, ok := d.cutFront(text)
	if !ok {
		return nil
	}
	d.shift = p.frontLine
	front := d.oddCharacters(p.front, p.frontLine+1, true)
	body := d.numberedCharacters(d.oddCharacters(p.body, p.bodyLine, false), p.bodyLine)
	top := d.parse(front)
	if top == nil {
		return nil
	}
	r := kind.row().make()
	*r.Header() = Head{
		Kind: kind, ID: id, File: d.file, Source: source,
		Body: Prose{Text: shared(body), Pos: d.at(p.bodyLine, 1)}, address: addressOf(kind, id),
	}
	if len(d.problems) == 0 { // else what its keys are may be in doubt
		if located, err := locate(d.file, source, p.front, top); err == nil {
			r.Header().public = publicFileOf(located, source)
		}
	}
	if !d.fields(top, r, kind) {
		return nil
	}
	kind.row().finish(d, r)
	d.overloaded(r.Header().Body)
	return r
}

// readable refuses a file that is too large or not UTF-8, and takes its mark off.
func (d *decoder) readable(source []byte) ([]byte, bool) {
	if len(source) > MaxRecordBytes {
		d.tooLarge(int64(len(source)))
		return nil, false
	}
	text := withoutMark(source)
	if at, b, bad := utf8Fault(d.file, text); bad {
		d.report(CheckNotUTF8, at, fmt.Sprintf("the byte 0x%02X is not UTF-8 text", b), "Save the file as UTF-8: most editors offer it under \"save with encoding\".")
		return nil, false
	}
	return text, true
}

func (d *decoder) tooLarge(size int64) {
	d.report(CheckTooLarge, d.at(1, 1), fmt.Sprintf("the file has %.1f MB, more than %d MB", float64(size)/(1<<20), MaxRecordBytes>>20), "A record is a few pages of text: divide it, or move pictures to the folder pictures.")
}

// fields fills a record from its top node.
func (d *decoder) fields(top *yaml.Node, r Record, kind Kind) bool {
	if top.Kind != yaml.MappingNode {
		d.wrongType(top, "a "+string(kind)+" record", "keys and values")
		return false
	}
	d.top = d.pos(top)
	keys, said := d.withoutKind(top)
	v := reflect.ValueOf(r).Elem()
	d.kind(top, said, kind)
	return d.structure(keys, v, "")
}

// withoutKind parts the key record from the others.
func (d *decoder) withoutKind(top *yaml.Node) (others, said *yaml.Node) {
	others = top
	for i := 0; i+1 < len(top.Content); i += 2 {
		switch {
		case top.Content[i].Value != "record" || top.Content[i].Kind != yaml.ScalarNode:
			if others != top {
				others.Content = append(others.Content, top.Content[i], top.Content[i+1])
			}
		case said != nil:
			d.repeatedKey(top, i)
		default:
			rest := *top
			rest.Content = append(make([]*yaml.Node, 0, len(top.Content)), top.Content[:i]...)
			others, said = &rest, top.Content[i+1]
		}
	}
	return others, said
}

// kind holds the key record against the folder.
func (d *decoder) kind(top, said *yaml.Node, kind Kind) {
	help := fmt.Sprintf("Add the line record: %s after the first line of hyphens.", kind)
	switch {
	case said == nil:
		d.report(CheckMissingKey, d.pos(top), "the record has no key \"record\"", help)
		d.offer(Remedy{Title: fmt.Sprintf("Write record: %s", kind), Edits: []Edit{{Pos: d.at(0, 0), Keys: []string{"record"}, New: string(kind)}}})
	case said.Kind != yaml.ScalarNode:
		d.wrongType(said, "\"record\"", "one word")
	case isNull(said):
		d.report(CheckMissingKey, d.pos(said), "\"record\" has no value", help)
	case said.Value == string(kind):
	case Kind(said.Value).row() != nil:
		other := Kind(said.Value)
		d.report(CheckWrongFolder, d.pos(said), fmt.Sprintf("a record of kind %q stands in the folder %s", other, kind.Folder()), fmt.Sprintf("Move the file to the folder %s, or write record: %s.", other.Folder(), kind))
		to := other.Folder() + "/" + path.Base(d.file)
		d.offer(Remedy{Title: "Move the file to " + to, Edits: []Edit{{Pos: d.at(0, 0), To: to}}}, Rename(d.pos(said), said.Value, string(kind)))
	default:
		d.report(CheckUnknownKind, d.pos(said), fmt.Sprintf("there is no kind of record %q", english.Clip(said.Value, 60)), didYouMean(said.Value, names(Kinds), "The kinds are "+orList(names(Kinds))+"."))
		d.offerNearest(d.pos(said), said.Value, names(Kinds))
	}
}

// identifier holds a record's file name to what an identifier may be.
func (d *decoder) identifier(id string, kind Kind) {
	at := d.at(0, 0)
	help := "Rename the file with small letters a to z, digits and hyphens."
	if s := Slug(id); isIdentifier(s) {
		help = fmt.Sprintf("Rename the file to %s.md.", s)
	}
	switch {
	case !isIdentifier(id):
		d.report(CheckBadIdentifier, at, fmt.Sprintf("the file name %q is no identifier", english.Clip(id, 60)), help)
		if s := Slug(id); isIdentifier(s) {
			d.offer(Remedy{Title: "Rename the file to " + s + ".md", Edits: []Edit{{Pos: at, To: kind.FileOf(s)}}})
		}
	case reservedNames[id]:
		d.report(CheckBadIdentifier, at, fmt.Sprintf("the file name %q is reserved on some systems", id), "Choose another name: Windows cannot keep a file of this name.")
	case id == "index":
		d.report(CheckBadIdentifier, at, "the file name \"index\" is that of the list of "+kind.Folder(), "Choose another name: the site keeps the list of all "+kind.Folder()+" under this one.")
	case kind == KindSource && strings.HasPrefix(id, "example-"):
		d.report(CheckBadIdentifier, at, fmt.Sprintf("the source %q would be taken for an example", id), "Choose a name that does not begin with example-: citations so written name examples.")
	}
}

// reservedNames are the device names of Windows, which are no file names there.
var reservedNames = func() map[string]bool {
	m := map[string]bool{"con": true, "prn": true, "aux": true, "nul": true}
	for _, n := range "123456789" {
		m["com"+string(n)], m["lpt"+string(n)] = true, true
	}
	return m
}()
