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
}

const (
	mostSVGFaults = 20
	maxSVGDepth   = 200
	svgSpace      = "http://www.w3.org/2000/svg"
	xlinkSpace    = "http://www.w3.org/1999/xlink"
)

// svgElements are the elements of SVG that draw, and those that arrange what
// is drawn. Elements that run, load, animate or embed are not among them.
var svgElements = setOf(
	"svg", "g", "defs", "symbol", "use", "title", "desc", "metadata", "style", "switch",
	"path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "text", "tspan", "textPath",
	"linearGradient", "radialGradient", "stop", "pattern", "clipPath", "mask", "marker", "image",
	"filter", "feBlend", "feColorMatrix", "feComponentTransfer", "feComposite", "feConvolveMatrix",
	"feDiffuseLighting", "feDisplacementMap", "feDistantLight", "feDropShadow", "feFlood", "feFuncA",
	"feFuncB", "feFuncG", "feFuncR", "feGaussianBlur", "feMerge", "feMergeNode", "feMorphology",
	"feOffset", "fePointLight", "feSpecularLighting", "feSpotLight", "feTile", "feTurbulence",
)

func setOf(names ...string) map[string]bool {
	set := make(map[string]bool, len(names))
	for _, n := range names {
		set[n] = true
	}
	return set
}

// InspectSVG finds all that makes a drawing unfit to be published as it is: an
// element that is none of those that draw, a handler, a reference to anything
// but a part of the drawing itself or a picture written into it, a style that
// loads, a document type, an unreadable document. No fault means that it can
// be shown on a page. It never runs or loads anything.
func InspectSVG(data []byte) []SVGFault {
	i := svgInspector{places: newPlaces(data, schema.At("", 1, 1))}
	i.inspect(bytes.TrimPrefix(data, []byte("\ufeff")))
	return i.faults
}

type svgInspector struct {
	places *places
	faults []SVGFault
	depth  int
	style  int // how many style elements are open
	seen   bool
	copies copies
}

func (i *svgInspector) inspect(data []byte) {
	d := xml.NewDecoder(bytes.NewReader(data))
	for len(i.faults) < mostSVGFaults {
		offset := int(d.InputOffset())
		token, err := d.Token()
		if err == io.EOF {
			if !i.seen {
				i.fault(offset, "has no element svg")
			}
			if what := i.copies.fault(); what != "" {
				i.fault(0, what)
			}
			return
		}
		if err != nil {
			i.fault(offset, "cannot be read as XML")
			return
		}
		if !i.token(token, offset) {
			return
		}
	}
}

// token looks at one token and says whether to go on.
func (i *svgInspector) token(token xml.Token, offset int) bool {
	switch t := token.(type) {
	case xml.StartElement:
		if i.depth++; i.depth > maxSVGDepth {
			i.fault(offset, fmt.Sprintf("is nested more than %d deep", maxSVGDepth))
			return false
		}
		i.element(t, offset)
		i.copies.start(t)
		if t.Name.Local == "style" {
			i.style++
		}
	case xml.EndElement:
		i.depth--
		i.copies.end()
		if t.Name.Local == "style" {
			i.style--
		}
	case xml.CharData:
		if i.style > 0 {
			i.css(string(t), offset)
		}
	case xml.Directive:
		i.fault(offset, "has a document type, which can stand for anything")
	case xml.ProcInst:
		if t.Target != "xml" {
			i.fault(offset, "has the instruction "+quote(t.Target))
		}
	}
	return true
}

func (i *svgInspector) element(t xml.StartElement, offset int) {
	name := t.Name.Local
	if !i.seen {
		i.seen = true
		if name != "svg" || t.Name.Space != svgSpace {
			i.fault(offset, "does not begin with an element svg of SVG's namespace")
		}
	}
	switch {
	case t.Name.Space == svgSpace && svgElements[name]:
	case t.Name.Space == svgSpace || t.Name.Space == "" || drawsElsewhere(t.Name.Space):
		i.fault(offset, "has the element "+quote(name))
	}
	for _, a := range t.Attr {
		i.attribute(name, a, offset)
	}
}

// drawsElsewhere says whether browsers do something with a namespace; others,
// such as an editor's own notes, are dead weight.
func drawsElsewhere(space string) bool {
	return strings.HasPrefix(space, "http://www.w3.org/1999/xhtml") || strings.HasPrefix(space, "http://www.w3.org/1998/Math") ||
		strings.HasPrefix(space, "http://www.w3.org/2001/xml-events") || strings.HasPrefix(space, "http://www.w3.org/1999/xlink")
}

func (i *svgInspector) attribute(element string, a xml.Attr, offset int) {
	name, value := strings.ToLower(a.Name.Local), a.Value
	switch {
	case a.Name.Space == "xmlns" || a.Name.Space == "" && name == "xmlns":
		return
	case strings.HasPrefix(name, "on"):
		i.fault(offset, "has the handler "+quote(a.Name.Local))
	case name == "href" || name == "src":
		if !inside(value, element) {
			i.fault(offset, "refers to "+quote(value))
		}
	case name == "base" && strings.Contains(a.Name.Space, "XML"):
		i.fault(offset, "moves its references with xml:base")
	default:
		i.css(value, offset)
	}
}

// inside says whether a reference stays within the drawing: a part of it by
// its identifier, or a picture written into an element image.
func inside(reference, element string) bool {
	reference = strings.TrimSpace(reference)
	if strings.HasPrefix(reference, "#") {
		return true
	}
	lower := strings.ToLower(reference)
	return element == "image" && (strings.HasPrefix(lower, "data:image/png;base64,") || strings.HasPrefix(lower, "data:image/jpeg;base64,"))
}

// css looks for whatever in a style or presentation attribute could load or run.
func (i *svgInspector) css(text string, offset int) {
	lower := strings.ToLower(text)
	switch {
	case strings.Contains(lower, "@import"):
		i.fault(offset, "imports a style")
	case strings.Contains(lower, "javascript:"):
		i.fault(offset, "has an address that runs")
	case strings.Contains(lower, "expression(") || strings.Contains(lower, "-moz-binding") || strings.Contains(lower, "behavior:"):
		i.fault(offset, "has a style that runs")
	case strings.Contains(text, `\`) && (i.style > 0 || strings.Contains(lower, "(")):
		i.fault(offset, "has a style with escapes, which can hide an address")
	}
	for rest := lower; ; {
		at := strings.Index(rest, "url(")
		if at < 0 {
			break
		}
		rest = rest[at+len("url("):]
		if address := strings.TrimLeft(rest, " \t\r\n\"'"); !strings.HasPrefix(address, "#") {
			end := min(strings.IndexAny(address+")", ")\"'"), len(address))
			i.fault(offset, "refers to "+quote(address[:end]))
		}
	}
	for _, name := range []string{"image(", "image-set(", "src("} {
		if strings.Contains(lower, name) {
			i.fault(offset, "has a style that loads with "+quote(strings.TrimSuffix(name, "(")))
		}
	}
}

func (i *svgInspector) fault(offset int, what string) {
	pos := i.places.at(offset)
	fault := SVGFault{Line: pos.Line(), Column: pos.Column(), What: what}
	for _, f := range i.faults {
		if f == fault {
			return
		}
	}
	i.faults = append(i.faults, fault)
}
