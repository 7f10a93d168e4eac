// Package pictures makes photographs fit to publish: turned the right way up,
// at three widths, and without any tag that the camera or a program wrote,
// since what is made anew from the pixels carries none.
package pictures

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"path"
	"strings"

	"yearmark/checks"
)

// Widths are those at which photographs are published, in pixels. A photograph
// is never made larger than it is.
var Widths = []int{400, 800, 1600}

// quality is that of the JPEG files made, of 100.
const quality = 80

// Photo is a photograph that can be published.
type Photo struct {
	Width, Height int    // once turned
	Versions      []Size // by rising width; at least one
	name          string
	turn          int

	whole  image.Point     // of a cut-out: the size of the upright picture that it is cut from
	region image.Rectangle // empty where it is no cut-out
}

// Size is one version of a photograph.
type Size struct {
	Name          string // of the file, below the folder of pictures
	Width, Height int
}

// IsPhoto says by a file's ending whether it is a photograph: JPEG or PNG.
func IsPhoto(name string) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".jpg", ".jpeg", ".png":
		return true
	}
	return false
}

// Look reads a photograph's head. It refuses what is neither JPEG nor PNG, and
// what is too large to be decoded.
func Look(name string, data []byte) (*Photo, error) {
	head, err := checks.ReadPhotoHead(data)
	if err != nil {
		return nil, fmt.Errorf("the photograph %s %w", name, err)
	}
	p := &Photo{Width: head.Width, Height: head.Height, name: name, turn: checks.Orientation(data)}
	if p.turn >= 5 {
		p.Width, p.Height = p.Height, p.Width
	}
	for _, w := range Widths {
		if w >= p.Width {
			p.Versions = append(p.Versions, p.size(p.Width))
			break
		}
		p.Versions = append(p.Versions, p.size(w))
	}
	return p, nil
}

func (p *Photo) size(width int) Size {
	ending := path.Ext(p.name)
	return Size{
		Name:  fmt.Sprintf("%s-%d%s", strings.TrimSuffix(p.name, ending), width, strings.ToLower(ending)),
		Width: width, Height: max(1, (p.Height*width+p.Width/2)/p.Width),
	}
}

// Make gives the bytes of one version, in the format of the original.
func (p *Photo) Make(data []byte, version Size) ([]byte, error) {
	var out bytes.Buffer
	err := checks.WithPixels(data, func(pixels image.Image, kind string) error {
		w, h := version.Width, version.Height
		if p.turn >= 5 {
			w, h = h, w
		}
		small := turned(scale(p.part(pixels), w, h), p.turn)
		if kind == "png" {
			return (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&out, small)
		}
		return jpeg.Encode(&out, small, &jpeg.Options{Quality: quality})
	})
	if err != nil {
		return nil, fmt.Errorf("the photograph %s cannot be read to its end: %w; save it afresh from a program for photographs, or take it out", p.name, err)
	}
	return out.Bytes(), nil
}

// turned gives the picture as EXIF's orientation says that it is to be shown.
func turned(from *image.RGBA, turn int) *image.RGBA {
	if turn <= 1 || turn > 8 {
		return from
	}
	w, h := from.Rect.Dx(), from.Rect.Dy()
	to := image.NewRGBA(image.Rect(0, 0, w, h))
	if turn >= 5 {
		to = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range h {
		for x := range w {
			tx, ty := place(turn, x, y, w, h)
			to.SetRGBA(tx, ty, from.RGBAAt(x, y))
		}
	}
	return to
}

// place says where a pixel of a picture w by h goes (Exif 2.3, tag 0112).
func place(turn, x, y, w, h int) (tx, ty int) {
	switch turn {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return h - 1 - y, x
	case 7:
		return h - 1 - y, w - 1 - x
	case 8:
		return y, w - 1 - x
	}
	return x, y
}
