package checks

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // read only for its head
	_ "image/png"  // read only for its head
	"io"
	"io/fs"
	"path"
	"strings"
)

// picture is one file of the folder pictures, looked into.
type picture struct {
	below    string
	fault    string // why it cannot be shown, or nothing
	location string // where in the file a place on earth stands, or nothing
	unsafe   []SVGFault
}

// The limits of a picture: beyond them a browser or a phone gives up.
const (
	maxDrawing = 4 << 20 // bytes of an SVG
	maxPhoto   = 64 << 20
	maxPixels  = 100_000_000
	headBytes  = 1 << 20 // what is read of a photograph
)

// openPictures looks into every picture, a share to each processor.
func (s *shared) openPictures() []picture {
	all := make([]picture, len(s.Ref.Pictures))
	inParallel(len(all), func(i int) { all[i] = openPicture(s.Files, s.Ref.Pictures[i]) })
	return all
}

func openPicture(files fs.FS, below string) picture {
	p := picture{below: below}
	f, err := files.Open("pictures/" + below)
	if err != nil {
		p.fault = "cannot be opened"
		return p
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		p.fault = "cannot be opened"
		return p
	}
	switch ending := strings.ToLower(path.Ext(below)); ending {
	case ".svg":
		p.lookAtDrawing(f, info.Size())
	case ".jpg", ".jpeg", ".png":
		p.lookAtPhoto(f, info.Size(), strings.TrimPrefix(ending, "."))
	default:
		p.fault = "is neither JPEG, PNG nor SVG by its name"
	}
	return p
}

func (p *picture) lookAtDrawing(r io.Reader, size int64) {
	if size > maxDrawing {
		p.fault = fmt.Sprintf("is larger than %d MB", maxDrawing>>20)
		return
	}
	data, err := io.ReadAll(io.LimitReader(r, maxDrawing+1))
	if err != nil {
		p.fault = "cannot be read"
		return
	}
	p.unsafe = InspectSVG(data)
}

func (p *picture) lookAtPhoto(r io.Reader, size int64, ending string) {
	if size > maxPhoto {
		p.fault = fmt.Sprintf("is larger than %d MB", maxPhoto>>20)
		return
	}
	head, err := io.ReadAll(io.LimitReader(r, headBytes))
	if err != nil {
		p.fault = "cannot be read"
		return
	}
	config, kind, err := image.DecodeConfig(bytes.NewReader(head))
	switch {
	case err != nil:
		p.fault = "is no picture that can be read"
		return
	case kind == "jpeg" && ending == "png" || kind == "png" && ending != "png":
		p.fault = "is " + strings.ToUpper(kind) + " whatever its name says"
	case config.Width < 1 || config.Height < 1 || config.Width > maxPixels/config.Height:
		p.fault = fmt.Sprintf("has %d by %d pixels, more than can be shown", config.Width, config.Height)
	}
	if int64(len(head)) < size && kind == "png" {
		rest, _ := io.ReadAll(io.LimitReader(r, maxPhoto)) // eXIf may stand after the pixels
		head = append(head, rest...)
	}
	p.location = findLocation(head, kind)
}
