package checks

import (
	"errors"
	"fmt"
	"image"
	"io"
	"path"
	"strings"
)

// picture is one file of the folder pictures, looked into.
type picture struct {
	below    string
	fault    string // why it cannot be shown, or nothing
	remedy   string // what to do about that, or nothing where the check's own remedy will do
	location string // where in the file a place on earth stands, or nothing
	unsafe   []SVGFault
}

// The limits of a picture that can be shown: beyond them a browser or a phone
// gives up. Whoever shows pictures keeps to the same.
const (
	MaxDrawing = 1 << 20     // bytes of an SVG
	MaxPixels  = 100_000_000 // of a photograph
	MaxPhoto   = 64 << 20    // bytes of a photograph
	HeadBytes  = 1 << 20     // what is read of a photograph to know it
)

// openPictures looks into every picture, a share to each processor.
func (s *shared) openPictures() []picture {
	all := make([]picture, len(s.Ref.Pictures))
	s.share(len(all), func(i int) { all[i] = s.openPicture(s.Ref.Pictures[i]) })
	return all
}

func (s *shared) openPicture(below string) picture {
	p := picture{below: below}
	f, err := s.Files.Open("pictures/" + below)
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
		p.inspectDrawing(f, info.Size())
	case ".jpg", ".jpeg", ".png":
		p.inspectPhoto(f, info.Size(), ending == ".png", s.Sound)
	default:
		p.fault = "is neither JPEG, PNG nor SVG by its name"
	}
	return p
}

func (p *picture) inspectDrawing(r io.Reader, size int64) {
	if size > MaxDrawing {
		p.fault = fmt.Sprintf("is larger than %d MB", MaxDrawing>>20)
		return
	}
	data, err := io.ReadAll(io.LimitReader(r, MaxDrawing+1))
	if err != nil {
		p.fault = "cannot be read"
		return
	}
	p.unsafe = InspectSVG(data)
}

func (p *picture) inspectPhoto(r io.Reader, size int64, isPNG bool, sound func([]byte) error) {
	if size > MaxPhoto {
		p.fault = fmt.Sprintf("is larger than %d MB", MaxPhoto>>20)
		return
	}
	data, err := io.ReadAll(io.LimitReader(r, MaxPhoto+1))
	if err != nil {
		p.fault = "cannot be read"
		return
	}
	head, err := ReadPhotoHead(data)
	p.location = findLocation(data, head.Kind)
	var large *TooLargeError
	switch {
	case errors.As(err, &large):
		p.fault, p.remedy = large.Error(), large.Remedy()
	case err != nil:
		p.fault, p.location = err.Error(), ""
	case (head.Kind == "png") != isPNG:
		p.fault = "is " + strings.ToUpper(head.Kind) + " whatever its name says"
	case sound(data) != nil:
		p.fault = "is damaged and cannot be read to its last line of pixels"
		p.remedy = "Save it afresh from a program for photographs, or take it out."
	}
}

// Sound says what is wrong with the pixels of a photograph, or nothing.
func Sound(data []byte) error {
	return WithPixels(data, func(image.Image, string) error { return nil })
}
