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
}

// Size is one version of a photograph, or of a cut-out of it.
type Size struct {
	Name          string // of the file, below the folder of pictures
	Width, Height int
	region        image.Rectangle // of the upright photograph; empty where it is all of it
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
			p.Versions = append(p.Versions, sized(p.name, p.Width, p.Height, p.Width))
			break
		}
		p.Versions = append(p.Versions, sized(p.name, p.Width, p.Height, w))
	}
	return p, nil
}

// sized is the version so wide of a picture of a name, width by height pixels.
func sized(name string, width, height, wide int) Size {
	ending := path.Ext(name)
	return Size{
		Name:  fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, ending), wide, strings.ToLower(ending)),
		Width: wide, Height: max(1, (height*wide+width/2)/width),
	}
}

// Make decodes a photograph once and hands on each of the versions asked for,
// of all of it and of cut-outs, in the format of the original. The bytes are
// good until use returns. The error may be that of use, as it is.
func (p *Photo) Make(data []byte, versions []Size, use func(version Size, made []byte) error) error {
	if len(versions) == 0 {
		return nil
	}
	var used error
	err := checks.WithPixels(data, func(pixels image.Image, kind string) error {
		var out bytes.Buffer
		for _, version := range versions {
			out.Reset()
			if err := encode(&out, kind, p.version(pixels, version)); err != nil {
				return err
			}
			if used = use(version, out.Bytes()); used != nil {
				return used
			}
		}
		return nil
	})
	if err != nil && used == nil {
		return fmt.Errorf("the photograph %s cannot be read to its end: %w; save it afresh from a program for photographs, or take it out", p.name, err)
	}
	return err
}

// version gives the pixels of one version, upright.
func (p *Photo) version(pixels image.Image, version Size) *image.RGBA {
	w, h := version.Width, version.Height
	if p.turn >= 5 {
		w, h = h, w
	}
	return turned(scale(p.part(pixels, version.region), w, h), p.turn)
}

func encode(out *bytes.Buffer, kind string, pixels image.Image) error {
	if kind == "png" {
		return (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(out, pixels)
	}
	return jpeg.Encode(out, pixels, &jpeg.Options{Quality: quality})
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
