// Package bits packs ascending numbers and strings tightly enough that no
// compression on the way gains much. The module
// site/assets/js/search/bits.js reads what it writes.
package bits

import (
	"encoding/binary"
	"math/bits"
)

// Writer gathers bits, the highest of each byte first. The zero Writer is ready.
type Writer struct {
	bytes []byte
	held  uint64 // the bits not yet written out, right-aligned
	count int    // how many there are, fewer than 32 between calls
}

// Bits writes the lowest n bits of v, n at most 56.
func (w *Writer) Bits(v uint64, n int) {
	if n > 32 {
		w.Bits(v>>32, n-32)
		n = 32
	}
	w.held = w.held<<n | v&(1<<n-1)
	if w.count += n; w.count >= 32 {
		w.count -= 32
		w.bytes = binary.BigEndian.AppendUint32(w.bytes, uint32(w.held>>w.count))
	}
}

// Flag writes one bit.
func (w *Writer) Flag(yes bool) {
	if yes {
		w.Bits(1, 1)
	} else {
		w.Bits(0, 1)
	}
}

// Unary writes v noughts and a one.
func (w *Writer) Unary(v uint64) {
	for ; v >= 32; v -= 32 {
		w.Bits(0, 32)
	}
	w.Bits(1, int(v)+1)
}

// Rice writes v by the code of Golomb and Rice: v/2^k in unary, then k bits.
func (w *Writer) Rice(v uint64, k int) {
	w.Unary(v >> k)
	w.Bits(v, k)
}

// Gamma writes v, 1 or more, by the gamma code of Elias.
func (w *Writer) Gamma(v uint64) {
	n := bits.Len64(v) - 1
	w.Unary(uint64(n))
	w.Bits(v, n)
}

// Bytes fills the last byte with noughts and gives all of them.
func (w *Writer) Bytes() []byte {
	if rest := w.count % 8; rest > 0 {
		w.Bits(0, 8-rest)
	}
	for ; w.count > 0; w.count -= 8 {
		w.bytes = append(w.bytes, byte(w.held>>(w.count-8)))
	}
	return w.bytes
}

// Reset empties the writer and keeps its buffer.
func (w *Writer) Reset() { w.bytes, w.held, w.count = w.bytes[:0], 0, 0 }

// MaxRice is the greatest parameter that BestRice gives.
const MaxRice = 31

// BestRice gives the parameter by which the values take the fewest bits, the
// least such.
func BestRice(values []uint32) int {
	if len(values) == 0 {
		return 0
	}
	sum := uint64(0)
	for _, v := range values {
		sum += uint64(v)
	}
	guess := min(max(0, bits.Len64(sum/uint64(len(values)))-1), MaxRice)
	first := max(0, guess-1)
	var costs [3]uint64 // of the first parameter and the two after it
	for _, v := range values {
		v >>= first
		costs[0] += uint64(v)
		costs[1] += uint64(v >> 1)
		costs[2] += uint64(v >> 2)
	}
	best, least := 0, ^uint64(0)
	for k := first; k <= min(guess+1, MaxRice); k++ {
		if cost := uint64(len(values))*uint64(k+1) + costs[k-first]; cost < least {
			best, least = k, cost
		}
	}
	return best
}

// gammaCode is the parameter that stands for the gamma code.
const gammaCode = 7

// Counts chooses, for small numbers, 1 or more, the code that takes the fewest
// bits, and writes which it is in three bits.
func (w *Writer) Counts(values []uint32) CountCode {
	gamma := uint64(0)
	var costs [3]uint64 // by the code of Golomb and Rice with each parameter
	for _, v := range values {
		gamma += uint64(2*bits.Len32(v) - 1)
		costs[0] += uint64(v - 1)
		costs[1] += uint64((v - 1) >> 1)
		costs[2] += uint64((v - 1) >> 2)
	}
	code, least := CountCode(gammaCode), gamma
	for k, cost := range costs {
		if cost += uint64(len(values)) * uint64(k+1); cost < least {
			code, least = CountCode(k), cost
		}
	}
	w.Bits(uint64(code), 3)
	return code
}

// CountCode is the code chosen for small numbers.
type CountCode int

// Count writes one of the numbers for which the code was chosen.
func (w *Writer) Count(v uint64, code CountCode) {
	if code == gammaCode {
		w.Gamma(v)
		return
	}
	w.Rice(v-1, int(code))
}
