// Package assets holds what the published site is made of besides its records:
// templates, the style sheet and the JavaScript modules. The style sheet is put
// together from one file for each part of a page; the modules stay apart and
// import each other by relative paths.
package assets

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"path"
	"regexp"
	"strings"
	"sync"
)

//go:embed templates css js
var files embed.FS

// Template gives a template file by name, as in "base.html".
func Template(name string) (string, error) {
	data, err := files.ReadFile("templates/" + name)
	return string(data), err
}

// Templates lists the names of all template files, sorted.
func Templates() []string {
	entries, err := files.ReadDir("templates")
	if err != nil {
		panic("the embedded templates cannot be listed: " + err.Error())
	}
	names := make([]string, 0, len(entries))
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

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

// Scripts gives the modules by their path below the folder js. They share one
// folder, named for the content of all, since they import each other.
var Scripts = sync.OnceValue(func() map[string]Asset {
	var all bytes.Buffer
	found := map[string][]byte{}
	walk("js", ".js", func(name string, data []byte) {
		all.WriteString(name)
		all.WriteByte(0)
		all.Write(data)
		found[name] = data
	})
	folder := AssetFolder + "js-" + hash(all.Bytes())
	scripts := make(map[string]Asset, len(found))
	for name, data := range found {
		scripts[name] = Asset{Path: path.Join(folder, name), Data: data}
	}
	return scripts
})

// imported is a module that another names, by its way from there.
var imported = regexp.MustCompile(`(?m)^import .* from "(\.{1,2}/[^"]+)";$`)

// Imports gives the modules that a module imports, and those that they import,
// each once, in the order in which a browser meets them. The caller must not
// change the slice.
func Imports(name string) []Asset { return allImports()[name] }

var allImports = sync.OnceValue(func() map[string][]Asset {
	all := map[string][]Asset{}
	for name := range Scripts() {
		all[name] = importsOf(name)
	}
	return all
})

func importsOf(name string) []Asset {
	var list []Asset
	met := map[string]bool{name: true}
	for wait := []string{name}; len(wait) > 0; wait = wait[1:] {
		for _, found := range imported.FindAllSubmatch(Scripts()[wait[0]].Data, -1) {
			of := path.Join(path.Dir(wait[0]), string(found[1]))
			if asset, known := Scripts()[of]; known && !met[of] {
				met[of] = true
				list, wait = append(list, asset), append(wait, of)
			}
		}
	}
	return list
}

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
