package checks

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"yearmark/schema"
)

// SVGFault is something in a drawing that no published page may carry.
type SVGFault struct {
	Line, Column int    // from 1
	What         string // "has the handler \"onload\""
	Help         string // what to do, or nothing where the check's own remedy will do
}

const (
	mostSVGFaults = 20
	maxSVGDepth   = 200
)

// InspectSVG finds all that makes a drawing unfit to be published as it is.
// What it lets pass holds elements, attributes and CSS properties of known
// lists only, refers to nothing but its own parts, and is drawn in bounded
// time. Drawing programs' notes to themselves pass, since browsers draw
// nothing of them. No fault means that the drawing can be shown on a page. It
// never runs or loads anything.
func InspectSVG(data []byte) []SVGFault {
	i := svgInspector{places: newPlaces(data, schema.At("", 1, 1)), data: data, drawing: newDrawing()}
	if i.read(); len(i.faults) == 0 {
		if what := i.drawing.fault(); what != "" {
			i.help(0, what, "Simplify it, or save it as PNG.")
		}
	}
	return i.faults
}

// svgInspector reads a drawing as a browser does: as XML with namespaces, in
// which the text of a style is put together from all its parts.
type svgInspector struct {
	data    []byte
	places  *places
	faults  []SVGFault
	open    []svgOpen
	drawing *drawing
	styles  styleText
	rooted  bool // the outermost element has begun
}

// svgOpen is an element whose end is still to come.
type svgOpen struct {
	space, name string
	element     *svgElement // nil for what is not drawn
}

func (i *svgInspector) read() {
	text, marked := bytes.CutPrefix(i.data, []byte("\ufeff"))
	mark := 0
	if marked {
		mark = len(i.data) - len(text)
	}
	d := xml.NewDecoder(bytes.NewReader(text))
	for len(i.faults) < mostSVGFaults {
		offset := mark + int(d.InputOffset())
		token, err := d.Token()
		if err == io.EOF {
			if !i.rooted {
				i.fault(offset, "has no element svg")
			}
			return
		}
		if err != nil {
			i.fault(offset, "cannot be read as XML")
			return
		}
		if !i.token(token, offset, mark+int(d.InputOffset())) {
			return
		}
	}
}

// token looks at one token and says whether to go on.
func (i *svgInspector) token(token xml.Token, offset, end int) bool {
	switch t := token.(type) {
	case xml.StartElement:
		if len(i.open) >= maxSVGDepth {
			i.fault(offset, fmt.Sprintf("is nested more than %d deep", maxSVGDepth))
			return false
		}
		if len(i.open) == 0 && i.rooted {
			i.fault(offset, "has a second outermost element")
			return false
		}
		i.element(t, offset)
	case xml.EndElement:
		if last := i.open[len(i.open)-1]; last.space == svgSpace && last.name == "style" {
			i.styleSheet()
		}
		i.open = i.open[:len(i.open)-1]
	case xml.CharData:
		if len(i.open) == 0 && len(bytes.TrimSpace(t)) > 0 {
			i.fault(offset, "has words outside its outermost element")
		}
		if i.inStyle() {
			i.styles.add(string(t), offset, end)
		}
	case xml.Directive:
		i.help(offset, "has a document type, which can stand for anything", "Delete it, from <!DOCTYPE to the > that ends it: the drawing stays the same.")
	case xml.ProcInst:
		if t.Target != "xml" || len(bytes.TrimPrefix(i.data[:offset], []byte("\ufeff"))) > 0 {
			i.help(offset, "has the instruction "+quote(t.Target), "Delete it, from <? to ?>.")
		}
	}
	return true
}

func (i *svgInspector) inStyle() bool {
	n := len(i.open)
	return n > 0 && i.open[n-1].space == svgSpace && i.open[n-1].name == "style"
}

func (i *svgInspector) element(t xml.StartElement, offset int) {
	space, name := t.Name.Space, t.Name.Local
	within := i.within()
	i.open = append(i.open, svgOpen{space: space, name: name})
	first := !i.rooted
	i.rooted = true
	switch {
	case first && (name != "svg" || space != svgSpace):
		i.fault(offset, "does not begin with an element svg of SVG's namespace")
	case isEditorSpace(space):
		i.editorElement(t, offset)
	case space != svgSpace && space != "":
		i.help(offset, "has the element "+quote(name)+" of the namespace "+quote(space), plainSVG)
	case space != svgSpace || !svgElements[name]:
		i.help(offset, "has the element "+quote(name), helpForElement(name))
	case within.space != "" && within.space != svgSpace:
		i.help(offset, "has the element "+quote(name)+" among a drawing program's notes", plainSVG)
	case within.name == "style":
		i.fault(offset, "has the element "+quote(name)+" in a style")
	default:
		e := i.drawing.add(name, within.element)
		i.open[len(i.open)-1].element = e
		i.attributes(e, t, offset)
	}
}

// plainSVG is the remedy for what only the program that drew it understands.
const plainSVG = "Save the drawing as plain or optimised SVG, without the program's own notes."

