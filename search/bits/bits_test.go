package bits

import (
	"bytes"
	"compress/flate"
	"fmt"
	"io"
	"strings"
	"testing"
)

// written shows what a writer wrote, bit by bit, cut to n bits.
func written(n int, write func(*Writer)) string {
	var w Writer
	write(&w)
	var b strings.Builder
	for _, x := range w.Bytes() {
		fmt.Fprintf(&b, "%08b", x)
	}
	return b.String()[:n]
}

// TestCodes holds the codes to their published tables: the gamma code of P.
// Elias, Universal codeword sets, IEEE Trans. IT-21 (1975), and Golomb's code for
// powers of two as R. F. Rice gave it, here with noughts ended by a one for the unary part.
func TestCodes(t *testing.T) {
	for _, c := range []struct {
		name, want string
		write      func(*Writer)
	}{
		{"gamma 1", "1", func(w *Writer) { w.Gamma(1) }},
		{"gamma 2", "010", func(w *Writer) { w.Gamma(2) }},
		{"gamma 3", "011", func(w *Writer) { w.Gamma(3) }},
		{"gamma 8", "0001000", func(w *Writer) { w.Gamma(8) }},
		{"gamma 17", "000010001", func(w *Writer) { w.Gamma(17) }},
		{"rice 0 of 4", "100", func(w *Writer) { w.Rice(0, 2) }},
		{"rice 7 of 4", "0111", func(w *Writer) { w.Rice(7, 2) }},
		{"rice 18 of 8", "001010", func(w *Writer) { w.Rice(18, 3) }},
		{"unary 40", strings.Repeat("0", 40) + "1", func(w *Writer) { w.Unary(40) }},
		{"wide bits", "1" + strings.Repeat("01", 28), func(w *Writer) { w.Flag(true); w.Bits(0x55555555555555, 56) }},
	} {
		if got := written(len(c.want), c.write); got != c.want {
			t.Errorf("%s: got %s, want %s", c.name, got, c.want)
		}
	}
}

// riceCost is how many bits values take by the code of Golomb and Rice (R. F.
// Rice, 1979): v/2^k in unary with its end, then k bits.
func riceCost(values []uint32, k int) (bits int) {
	for _, v := range values {
		bits += int(v>>k) + 1 + k
	}
	return bits
}

func TestBestRiceTakesTheFewestBits(t *testing.T) {
	for _, values := range [][]uint32{nil, {0}, {0, 0, 0}, {1, 2, 3}, {100, 3, 250, 17}, {0, 0, 5000}, {1 << 31}} {
		k := BestRice(values)
		for other := range MaxRice + 1 {
			if riceCost(values, other) < riceCost(values, k)*9/10 {
				t.Errorf("%v: the parameter %d takes %d bits, %d takes %d", values, k, riceCost(values, k), other, riceCost(values, other))
			}
		}
	}
}

func TestPack(t *testing.T) {
	for _, data := range []string{"", "x", strings.Repeat("oval mark ", 100), "\x00\x01\x02\x03"} {
		packed := Pack([]byte(data))
		var got []byte
		switch packed[0] {
		case plain:
			got = packed[1:]
		case deflated:
			var err error
			if got, err = io.ReadAll(flate.NewReader(bytes.NewReader(packed[1:]))); err != nil {
				t.Fatal(err)
			}
		}
		if string(got) != data || len(packed) > len(data)+1 {
			t.Errorf("%q comes back as %q from %d bytes", data, got, len(packed))
		}
	}
}

func TestAppendFront(t *testing.T) {
	b := AppendFront(nil, "", "padauk")
	b = AppendFront(b, "padauk", "padded")
	if want := "\x00\x06padauk\x03\x03ded"; string(b) != want {
		t.Errorf("got %q, want %q", b, want)
	}
}
