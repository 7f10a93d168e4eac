package schema

import (
	"cmp"
	"fmt"
	"sync"
)

// Pos is a place in a record's file. Every value read from a record keeps one,
// so it is kept small: a file stands in it as a number, beside line and column
// in one word. Equal places compare as equal with ==.
type Pos struct{ packed uint64 }

// The parts of a packed place, from the top: file, line, column.
const (
	lineBits   = 20
	columnBits = 20
	fileBits   = 64 - lineBits - columnBits
)

// At gives the place in a file: its path below the reference's folder, with
// forward slashes; the line from 1, fences counted; the column from 1, in
// characters, a byte-order mark not counted. Line and column are 0 where only
// the file is known; beyond a million they stay at 1,048,575.
func At(file string, line, column int) Pos { return fileNumberOf(file).at(line, column) }

// File is the path below the reference's folder.
func (p Pos) File() string { return p.file().name() }

func (p Pos) file() fileNumber { return fileNumber(p.packed >> (lineBits + columnBits)) }

// Line is the line of the Markdown file, from 1, or 0 where it is not known.
func (p Pos) Line() int { return int(p.packed >> columnBits & (1<<lineBits - 1)) }

// Column is the place in the line, from 1, in characters.
func (p Pos) Column() int { return int(p.packed & (1<<columnBits - 1)) }

// IsZero says that the value was not written anywhere.
func (p Pos) IsZero() bool { return p.Line() == 0 }

// String gives file:line:column, or the file alone where no line is known.
func (p Pos) String() string {
	if p.IsZero() {
		return p.File()
	}
	return fmt.Sprintf("%s:%d:%d", p.File(), p.Line(), p.Column())
}

// Compare orders places by file, line and column.
func (p Pos) Compare(q Pos) int {
	if p.file() != q.file() { // two numbers are two names
		return cmp.Compare(p.File(), q.File())
	}
	return cmp.Compare(p.packed, q.packed)
}

// moved gives the place so many lines down and columns on.
func (p Pos) moved(lines, columns int) Pos {
	return p.file().at(p.Line()+lines, p.Column()+columns)
}

// Equal says that two places are the same.
func (p Pos) Equal(q Pos) bool { return p == q }

// fileNumber stands for the name of a file, 0 for none.
type fileNumber uint32

// at gives a place in the file.
func (n fileNumber) at(line, column int) Pos {
	line, column = min(max(line, 0), 1<<lineBits-1), min(max(column, 0), 1<<columnBits-1)
	return Pos{uint64(n)<<(lineBits+columnBits) | uint64(line)<<columnBits | uint64(column)}
}

// fileNames holds the names of files by their numbers. A name once met is kept as
// long as the process lives: there are as many as files were ever read. Of more
// than 16 million the names of the last are not kept.
var fileNames = struct {
	sync.RWMutex
	numbers map[string]fileNumber
	names   []string
}{numbers: map[string]fileNumber{"": 0}, names: []string{""}}

func fileNumberOf(file string) fileNumber {
	fileNames.RLock()
	n, known := fileNames.numbers[file]
	fileNames.RUnlock()
	if known {
		return n
	}
	fileNames.Lock()
	defer fileNames.Unlock()
	if n, known = fileNames.numbers[file]; !known && len(fileNames.names) < 1<<fileBits {
		n = fileNumber(len(fileNames.names))
		fileNames.numbers[file] = n
		fileNames.names = append(fileNames.names, file)
	}
	return n
}

func (n fileNumber) name() string {
	fileNames.RLock()
	defer fileNames.RUnlock()
	return fileNames.names[n]
}
