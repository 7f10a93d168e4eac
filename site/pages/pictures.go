package pages

import (
	"io"
	"io/fs"
	"os"
	"path"
	"strconv"
	"strings"
	"sync"
	"time"

	"yearmark/checks"
	"yearmark/site/pictures"
)

// picturesFolder is where pictures are kept, in the reference and on the site.
const picturesFolder = "pictures/"

// image is a picture that the site shows: a drawing as it is, or a photograph
// in its versions, narrowest first. Addresses are below the site's root.
type image struct {
	drawing string
	size    pictures.Drawing // of a drawing; zero where it has none
	photo   *pictures.Photo  // nil of a drawing
	length  time.Duration    // of a recording, which is no picture
}

// ImageCache remembers which pictures can be shown and how long recordings play, so
// that the site of records that changed a little need not look at all again. The very same
// file, of the same size and time of change, counts as the same. The zero ImageCache is ready,
// and a nil one remembers nothing. It is safe for concurrent use.
type ImageCache struct {
	mu sync.Mutex
	by map[string]cachedImage // by path
}

type cachedImage struct {
	file  fs.FileInfo
	shown image
	ok    bool
}

// of gives what is remembered of a file, or inspects it.
func (c *ImageCache) of(files fs.FS, path string, inspect func() (image, bool)) (image, bool) {
	if c == nil {
		return inspect()
	}
	info, err := fs.Stat(files, path)
	if err != nil {
		return image{}, false
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	found, known := c.by[path]
	if !known || !os.SameFile(found.file, info) || found.file.Size() != info.Size() || !found.file.ModTime().Equal(info.ModTime()) {
		found.file = info
		found.shown, found.ok = inspect()
		if c.by == nil {
			c.by = map[string]cachedImage{}
		}
		c.by[path] = found
	}
	return found.shown, found.ok
}

// addPictures adds every picture that is safe to show. One that is not is left
// out, and pages do without it; the checker says why.
func (s *Site) addPictures() {
	s.images, s.photos = map[string]image{}, map[string]photoFile{}
	if s.facts.Files == nil {
		return
	}
	kept := s.ref.ScansKeptBack()
	for _, name := range s.ref.Pictures {
		if kept[name] {
			continue
		}
		shown, ok := s.facts.Images.of(s.facts.Files, picturesFolder+name, func() (image, bool) { return s.look(name) })
		if ok {
			s.images[name] = shown
			s.addPicture(name, shown)
		}
	}
}

// look reads a picture and says whether it can be shown.
func (s *Site) look(name string) (image, bool) {
	switch {
	case strings.EqualFold(path.Ext(name), ".svg"):
		data, err := s.readPicture(name, checks.MaxDrawing+1)
		ok := err == nil && len(data) <= checks.MaxDrawing && len(checks.InspectSVG(data)) == 0
		size, _ := pictures.LookAtDrawing(data)
		return image{drawing: picturesFolder + name, size: size}, ok
	case pictures.IsPhoto(name):
		head, err := s.readPicture(name, checks.HeadBytes)
		if err != nil {
			return image{}, false
		}
		photo, err := pictures.Look(name, head)
		return image{photo: photo}, err == nil
	}
	return image{}, false
}

// addPicture adds the files of one picture.
func (s *Site) addPicture(name string, shown image) {
	if shown.photo == nil {
		s.add(shown.drawing, func() ([]byte, error) {
			data, err := s.readPicture(name, checks.MaxDrawing)
			return pictures.CleanDrawing(data), err
		})
		return
	}
	s.addPhoto(picturesFolder, name, shown.photo.Versions)
}

// photoFile is a file of the site that is made of a photograph.
type photoFile struct {
	of      string        // the photograph, below the folder of pictures
	version pictures.Size // under the path of the file
}

// addPhoto adds versions of a photograph, or of a cut-out of it, to a folder.
func (s *Site) addPhoto(folder, of string, versions []pictures.Size) {
	for _, version := range versions {
		version.Name = folder + version.Name
		s.photos[version.Name] = photoFile{of, version}
	}
}

// writePhoto makes files that are all made of the one photograph.
func (s *Site) writePhoto(paths []string, use func(path string, data []byte) error) error {
	name := s.photos[paths[0]].of
	data, err := s.readPicture(name, checks.MaxPhoto)
	if err != nil {
		return err
	}
	versions := make([]pictures.Size, len(paths))
	for i, path := range paths {
		versions[i] = s.photos[path].version
	}
	return s.facts.Photos.Make(s.images[name].photo, data, versions, func(version pictures.Size, made []byte) error {
		return use(version.Name, made)
	})
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
	if shown.photo == nil {
		return pictureView{Src: p.picture(name), Alt: alt}, true
	}
	return p.photoOf(picturesFolder, shown.photo.Versions, alt), true
}

// photoOf shows a photograph whose versions are in a folder.
func (p *page) photoOf(folder string, versions []pictures.Size, alt string) pictureView {
	v := pictureView{Alt: alt}
	var set []string
	for _, version := range versions {
		v.Full = p.to(folder + version.Name)
		set = append(set, v.Full+" "+strconv.Itoa(version.Width)+"w")
	}
	middle := versions[len(versions)/2]
	v.Src, v.Width, v.Height = p.to(folder+middle.Name), middle.Width, middle.Height
	if len(set) > 1 {
		v.Srcset = strings.Join(set, ", ")
	}
	return v
}
