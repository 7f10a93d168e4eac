// Package made writes invented references of any size: what a club's register
// of a thousand, ten thousand or a hundred thousand records looks like, for
// measuring and for trying the tool by hand. The same options give the same
// bytes. Everything in it is made up from syllables.
package made

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing/fstest"
)

// Options says what to make.
type Options struct {
	Pages int    // how many records; at least Least are made
	Seed  uint64 // another seed, another reference of the same size
}

// Least is the smallest number of records that a made reference has: the
// features and one whole house.
const Least = 60

// Put takes one file of a reference: its path in the folder and its content.
type Put func(file string, data []byte) error

// Each makes the reference and hands over its files one by one, so that none
// need be kept. It ends with the first error that put gives.
func Each(o Options, put Put) error {
	m := &maker{put: put, left: max(o.Pages, Least), seed: o.Seed}
	m.shared()
	for m.number = 0; m.left > 0 && m.err == nil; m.number++ {
		newHouse(m).write()
	}
	return m.err
}

// Write makes the reference in a folder, which it creates.
func Write(folder string, o Options) error {
	return Each(o, func(file string, data []byte) error {
		to := filepath.Join(folder, filepath.FromSlash(file))
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		return os.WriteFile(to, data, 0o644)
	})
}

// FS makes the reference in memory.
func FS(o Options) fs.FS {
	files := map[string][]byte{}
	err := Each(o, func(file string, data []byte) error {
		files[file] = data
		return nil
	})
	if err != nil {
		panic("a map takes every file: " + err.Error())
	}
	return Files(files)
}

// Files makes a file system of files by path.
func Files(files map[string][]byte) fs.FS {
	all := fstest.MapFS{}
	for file, data := range files {
		all[file] = &fstest.MapFile{Data: data, Mode: 0o644}
	}
	return all
}

// maker counts the records and passes the files on.
type maker struct {
	put    Put
	err    error
	left   int // records still to be made
	number int // of the house
	seed   uint64
}

// dice gives the randomness of one house, the same whatever was made before.
func (m *maker) dice() *rand.Rand { return rand.New(rand.NewPCG(m.seed, uint64(m.number)+1)) }

// record writes one record, if there is still room for it.
func (m *maker) record(file, text string) {
	if m.left > 0 {
		m.left--
		m.file(file, text)
	}
}

func (m *maker) file(file, text string) {
	if m.err == nil {
		m.err = m.put(file, []byte(text))
	}
}

// line is Sprintf with an end of line.
func line(format string, with ...any) string { return fmt.Sprintf(format, with...) + "\n" }
