package bits

import "encoding/binary"

// AppendFront appends s as it differs from the string before it: the number
// of bytes that they share, the number that follow, and those.
func AppendFront(dst []byte, before, s string) []byte {
	shared := 0
	for shared < len(s) && shared < len(before) && s[shared] == before[shared] {
		shared++
	}
	dst = binary.AppendUvarint(dst, uint64(shared))
	return AppendString(dst, s[shared:])
}

// AppendString appends the length of s in bytes, and s.
func AppendString(dst []byte, s string) []byte {
	dst = binary.AppendUvarint(dst, uint64(len(s)))
	return append(dst, s...)
}
