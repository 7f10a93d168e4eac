package pages

import (
	"io/fs"
	"path"
	"strings"

	"yearmark/checks"
)

// picturesFolder is where pictures are kept, in the reference and on the site.
const picturesFolder = "pictures/"

// largestPicture is the largest drawing that is copied, in bytes.
const largestPicture = 1 << 20

// addPictures adds every drawing that is safe to show. A drawing that is not
// is left out, and pages do without it; the checker says why.
func (s *Site) addPictures() {
	s.images = map[string]bool{}
	if s.facts.Files == nil {
		return
	}
	for _, name := range s.ref.Pictures {
		if strings.ToLower(path.Ext(name)) != ".svg" {
			continue
		}
		data, err := readPicture(s.facts.Files, picturesFolder+name)
		if err != nil || len(checks.InspectSVG(data)) > 0 {
			continue
		}
		s.images[name] = true
		s.add(picturesFolder+name, func() ([]byte, error) { return readPicture(s.facts.Files, picturesFolder+name) })
	}
}

func readPicture(files fs.FS, name string) ([]byte, error) {
	info, err := fs.Stat(files, name)
	if err != nil {
		return nil, err
	}
	if info.Size() > largestPicture {
		return nil, &fs.PathError{Op: "read", Path: name, Err: fs.ErrInvalid}
	}
	return fs.ReadFile(files, name)
}

// picture gives the way to a picture from this page, or an empty text where
// the site does not show it.
func (p *page) picture(name string) string {
	if name == "" || !p.images[name] {
		return ""
	}
	return p.to(picturesFolder + name)
}
