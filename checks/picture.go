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
	s.share(len(all), func(i int) { all[i] = openPicture(s.Files, s.Ref.Pictures[i]) })
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

func (p *picture) lookAtPhoto(r io.Reader, size int64, ending string) {
	if size > MaxPhoto {
		p.fault = fmt.Sprintf("is larger than %d MB", MaxPhoto>>20)
		return
	}
	head, err := io.ReadAll(io.LimitReader(r, HeadBytes))
	if err != nil {
		p.fault = "cannot be read"
		return
	}
	config, kind, err := image.DecodeConfig(bytes.NewReader(head))
	switch {
	case err != nil:
		p.fault = "is no picture that can be read"
		return
	case kind != "jpeg" && kind != "png":
		p.fault = "is no picture that can be read"
		return
	case kind == "jpeg" && ending == "png" || kind == "png" && ending != "png":
		p.fault = "is " + strings.ToUpper(kind) + " whatever its name says"
	case config.Width < 1 || config.Height < 1 || config.Width > MaxPixels/config.Height:
		p.fault = fmt.Sprintf("has %d by %d pixels, more than can be shown", config.Width, config.Height)
	}
	if int64(len(head)) < size && kind == "png" {
		rest, _ := io.ReadAll(io.LimitReader(r, MaxPhoto)) // eXIf may stand after the pixels
		head = append(head, rest...)
	}
	if p.fault == "" && endsEarly(r, head, size, kind) {
		p.fault = "ends before its last line of pixels"
	}
	p.location = findLocation(head, kind)
}

// lastBytes is how much of a photograph's end is searched for the mark of it.
const lastBytes = 64 << 10

// endsEarly says that a photograph lacks the mark that ends it: the chunk IEND
// of a PNG, the marker EOI of a JPEG. Of a long JPEG only the end is read, if
// the reader can go there.
func endsEarly(r io.Reader, head []byte, size int64, kind string) bool {
	end := head
	if int64(len(head)) < size {
		seeker, ok := r.(io.ReadSeeker)
		if !ok {
			return false
		}
		if _, err := seeker.Seek(-lastBytes, io.SeekEnd); err != nil {
			return false
		}
		var err error
		if end, err = io.ReadAll(io.LimitReader(seeker, lastBytes)); err != nil {
			return false
		}
	}
	if kind == "png" {
		return !bytes.Contains(end, []byte("IEND"))
	}
	return !bytes.Contains(end, []byte{0xFF, 0xD9})
}
