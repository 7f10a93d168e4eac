package pictures

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image"
	"io"
	"path"
	"strings"

	"yearmark/checks"
)

// MaxCut bounds the width of a cut-out, in pixels; below it a cut-out has a
// version as wide as its region.
const MaxCut = 3200

// Cut gives the versions of the part of a photograph within a region, in pixels
// of the upright picture, by rising width; at least one.
func (p *Photo) Cut(region image.Rectangle) (versions []Size) {
	name, width, height := CutName(p.name, region), region.Dx(), region.Dy()
	for _, w := range append(Widths[:2:2], min(width, MaxCut)) {
		if len(versions) == 0 || w > versions[len(versions)-1].Width {
			version := sized(name, width, height, min(w, width))
			version.region = region
			versions = append(versions, version)
		}
		if w >= width {
			break
		}
	}
	return versions
}

// CutName names the file of a cut-out.
func CutName(name string, r image.Rectangle) string {
	ending := path.Ext(name)
	return fmt.Sprintf("%s-%d-%d-%d-%d%s", strings.TrimSuffix(name, ending), r.Min.X, r.Min.Y, r.Dx(), r.Dy(), ending)
}

// part gives those pixels of the original that lie in a region of the upright
// picture: all of them where it is empty.
func (p *Photo) part(pixels image.Image, region image.Rectangle) image.Image {
	if region.Empty() {
		return pixels
	}
	back := p.turn
	switch p.turn {
	case 6:
		back = 8
	case 8:
		back = 6
	}
	x0, y0 := place(back, region.Min.X, region.Min.Y, p.Width, p.Height)
	x1, y1 := place(back, region.Max.X-1, region.Max.Y-1, p.Width, p.Height)
	part := image.Rect(min(x0, x1), min(y0, y1), max(x0, x1)+1, max(y0, y1)+1).Add(pixels.Bounds().Min)
	return pixels.(interface {
		SubImage(image.Rectangle) image.Image
	}).SubImage(part) // which every picture of Go's decoders has
}

// Drawing is an SVG and the size at which it is drawn, in its own units.
type Drawing struct {
	Width, Height int
	left, top     float64 // where its viewBox begins
}

// LookAtDrawing reads the size of a drawing; ok is false where it has none.
func LookAtDrawing(drawing []byte) (d Drawing, ok bool) {
	box, ok := checks.BoxOf(drawing)
	return Drawing{int(box.Width), int(box.Height), box.Left, box.Top}, ok
}

// Cut gives the part of a cleaned drawing within a region, as a drawing of its
// own: a window on the whole, so that nothing in it moves.
func (d Drawing) Cut(clean []byte, region image.Rectangle) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="%d %d %d %d">`, region.Dx(), region.Dy(), region.Min.X, region.Min.Y, region.Dx(), region.Dy())
	b.Write(d.sized(clean))
	b.WriteString("</svg>")
	return b.Bytes()
}

// sized gives a drawing's root element with its width and height in figures,
// and without what stands before it.
func (d Drawing) sized(clean []byte) []byte {
	decoder := xml.NewDecoder(bytes.NewReader(clean))
	for {
		from := decoder.InputOffset()
		token, err := decoder.Token()
		if err != nil {
			return nil
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		raw := clean[from:decoder.InputOffset()]
		spans := attribute.FindAllIndex(raw, -1)
		if len(spans) != len(start.Attr) {
			return nil
		}
		var b bytes.Buffer
		at := 0
		for i, a := range start.Attr {
			switch a.Name.Local {
			case "width", "height", "x", "y", "viewBox":
				if a.Name.Space == "" {
					b.Write(raw[at:spans[i][0]])
					at = spans[i][1]
				}
			}
		}
		end := len(raw) - len(">")
		if bytes.HasSuffix(raw, []byte("/>")) {
			end--
		}
		b.Write(raw[at:end])
		fmt.Fprintf(&b, ` width="%d" height="%d" viewBox="%g %g %d %d"`, d.Width, d.Height, d.left, d.top, d.Width, d.Height)
		b.Write(raw[end:])
		_, _ = io.Copy(&b, bytes.NewReader(clean[from+int64(len(raw)):]))
		return b.Bytes()
	}
}
