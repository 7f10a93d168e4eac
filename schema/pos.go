package schema

import (
	"cmp"
	"fmt"
	"math"
	"sync"
)

// Pos is a place in a record's file. Every value read from a record keeps one,
// so it is kept small: a file stands in it as a number, and there are no
// pointers for the collector to follow. Equal places compare as equal with ==.
type Pos struct {
	file         fileNumber
	line, column int32
}

// At gives the place in a file: its path below the reference's folder, with
// forward slashes; the line from 1, fences counted; the column from 1, in
// characters, a byte-order mark not counted. Line and column are 0 where only
// the file is known.
func At(file string, line, column int) Pos { return fileNumberOf(file).at(line, column) }

// File is the path below the reference's folder.
func (p Pos) File() string { return p.file.name() }

// Line is the line of the Markdown file, from 1, or 0 where it is not known.
func (p Pos) Line() int { return int(p.line) }

// Column is the place in the line, from 1, in characters.
func (p Pos) Column() int { return int(p.column) }

// IsZero says that the value was not written anywhere.
func (p Pos) IsZero() bool { return p.line == 0 }

// String gives file:line:column, or the file alone where no line is known.
func (p Pos) String() string {
	if p.line == 0 {
		return p.File()
	}
	return fmt.Sprintf("%s:%d:%d", p.File(), p.line, p.column)
}

// Compare orders places by file, line and column.
func (p Pos) Compare(q Pos) int {
	if p.file != q.file { // two numbers are two names
		return cmp.Compare(p.File(), q.File())
	}
	return cmp.Or(cmp.Compare(p.line, q.line), cmp.Compare(p.column, q.column))
}

// moved gives the place so many lines down and columns on.
func (p Pos) moved(lines, columns int) Pos {
	return p.file.at(p.Line()+lines, p.Column()+columns)
}

// Equal says that two places are the same.
func (p Pos) Equal(q Pos) bool { return p == q }

// fileNumber stands for the name of a file, 0 for none.
type fileNumber uint32

// at gives a place in the file.
func (n fileNumber) at(line, column int) Pos {
	return Pos{file: n, line: int32(min(line, math.MaxInt32)), column: int32(min(column, math.MaxInt32))}
}

// files holds the names of files by their numbers. A name once met is kept as
// long as the process lives: there are as many as files were ever read.
var files = struct {
	sync.RWMutex
	numbers map[string]fileNumber
	names   []string
}{numbers: map[string]fileNumber{"": 0}, names: []string{""}}

func fileNumberOf(file string) fileNumber {
	files.RLock()
	n, known := files.numbers[file]
	files.RUnlock()
	if known {
		return n
	}
	files.Lock()
	defer files.Unlock()
	if n, known = files.numbers[file]; !known {
		n = fileNumber(len(files.names))
		files.numbers[file] = n
		files.names = append(files.names, file)
	}
	return n
}

func (n fileNumber) name() string {
	files.RLock()
	defer files.RUnlock()
	return files.names[n]
}
