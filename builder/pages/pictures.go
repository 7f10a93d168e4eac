package pages

import (
	"html/template"
	"io"
	"io/fs"
	"path"
	"strconv"
	"strings"

	"yearmark/builder/markup"
	"yearmark/builder/pictures"
	"yearmark/checks"
)

// picturesFolder is where pictures are kept, in the reference and on the site.
const picturesFolder = "pictures/"

// largestDrawing is the largest drawing that is copied, in bytes; headSize is
// how much of a photograph is read to learn its size.
const (
	largestDrawing = 1 << 20
	headSize       = 512 << 10
)

// image is a picture that the site shows: a drawing as it is, or a photograph
// in its versions, narrowest first. Addresses are below the site's root.
type image struct {
	drawing       string
	photo         *pictures.Photo
	Width, Height int // 0 for a drawing
}

// addPictures adds every picture that is safe to show. One that is not is left
// out, and pages do without it; the checker says why.
func (s *Site) addPictures() {
	s.images = map[string]image{}
	if s.facts.Files == nil {
		return
	}
	for _, name := range s.ref.Pictures {
		switch {
		case strings.EqualFold(path.Ext(name), ".svg"):
			s.addDrawing(name)
		case pictures.IsPhoto(name):
			s.addPhoto(name)
		}
	}
}

func (s *Site) addDrawing(name string) {
	data, err := s.readPicture(name, largestDrawing+1)
	if err != nil || len(data) > largestDrawing || len(checks.InspectSVG(data)) > 0 {
		return
	}
	s.images[name] = image{drawing: picturesFolder + name}
	s.add(picturesFolder+name, func() ([]byte, error) { return s.readPicture(name, largestDrawing) })
}

func (s *Site) addPhoto(name string) {
	head, err := s.readPicture(name, headSize)
	if err != nil {
		return
	}
	photo, err := pictures.Look(name, head)
	if err != nil {
		return
	}
	s.images[name] = image{photo: photo, Width: photo.Width, Height: photo.Height}
	for _, version := range photo.Versions {
		s.add(picturesFolder+version.Name, func() ([]byte, error) {
			data, err := s.readPicture(name, pictures.MaxBytes)
			if err != nil {
				return nil, err
			}
			return s.facts.Photos.Make(photo, data, version)
		})
	}
}

// readPicture reads at most so much of a picture.
func (s *Site) readPicture(name string, most int64) ([]byte, error) {
	f, err := s.facts.Files.Open(picturesFolder + name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if info, err := f.Stat(); err != nil || !info.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "read", Path: name, Err: fs.ErrInvalid}
	}
	return io.ReadAll(io.LimitReader(f, most))
}

// picture gives the way to a picture from this page, a photograph's in its
// least version, or an empty text where the site does not show it.
func (p *page) picture(name string) string {
	shown, ok := p.images[name]
	switch {
	case name == "" || !ok:
		return ""
	case shown.photo != nil:
		return p.to(picturesFolder + shown.photo.Versions[0].Name)
	}
	return p.to(shown.drawing)
}

// pictureView is a picture with what it shows in words.
type pictureView struct {
	Src, Srcset, Alt string
	Width, Height    int
	Full             string // the way to its largest version, of a photograph
}

// pictureOf shows a picture at the size of a column; ok is false where the
// site does not show it.
func (p *page) pictureOf(name, alt string) (v pictureView, ok bool) {
	shown, ok := p.images[name]
	if !ok {
		return v, false
	}
	v = pictureView{Src: p.picture(name), Alt: alt}
	if shown.photo == nil {
		return v, true
	}
	var set []string
	for _, version := range shown.photo.Versions {
		v.Full = p.to(picturesFolder + version.Name)
		set = append(set, v.Full+" "+strconv.Itoa(version.Width)+"w")
	}
	middle := shown.photo.Versions[len(shown.photo.Versions)/2]
	v.Src, v.Width, v.Height = p.to(picturesFolder+middle.Name), middle.Width, middle.Height
	if len(set) > 1 {
		v.Srcset = strings.Join(set, ", ")
	}
	return v, true
}

// HTML writes the picture on its plate, with its words below.
func (v pictureView) HTML() template.HTML {
	w := markup.New(400)
	w.Tag(`<figure class="plate">`)
	if v.Full != "" {
		w.Tag(`<a href="`).Address(v.Full).Tag(`">`)
	}
	w.Tag(`<img src="`).Address(v.Src).Tag(`" alt="`).Text(v.Alt).Tag(`"`)
	if v.Srcset != "" {
		w.Tag(` srcset="`).Text(v.Srcset).Tag(`" sizes="(min-width: 52rem) 26rem, 92vw"`)
	}
	if v.Width > 0 {
		w.Tag(` width="`).Int(v.Width).Tag(`" height="`).Int(v.Height).Tag(`"`)
	}
	w.Tag(`>`)
	if v.Full != "" {
		w.Tag(`</a>`)
	}
	return w.Tag(`<figcaption>`).Text(v.Alt).Tag("</figcaption></figure>\n").Done()
}
