package pictures

import (
	"bytes"
	"encoding/xml"
	"io"
	"regexp"
	"slices"
)

// drawnSpaces are the namespaces that a browser draws from; no prefix stands
// for SVG's own or none at all.
var drawnSpaces = []string{"", "http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink", "http://www.w3.org/XML/1998/namespace"}

// attribute is one attribute as it is written in a tag.
var attribute = regexp.MustCompile(`\s+[^\s=/>"']+\s*=\s*(?:"[^"]*"|'[^']*')`)

// CleanDrawing takes out of a drawing what draws nothing and may tell of its
// author or their machine: comments, metadata, and what drawing programs note
// for themselves. All else stays as it is written. A drawing that cannot be
// read gives nothing.
func CleanDrawing(drawing []byte) []byte {
	d := xml.NewDecoder(bytes.NewReader(drawing))
	var clean []byte
	dropped := 0 // how many elements deep in one that is left out
	for {
		from := d.InputOffset()
		token, err := d.Token()
		if err == io.EOF {
			return clean
		}
		if err != nil {
			return nil
		}
		raw := drawing[from:d.InputOffset()]
		switch t := token.(type) {
		case xml.StartElement:
			if dropped > 0 || !slices.Contains(drawnSpaces, t.Name.Space) || t.Name.Local == "metadata" {
				dropped++
				continue
			}
			clean = append(clean, cleanTag(raw, t.Attr)...)
		case xml.EndElement:
			if dropped > 0 {
				dropped--
				continue
			}
			clean = append(clean, raw...) // nothing where the tag ended itself
		case xml.CharData:
			if dropped == 0 {
				clean = append(clean, raw...)
			}
		case xml.ProcInst:
			if t.Target == "xml" {
				clean = append(clean, raw...)
			}
		}
	}
}

// cleanTag leaves out the attributes of other namespaces, and their names.
func cleanTag(raw []byte, attributes []xml.Attr) []byte {
	spans := attribute.FindAllIndex(raw, -1)
	if len(spans) != len(attributes) {
		return raw // not as the check of drawings lets it through
	}
	clean := raw[:0:0]
	at := 0
	for i, a := range attributes {
		drawn := slices.Contains(drawnSpaces, a.Name.Space)
		if a.Name.Space == "xmlns" {
			drawn = slices.Contains(drawnSpaces, a.Value)
		}
		if !drawn {
			clean = append(clean, raw[at:spans[i][0]]...)
			at = spans[i][1]
		}
	}
	return append(clean, raw[at:]...)
}
