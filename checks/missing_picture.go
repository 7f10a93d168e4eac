package checks

import (
	"io/fs"
	"slices"
	"strings"

	"yearmark/schema"
)

var missingPicture = Check{
	Name: "missing-picture", Family: Pictures, Level: Error,
	Meaning: "A record shows a picture that is not in the folder pictures.",
	Example: `picture: marks/ovel.svg
→ there is no picture "marks/ovel.svg"`,
	Remedy: "Put the file into the folder pictures, or mend its name here; capitals count.",
	Run: func(p *Pass) {
		for _, m := range p.namedPictures() {
			if !fs.ValidPath(m.below) || p.hasPicture(m.below) { // outside-folder and outside-picture look at the others
				continue
			}
			f := Finding{Pos: m.pos, Width: m.width, Message: "there is no picture " + quote(m.below)}
			f.nearest(m.below, m.below, p.Ref.Pictures, func(near string) string { return near })
			p.Report(f)
		}
	},
}

// namedPicture is a picture that a record names.
type namedPicture struct {
	pos   schema.Pos
	width int
	below string // its path below the folder pictures; "" where it lies elsewhere
	text  string // as written
	alt   string // the words for people who cannot see it
	noAlt bool   // words are wanted and there are none
	scan  bool   // it is the scan of a source
}

// namedPictures gives every picture that a record or its prose names.
func (s *shared) namedPictures() []namedPicture {
	var list []namedPicture
	add := func(file schema.Text) {
		if file.Value != "" {
			list = append(list, namedPicture{pos: file.Pos, below: file.Value, text: file.Value})
		}
	}
	for _, m := range s.Ref.Models.All() {
		add(m.Picture)
		if m.Plate != nil {
			add(m.Plate.Picture)
		}
	}
	for _, f := range s.Ref.Features.All() {
		add(f.Picture)
		for _, v := range f.Values {
			add(v.Picture)
		}
	}
	for _, e := range s.Ref.Examples.All() {
		for _, picture := range e.Pictures {
			add(picture.File)
			if n := len(list); n > 0 && picture.File.Value != "" {
				list[n-1].alt = picture.Shows.Value
				list[n-1].noAlt = strings.TrimSpace(picture.Shows.Value) == ""
			}
		}
	}
	for _, source := range s.Ref.Sources.All() {
		for _, place := range source.Places {
			if add(place.Scan); place.Scan.Value != "" {
				list[len(list)-1].scan = true
			}
		}
	}
	for _, e := range s.prose() {
		for _, m := range e.images {
			below, _ := pictureBelow(m.text)
			list = append(list, namedPicture{pos: m.pos, width: m.width, below: below, text: m.text, alt: m.alt, noAlt: m.alt == ""})
		}
	}
	return list
}

// pictureBelow gives the path below the folder pictures that prose names:
// "pictures/marks/oval.svg", also as seen from a record's own folder.
func pictureBelow(address string) (string, bool) {
	below, ok := strings.CutPrefix(strings.TrimPrefix(address, "../"), "pictures/")
	if !ok || strings.Contains(below, "..") || strings.ContainsAny(below, ":\\") {
		return "", false
	}
	return below, true
}

func (s *shared) hasPicture(below string) bool {
	_, found := slices.BinarySearch(s.Ref.Pictures, below)
	return found
}
