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

// Make is Photo.Make that takes from the cache what it has, and decodes only
// where it lacks something. A cache that cannot be read or written is passed over.
func (c Cache) Make(p *Photo, data []byte, versions []Size, use func(version Size, made []byte) error) error {
	if c.Folder == "" {
		return p.Make(data, versions, use)
	}
	sum := sha256.Sum256(data)
	file := func(version Size) string {
		return c.file(sum, fmt.Sprintf("%d %d %v", version.Width, quality, version.region))
	}
	var lacking []Size
	for _, version := range versions {
		kept, err := files.Read(file(version), 1<<30)
		if err != nil || len(kept) == 0 {
			lacking = append(lacking, version)
		} else if err := use(version, kept); err != nil {
			return err
		}
	}
	return p.Make(data, lacking, func(version Size, made []byte) error {
		c.keep(file(version), made)
		return use(version, made)
	})
}

// Sound is checks.Sound that remembers which photographs were sound.
func (c Cache) Sound(data []byte) error {
	if c.Folder == "" {
		return checks.Sound(data)
	}
	file := c.file(sha256.Sum256(data), "sound")
	if _, err := os.Stat(file); err == nil {
		return nil
	}
	err := checks.Sound(data)
	if err == nil {
		c.keep(file, []byte("sound\n"))
	}
	return err
}

// file names what is made in some manner of data with a sum.
func (c Cache) file(sum [sha256.Size]byte, how string) string {
	whole := sha256.Sum256(fmt.Appendf(nil, "%s %s\n%x", recipe, how, sum))
	return filepath.Join(c.Folder, hex.EncodeToString(whole[:]))
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
