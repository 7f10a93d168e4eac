package output

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// MarkFile is the file by which Yearmark knows a site that it wrote.
const MarkFile = "yearmark-site.json"

const maxMarkBytes = 256 << 20

// Mark is what MarkFile says.
type Mark struct {
	WrittenBy string `json:"writtenBy"` // always "yearmark"
	Name      string `json:"name"`      // the reference
	Edition   string `json:"edition"`   // its date
	Hash      string `json:"hash"`      // its content hash
	// Files are all that Yearmark wrote beside the mark, sorted, with forward
	// slashes. Whatever else stands in the folder is a person's.
	Files []string `json:"files"`
}

// readMark reads the mark of a site; ok is false where there is none.
func readMark(site string) (m Mark, ok bool, err error) {
	file := filepath.Join(site, MarkFile)
	if info, err := os.Lstat(file); err != nil || !info.Mode().IsRegular() {
		return Mark{}, false, nil
	}
	f, err := os.Open(file)
	if err != nil {
		return Mark{}, false, fmt.Errorf("cannot read %s: %w", file, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxMarkBytes))
	if err != nil {
		return Mark{}, false, fmt.Errorf("cannot read %s: %w", file, err)
	}
	if json.Unmarshal(data, &m) != nil || m.WrittenBy != "yearmark" {
		return Mark{}, false, nil
	}
	for _, name := range m.Files {
		if !isPlain(name) {
			return Mark{}, false, fmt.Errorf("%s names %q, which lies outside the site; delete that name from its list of files, then publish again", file, name)
		}
	}
	return m, true, nil
}

// Pages lists the pages of a site that Yearmark wrote earlier; none where there
// is no such site.
func Pages(site string) []string {
	m, ok, err := readMark(site)
	if !ok || err != nil {
		return nil
	}
	return slices.DeleteFunc(m.Files, func(name string) bool { return !strings.HasSuffix(name, ".html") })
}

// Lost lists those of the pages of an earlier edition that a site no longer has:
// links to them from elsewhere lead nowhere now.
func Lost(site string, before []string) []string {
	now := Pages(site)
	return slices.DeleteFunc(slices.Clone(before), func(page string) bool { return slices.Contains(now, page) })
}

// isPlain says whether a path of a site is relative, without detours, and the
// same on every system.
func isPlain(name string) bool {
	return filepath.IsLocal(filepath.FromSlash(name)) && path.Clean(name) == name && !strings.ContainsAny(name, "\\\x00")
}

func (m Mark) encode() ([]byte, error) {
	m.WrittenBy = "yearmark"
	slices.Sort(m.Files)
	data, err := json.MarshalIndent(m, "", " ")
	return append(data, '\n'), err
}

// written is what an earlier publish wrote into a site.
type written struct {
	files, folders map[string]bool // nil where the mark lists no files
}

func writtenBy(m Mark) written {
	if m.Files == nil {
		return written{}
	}
	w := written{map[string]bool{MarkFile: true}, map[string]bool{".": true}}
	for _, name := range m.Files {
		w.files[name] = true
		for folder := path.Dir(name); !w.folders[folder]; folder = path.Dir(folder) {
			w.folders[folder] = true
		}
	}
	return w
}

// file says whether Yearmark wrote the file of that path.
func (w written) file(name string) bool {
	if w.files != nil {
		return w.files[name]
	}
	top, below, deep := strings.Cut(name, "/")
	switch {
	case strings.HasPrefix(path.Base(name), "."):
		return false
	case !deep:
		return slices.Contains(unlistedFiles, name)
	case slices.Contains(unlistedRecords, top):
		return path.Ext(name) == ".html" && !strings.Contains(below, "/")
	}
	return slices.Contains(unlistedFolders, top) && !strings.Contains(name, "/.")
}

// folder says whether Yearmark made the folder of that path.
func (w written) folder(name string) bool {
	if w.files != nil {
		return w.folders[name]
	}
	top, _, deep := strings.Cut(name, "/")
	return name == "." || !deep && slices.Contains(unlistedRecords, top) || slices.Contains(unlistedFolders, top) && !strings.Contains(name, "/.")
}

// Sites written before marks listed files hold these, and nothing else of ours.
var (
	unlistedFiles = []string{
		MarkFile, "index.html", "date.html", "search.html", "open-questions.html", "odds.html", "checks.html", "data.html",
		"editions.html", "census.html", "feed.atom", "sitemap.xml",
	}
	unlistedRecords = []string{"makers", "models", "features", "sources", "examples", "pages"} // pages only
	unlistedFolders = []string{"assets", "data", "pictures"}                                   // and all below them
)
