package pictures

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"yearmark/checks"
	"yearmark/schema/files"
)

// recipe changes whenever the same photograph would be made into other bytes.
var recipe = "2 " + runtime.Version()

// Cache keeps versions by the content that they were made from, so that an
// unchanged photograph costs nothing the next time. The zero Cache keeps none.
type Cache struct{ Folder string }

// UserCache is the cache in the user's own folder for such things, or none
// where the system has no such folder.
func UserCache() Cache {
	folder, err := os.UserCacheDir()
	if err != nil {
		return Cache{}
	}
	c := Cache{filepath.Join(folder, "yearmark", "pictures")}
	c.sweep()
	return c
}

// A part is written in a moment; one of that age was left by a run that was
// ended in the midst of it.
const (
	partName = ".part-*"
	partAge  = time.Minute
)

// sweep clears what interrupted runs left in the cache.
func (c Cache) sweep() {
	parts, _ := filepath.Glob(filepath.Join(c.Folder, partName))
	for _, part := range parts {
		if info, err := os.Lstat(part); err == nil && time.Since(info.ModTime()) > partAge {
			_ = os.Remove(part)
		}
	}
}

// Make gives the bytes of a version, from the cache where it has them. A cache
// that cannot be read or written is passed over.
func (c Cache) Make(p *Photo, data []byte, version Size) ([]byte, error) {
	if c.Folder == "" {
		return p.Make(data, version)
	}
	how := fmt.Sprintf("%d %d", version.Width, quality)
	if !p.region.Empty() {
		how += " " + p.region.String()
	}
	file := c.file(data, how)
	if kept, err := files.Read(file, 1<<30); err == nil && len(kept) > 0 {
		return kept, nil
	}
	made, err := p.Make(data, version)
	if err == nil {
		c.keep(file, made)
	}
	return made, err
}

// Sound is checks.Sound that remembers which photographs were sound.
func (c Cache) Sound(data []byte) error {
	if c.Folder == "" {
		return checks.Sound(data)
	}
	file := c.file(data, "sound")
	if _, err := os.Stat(file); err == nil {
		return nil
	}
	err := checks.Sound(data)
	if err == nil {
		c.keep(file, []byte("sound\n"))
	}
	return err
}

// file names what is made of some data in some manner.
func (c Cache) file(data []byte, how string) string {
	h := sha256.New()
	fmt.Fprintf(h, "%s %s\n", recipe, how)
	h.Write(data)
	return filepath.Join(c.Folder, hex.EncodeToString(h.Sum(nil)))
}

// keep writes by a rename, so that nobody reads half a file.
func (c Cache) keep(file string, data []byte) {
	if os.MkdirAll(c.Folder, 0o755) != nil {
		return
	}
	part, err := os.CreateTemp(c.Folder, partName)
	if err != nil {
		return
	}
	_, err = part.Write(data)
	if closed := part.Close(); err != nil || closed != nil || os.Rename(part.Name(), file) != nil {
		_ = os.Remove(part.Name())
	}
}
