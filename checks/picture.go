package checks

import (
	"errors"
	"fmt"
	"image"
	"io"
	"path"
	"slices"
	"strings"

	"yearmark/schema"
)

// picture is one file of the folder pictures, looked into.
type picture struct {
	below    string
	fault    string // why it cannot be shown, or nothing
	remedy   string // what to do about that, or nothing where the check's own remedy will do
	location string // where in the file a place on earth stands, or nothing
	unsafe   []SVGFault

	width, height int // of the upright picture; 0 where they are not known
}

// The limits of a picture that can be shown: beyond them a browser or a phone
// gives up. Whoever shows pictures keeps to the same.
const (
	MaxDrawing = 1 << 20     // bytes of an SVG
	MaxPixels  = 100_000_000 // of a photograph
	MaxPhoto   = 64 << 20    // bytes of a photograph
	HeadBytes  = 1 << 20     // what is read of a photograph to know it
)

// openPictures looks into the pictures, a share to each processor.
func (s *shared) openPictures() []picture {
	names := slices.DeleteFunc(slices.Clone(s.Ref.Pictures), func(below string) bool { return !s.Looked(schema.PicturesFolder + "/" + below) })
	all := make([]picture, len(names))
	s.share(len(all), func(i int) { all[i] = s.openPicture(names[i]) })
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
		p.fault, p.remedy = "is neither JPEG, PNG nor SVG by its name", otherPicture(ending)
	}
	return p
}

func (p *picture) inspectDrawing(r io.Reader, size int64) {
	if size > MaxDrawing {
		p.fault = fmt.Sprintf("is larger than %d MB", MaxDrawing>>20)
		p.remedy = "Export it without the photographs set into it, or save it as PNG."
		return
	}
	data, err := io.ReadAll(io.LimitReader(r, MaxDrawing+1))
	if err != nil {
		p.fault = "cannot be read"
		return
	}
	p.unsafe = InspectSVG(data)
	if box, ok := BoxOf(data); ok {
		p.width, p.height = int(box.Width), int(box.Height)
	}
}

func (p *picture) inspectPhoto(r io.Reader, size int64, isPNG bool, sound func([]byte) error) {
	if size > MaxPhoto {
		p.fault = fmt.Sprintf("is larger than %d MB", MaxPhoto>>20)
		p.remedy = "Open it in the program that shows photographs on your computer, choose “resize” or “export”, take 3000 pixels for the longer side, and save it as JPEG: pages show no more."
		return
	}
	data, err := io.ReadAll(io.LimitReader(r, MaxPhoto+1))
	if err != nil {
		p.fault = "cannot be read"
		return
	}
	head, err := ReadPhotoHead(data)
	p.location = findLocation(data, head.Kind)
	if p.width, p.height = head.Width, head.Height; Orientation(data) >= 5 {
		p.width, p.height = p.height, p.width
	}
	var large *TooLargeError
	switch {
	case errors.As(err, &large):
		p.fault, p.remedy = large.Error(), large.Remedy()
	case err != nil:
		p.fault, p.location = err.Error(), ""
		if isHEIC(data) {
			p.fault, p.remedy = "is HEIC whatever its name says", otherPicture(".heic")
		}
	case (head.Kind == "png") != isPNG:
		p.fault = "is " + strings.ToUpper(head.Kind) + " whatever its name says"
		p.remedy = fmt.Sprintf("Rename it to %s.%s, and write that name where it is shown.", strings.TrimSuffix(path.Base(p.below), path.Ext(p.below)), map[bool]string{true: "jpg", false: "png"}[isPNG])
	case sound(data) != nil:
		p.fault = "is damaged and cannot be read to its last line of pixels"
		p.remedy = "Save it afresh from a program for photographs, or take it out."
	}
}

// isHEIC says that a file begins as ISO/IEC 23008-12 has it: a box ftyp with a
// brand for still pictures of HEVC.
func isHEIC(data []byte) bool {
	if len(data) < 12 || string(data[4:8]) != "ftyp" {
		return false
	}
	switch string(data[8:12]) {
	case "heic", "heix", "heim", "heis", "hevc", "mif1", "msf1":
		return true
	}
	return false
}

// otherPicture says how a picture of another kind becomes one that can be shown.
func otherPicture(ending string) string {
	switch ending {
	case ".heic", ".heif":
		return "Open it on the telephone or computer it was taken with and export or save a copy as JPEG (telephones that take HEIC have a setting “most compatible”, which takes JPEG from then on); a new name ending alone changes nothing."
	case ".pdf":
		return "Save the page that matters as PNG or JPEG: programs that show PDF files can export a page as a picture."
	case ".tif", ".tiff", ".bmp", ".webp", ".gif", ".avif":
		return "Open it in any program for photographs and save a copy as JPEG, or as PNG where it is a drawing."
	}
	return ""
}

// Sound says what is wrong with the pixels of a photograph, or nothing.
func Sound(data []byte) error {
	return WithPixels(data, func(image.Image, string) error { return nil })
}
