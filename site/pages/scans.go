package pages

import (
	"fmt"
	goimage "image"
	"io"
	"path"
	"slices"
	"strings"
	"time"

	"yearmark/checks"
	"yearmark/schema"
	"yearmark/schema/sound"
	"yearmark/site/pictures"
)

// cutsFolder holds the cut-outs of scans, and recordingsFolder the recordings,
// on the site.
const (
	cutsFolder       = "cuts/"
	recordingsFolder = "recordings/"
)

// cut is the region of a scan that holds the words of a place, and its picture.
type cut struct {
	region   goimage.Rectangle // in pixels of the upright scan
	drawing  string            // below the site's root
	versions []pictures.Size   // of a photograph; none of a drawing
}

// addCuts adds the cut-outs of all scans that may be shown.
func (s *Site) addCuts() {
	s.cuts = map[*schema.SourcePlace]cut{}
	for _, source := range s.ref.Sources.All() {
		for _, place := range source.Places {
			if scan, ok := s.images[place.Scan.Value]; ok && !place.Region.IsZero() {
				s.addCut(place, scan)
			}
		}
	}
}

func (s *Site) addCut(place *schema.SourcePlace, scan image) {
	name := place.Scan.Value
	width, height := scan.dimensions()
	region, ok := place.Region.Within(width, height)
	if !ok {
		return // region-outside says so
	}
	c := cut{region: region}
	if scan.photo != nil {
		c.versions = scan.photo.Cut(region)
		s.addPhoto(cutsFolder, name, c.versions)
	} else {
		c.drawing = cutsFolder + pictures.CutName(name, region)
		s.add(c.drawing, func() ([]byte, error) {
			data, err := s.readPicture(name, checks.MaxDrawing)
			return scan.size.Cut(pictures.CleanDrawing(data), region), err
		})
	}
	s.cuts[place] = c
}

// dimensions are those of the upright picture; zero of a drawing without a size.
func (i image) dimensions() (width, height int) {
	if i.photo != nil {
		return i.photo.Width, i.photo.Height
	}
	return i.size.Width, i.size.Height
}

// addRecordings adds the recordings that may be heard.
func (s *Site) addRecordings() {
	if s.facts.Files == nil {
		return
	}
	for _, source := range s.ref.Sources.All() {
		name := s.recordingOf(source)
		if name == "" {
			continue
		}
		s.add(recordingsFolder+name, func() ([]byte, error) {
			data, err := s.readRecording(name)
			if err != nil {
				return nil, err
			}
			clean := sound.Clean(name, data)
			if clean == nil {
				return nil, fmt.Errorf("the recording %s is not built as its kind is; save it afresh from a program for sound, or take it out", name)
			}
			return clean, nil
		})
	}
}

func (s *Site) readRecording(name string) ([]byte, error) {
	f, err := s.facts.Files.Open(schema.RecordingsFolder + "/" + name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, sound.MaxBytes))
}

// recordingLengths looks how long the recordings play that may be heard.
func (s *Site) recordingLengths() map[*schema.Source]time.Duration {
	lengths := map[*schema.Source]time.Duration{}
	for _, source := range s.ref.Sources.All() {
		name := s.recordingOf(source)
		if name == "" || s.facts.Files == nil {
			continue
		}
		known, ok := s.facts.Images.of(s.facts.Files, schema.RecordingsFolder+"/"+name, func() (image, bool) {
			data, err := s.readRecording(name)
			if err != nil {
				return image{}, false
			}
			length, err := sound.Length(name, data)
			return image{length: length}, err == nil
		})
		if ok {
			lengths[source] = known.length
		}
	}
	return lengths
}

// shownRecording and shownScan are those of Shown.
func (s *Site) shownRecording(source *schema.Source) (path string, length time.Duration, ok bool) {
	length, ok = s.lengths()[source]
	return recordingsFolder + s.recordingOf(source), length, ok
}

func (s *Site) shownScan(place *schema.SourcePlace) (scan Scan, ok bool) {
	shown, ok := s.images[place.Scan.Value]
	if !ok {
		return scan, false
	}
	scan.Width, scan.Height = shown.dimensions()
	if shown.photo == nil {
		scan.Sizes = []pictures.Size{{Name: shown.drawing, Width: scan.Width, Height: scan.Height}}
		return scan, scan.Width > 0
	}
	for _, version := range shown.photo.Versions {
		version.Name = picturesFolder + version.Name
		scan.Sizes = append(scan.Sizes, version)
	}
	return scan, true
}

// recordingOf gives the file of a source's recording, below the folder
// recordings, or nothing where none is kept or may be heard.
func (s *Site) recordingOf(source *schema.Source) string {
	if source.Recording == nil || source.MayShow() != schema.ShowsAll || !sound.Playable(source.Recording.File.Value) {
		return ""
	}
	name := source.Recording.File.Value
	if _, kept := slices.BinarySearch(s.ref.Recordings, name); !kept || path.Clean(name) != name {
		return ""
	}
	return name
}

// scanView is a scan with a region marked on it, for people to read.
type scanView struct {
	Picture       pictureView
	Width, Height int    // of the whole, in pixels
	Mark          string // the outlines of the regions that are meant, as an SVG path; empty where all of it is
}

// scan shows the scan of a place; ok is false where there is none to show.
func (p *page) scan(place *schema.SourcePlace, alt string) (v scanView, ok bool) {
	shown, ok := p.images[place.Scan.Value]
	if !ok {
		return v, false
	}
	v.Picture, _ = p.pictureOf(place.Scan.Value, alt)
	v.Width, v.Height = shown.dimensions()
	if shown.photo == nil {
		v.Picture.Width, v.Picture.Height, v.Picture.Full = v.Width, v.Height, v.Picture.Src
	} else {
		first := shown.photo.Versions[0] // many stand on one page
		v.Picture.Src = p.to(picturesFolder + first.Name)
	}
	if c, ok := p.cuts[place]; ok {
		v.Mark = outline(c.region)
	}
	return v, true
}

// outline draws a rectangle as an SVG path.
func outline(r goimage.Rectangle) string {
	return strings.Join([]string{"M" + number(r.Min.X), number(r.Min.Y) + "H" + number(r.Max.X) + "V" + number(r.Max.Y) + "H" + number(r.Min.X) + "Z"}, " ")
}

// cutOf shows the cut-out of a place; ok is false where there is none.
func (p *page) cutOf(place *schema.SourcePlace, alt string) (v pictureView, ok bool) {
	c, ok := p.cuts[place]
	switch {
	case !ok:
		return v, false
	case c.versions != nil:
		return p.photoOf(cutsFolder, c.versions, alt), true
	}
	size := c.region.Size()
	return pictureView{Src: p.to(c.drawing), Full: p.to(c.drawing), Width: size.X, Height: size.Y, Alt: alt}, true
}