func helpForElement(name string) string {
	switch {
	case name == "image" || name == "feImage":
		return "Take it out, and put the photograph into the folder pictures by itself."
	case strings.HasPrefix(name, "flow"):
		return "Turn flowed text into plain text in the drawing program, and save it again."
	case strings.HasPrefix(name, "fe"):
		return "Take that filter off in the drawing program, or save the drawing as PNG."
	}
	return ""
}

// within gives the innermost open element.
func (i *svgInspector) within() svgOpen {
	if n := len(i.open); n > 0 {
		return i.open[n-1]
	}
	return svgOpen{}
}

// editorElement lets a note of a drawing program pass if nothing in it could
// be taken for more.
func (i *svgInspector) editorElement(t xml.StartElement, offset int) {
	for _, a := range t.Attr {
		if a.Name.Space == "" && (strings.HasPrefix(strings.ToLower(a.Name.Local), "on") || a.Name.Local == "style") {
			i.help(offset, "has the attribute "+quote(a.Name.Local)+" among a drawing program's notes", plainSVG)
		}
	}
}

func (i *svgInspector) attributes(e *svgElement, t xml.StartElement, offset int) {
	seen := map[xml.Name]bool{}
	for _, a := range t.Attr {
		if seen[a.Name] {
			i.fault(offset, "has the attribute "+quote(a.Name.Local)+" twice")
		}
		seen[a.Name] = true
		i.attribute(e, a, offset)
	}
}

func (i *svgInspector) attribute(e *svgElement, a xml.Attr, offset int) {
	name := a.Name.Local
	value := strings.NewReplacer("\t", " ", "\n", " ", "\r", " ").Replace(a.Value) // as XML wants
	switch {
	case a.Name.Space == "xmlns" || a.Name.Space == "" && name == "xmlns":
	case a.Name.Space == "" && strings.HasPrefix(strings.ToLower(name), "on"):
		i.fault(offset, "has the handler "+quote(name))
	case name == "href" && (a.Name.Space == "" || a.Name.Space == xlinkSpace):
		id, ok := partReference(value)
		if !ok {
			i.fault(offset, "refers to "+quote(value))
			return
		}
		e.refer("href", id)
	case a.Name.Space == xlinkSpace && inertXlink[name], a.Name.Space == xmlSpace && (name == "space" || name == "lang"):
	case isEditorSpace(a.Name.Space):
	case a.Name.Space != "":
		i.help(offset, "has the attribute "+quote(name)+" of the namespace "+quote(a.Name.Space), plainSVG)
	case name == "style":
		i.report(declarations(value, func(d declaration) { e.set(d) }), offset)
	case e.name == "style" && name == "type" && value != "" && !strings.EqualFold(value, "text/css"):
		i.fault(offset, "has a style of the type "+quote(value))
	case svgProperties[name] && !svgAttributes[name]:
		d, wrong := property(name, value)
		i.report(wrong, offset)
		e.set(d)
	case svgAttributes[name], strings.HasPrefix(name, "aria-"), strings.HasPrefix(name, "data-"):
		e.take(name, value)
	default:
		i.fault(offset, "has the attribute "+quote(name))
	}
}

// inertXlink are the attributes of XLink that say something about a reference.
var inertXlink = setOf("type role arcrole title show actuate")

// partReference reads a reference to a part of the same drawing.
func partReference(value string) (id string, ok bool) {
	id, ok = strings.CutPrefix(strings.TrimSpace(value), "#")
	return id, ok && id != "" && !strings.ContainsAny(id, "%\\\"'()<>") && !strings.ContainsFunc(id, isBlank)
}

func isBlank(r rune) bool { return r <= ' ' || r == 0x7f }

// styleSheet looks at the whole text of a style that ends.
func (i *svgInspector) styleSheet() {
	rules, wrong := styleSheet(i.styles.text())
	for _, w := range wrong {
		i.report([]cssFault{w}, i.styles.source(w.at))
	}
	i.drawing.rules = append(i.drawing.rules, rules...)
	i.styles = styleText{}
}

// styleText is the text of a style element, put together from its parts.
type styleText struct{ parts []stylePart }

type stylePart struct {
	text        string
	offset, end int // in the drawing's file
}

func (s *styleText) add(text string, offset, end int) {
	s.parts = append(s.parts, stylePart{text, offset, end})
}

func (s *styleText) text() string {
	var b strings.Builder
	for _, p := range s.parts {
		b.WriteString(p.text)
	}
	return b.String()
}

// source gives where in the file a place in the text stands, as near as it is known.
func (s *styleText) source(at int) int {
	offset := 0
	for _, p := range s.parts {
		offset = p.offset
		if at < len(p.text) {
			if len(p.text) == p.end-p.offset {
				offset += at
			}
			break
		}
		at -= len(p.text)
	}
	return offset
}

func (i *svgInspector) report(wrong []cssFault, offset int) {
	for _, w := range wrong {
		i.fault(offset, w.what)
	}
}

func (i *svgInspector) fault(offset int, what string) { i.help(offset, what, "") }

func (i *svgInspector) help(offset int, what, help string) {
	pos := i.places.at(offset)
	fault := SVGFault{Line: pos.Line(), Column: pos.Column(), What: what, Help: help}
	for _, f := range i.faults {
		if f == fault {
			return
		}
	}
	i.faults = append(i.faults, fault)
}
