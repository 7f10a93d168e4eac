// Package assets holds what the published site is made of besides its records:
// the style sheet and the scripts. The style sheet is put together
// from one file for each part of a page, a script from the modules that it
// imports; the modules themselves are not in the program.
package assets

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"strings"
	"sync"
)

//go:embed css bundles
var files embed.FS

// Asset is one file of the site that pages refer to. Its name carries a hash
// of its content, so that it may be kept for ever.
type Asset struct {
	Path string // relative to the site's root
	Data []byte
}

// AssetFolder is where assets are kept.
const AssetFolder = "assets/"

// Style gives the style sheet: the files of the folder css in order of name.
var Style = sync.OnceValue(func() Asset {
	var sheet bytes.Buffer
	walk("css", ".css", func(_ string, data []byte) {
		sheet.Write(squeeze(data))
	})
	return Asset{Path: AssetFolder + "site-" + hash(sheet.Bytes()) + ".css", Data: sheet.Bytes()}
})

// Scripts gives the scripts by name, as in "date.js", one for each kind of page
// that has one. Each is a single classic script in which esbuild bundled the
// modules of the folder js; make generate writes them.
var Scripts = sync.OnceValue(func() map[string]Asset {
	scripts := map[string]Asset{}
	walk("bundles", ".js", func(name string, data []byte) {
		stem := strings.TrimSuffix(name, ".js")
		scripts[name] = Asset{Path: AssetFolder + stem + "-" + hash(data) + ".js", Data: data}
	})
	return scripts
})

// walk calls do for every file below a folder, in order of path.
func walk(folder, ending string, do func(name string, data []byte)) {
	err := fs.WalkDir(files, folder, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.HasSuffix(name, ending) {
			return err
		}
		data, err := files.ReadFile(name)
		if err == nil {
			do(strings.TrimPrefix(name, folder+"/"), data)
		}
		return err
	})
	if err != nil {
		panic("the embedded files cannot be read: " + err.Error())
	}
}

// squeeze drops the comments and the indentation of a style sheet. The sheets
// here hold no string with a comment sign in it.
func squeeze(css []byte) []byte {
	var out bytes.Buffer
	for {
		before, rest, found := bytes.Cut(css, []byte("/*"))
		out.Write(before)
		if !found {
			break
		}
		_, css, _ = bytes.Cut(rest, []byte("*/"))
	}
	var lines bytes.Buffer
	for line := range bytes.Lines(out.Bytes()) {
		if line = bytes.TrimSpace(line); len(line) > 0 {
			lines.Write(line)
			lines.WriteByte('\n')
		}
	}
	return lines.Bytes()
}

func hash(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:5])
}
