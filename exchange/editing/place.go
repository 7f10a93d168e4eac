package editing

import (
	"bytes"
	"strconv"
	"unicode/utf8"

	"yearmark/schema"
)

// Offset is the byte of a place in a file, or its length where there is no such place.
func Offset(source []byte, at schema.Pos) int {
	offset := 0
	for line := 1; line < at.Line(); line++ {
		next := bytes.IndexByte(source[offset:], '\n')
		if next < 0 {
			return len(source)
		}
		offset += next + 1
	}
	for column := 1; column < at.Column() && offset < len(source); column++ {
		_, size := utf8.DecodeRune(source[offset:])
		offset += size
	}
	return offset
}

// PathAt gives the path of the innermost value that a byte of the file lies in;
// it is empty of a byte outside all of them.
func PathAt(top *schema.Located, offset int) []string {
	var path []string
	for top != nil {
		var next *schema.Located
		for i, item := range top.Items {
			if offset >= item.Start && offset < max(item.End, item.Start+1) {
				path, next = append(path, strconv.Itoa(i)), item
			}
		}
		for _, k := range top.Keys {
			if offset >= k.Start && offset < max(k.Value.End, k.End) {
				path, next = append(path, k.Name), k.Value
			}
		}
		top = next
	}
	return path
}
