package checks

import (
	"bytes"
	"encoding/xml"
	"strconv"
	"strings"
)

// SVGBox is where and how large a drawing is, in its own units.
type SVGBox struct{ Left, Top, Width, Height float64 }

// BoxOf gives the viewBox of a drawing, else its width and height; ok is false
// where it has neither.
func BoxOf(drawing []byte) (box SVGBox, ok bool) {
	for _, a := range svgRoot(drawing) {
		switch {
		case a.Name.Space != "":
		case a.Name.Local == "viewBox":
			four := strings.FieldsFunc(a.Value, func(r rune) bool { return r == ',' || r <= ' ' })
			if len(four) == 4 {
				box = SVGBox{svgUnits(four[0]), svgUnits(four[1]), svgUnits(four[2]), svgUnits(four[3])}
			}
		case a.Name.Local == "width" && box.Width == 0:
			box.Width = svgUnits(a.Value)
		case a.Name.Local == "height" && box.Height == 0:
			box.Height = svgUnits(a.Value)
		}
	}
	const most = 1 << 20
	return box, box.Width >= 1 && box.Height >= 1 && box.Width < most && box.Height < most
}

// svgUnits reads a length in a drawing's own units, else 0.
func svgUnits(s string) float64 {
	n, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(s), "px"), 64)
	if err != nil {
		return 0
	}
	return n
}

// svgRoot gives the attributes of a drawing's first element.
func svgRoot(drawing []byte) []xml.Attr {
	d := xml.NewDecoder(bytes.NewReader(bytes.TrimPrefix(drawing, []byte("\ufeff"))))
	for {
		token, err := d.Token()
		if err != nil {
			return nil
		}
		if start, ok := token.(xml.StartElement); ok {
			return start.Attr
		}
	}
}
