package bits

import (
	"bytes"
	"compress/flate"
	"sync"
)

// The first byte of a packed file says how the rest is kept.
const (
	plain    = 0
	deflated = 1
)

var deflaters = sync.Pool{New: func() any {
	w, err := flate.NewWriter(nil, flate.BestCompression)
	if err != nil {
		panic("BUG: flate refuses its own best level: " + err.Error())
	}
	return w
}}

// Pack gives a file's bytes as they are served: deflated where that saves
// an eighth, after one byte that says so. A host need not compress it, and the page need not
// inflate what is tight already.
func Pack(data []byte) []byte {
	var out bytes.Buffer
	out.WriteByte(deflated)
	w := deflaters.Get().(*flate.Writer)
	defer deflaters.Put(w)
	w.Reset(&out)
	_, err := w.Write(data)
	if err == nil {
		err = w.Close()
	}
	if err != nil || out.Len() > len(data)*7/8 {
		return append([]byte{plain}, data...)
	}
	return out.Bytes()
}
