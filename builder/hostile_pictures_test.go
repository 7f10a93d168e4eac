package builder_test

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"
)

// pngStart begins every PNG (PNG, third edition, section 5.2).
const pngStart = "\x89PNG\r\n\x1a\n"

// madePicture makes the bytes of a picture that a cell of the tables names.
func madePicture(t testing.TB, call string) string {
	t.Helper()
	name, rest, _ := strings.Cut(call, "(")
	var w, h int
	_, _ = fmt.Sscanf(strings.TrimSuffix(rest, ")"), "%d,%d", &w, &h)
	switch name {
	case "png-head": // claims a size and has no pixels
		return pngStart + pngChunk("IHDR", pngSize(w, h, 8)) + pngChunk("IDAT", "") + pngChunk("IEND", "")
	case "png-bomb": // is that size, all of one colour, in very few bytes
		return pngStart + pngChunk("IHDR", pngSize(w, h, 8)) + pngChunk("IDAT", zeros(t, h*(1+3*w))) + pngChunk("IEND", "")
	case "png":
		return encoded(t, func(b *bytes.Buffer) error { return png.Encode(b, image.NewGray(image.Rect(0, 0, w, h))) })
	case "png-text": // with a secret in its text
		whole := madePicture(t, fmt.Sprintf("png(%d,%d)", w, h))
		return whole[:33] + pngChunk("tEXt", "Comment\x00"+hostileSecret) + whole[33:]
	case "png-cut":
		whole := encoded(t, func(b *bytes.Buffer) error { return png.Encode(b, noise{w, h}) })
		return whole[:len(whole)*2/3]
	case "png-bad-sum":
		whole := []byte(madePicture(t, fmt.Sprintf("png(%d,%d)", w, h)))
		whole[30] ^= 0xff
		return string(whole)
	case "jpeg":
		return encoded(t, func(b *bytes.Buffer) error { return jpeg.Encode(b, image.NewGray(image.Rect(0, 0, w, h)), nil) })
	case "jpeg-cut":
		whole := encoded(t, func(b *bytes.Buffer) error { return jpeg.Encode(b, noise{w, h}, nil) })
		return whole[:len(whole)*2/3]
	case "jpeg-text": // with a secret and a script in its comment
		whole := madePicture(t, fmt.Sprintf("jpeg(%d,%d)", w, h))
		text := hostileSecret + "<script>window.ran=1</script>"
		return whole[:2] + "\xff\xfe\x00" + string(rune(len(text)+2)) + text + whole[2:]
	case "jpeg-head": // claims a size and has no pixels
		return "\xff\xd8\xff\xc0\x00\x0b\x08" + string([]byte{byte(h >> 8), byte(h), byte(w >> 8), byte(w)}) + "\x01\x01\x11\x00\xff\xd9"
	case "gif":
		return encoded(t, func(b *bytes.Buffer) error {
			return gif.Encode(b, image.NewPaletted(image.Rect(0, 0, w, h), color.Palette{color.Black}), nil)
		})
	}
	t.Fatalf("no picture is made by %q", call)
	return ""
}

func encoded(t testing.TB, encode func(*bytes.Buffer) error) string {
	t.Helper()
	var b bytes.Buffer
	if err := encode(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func pngSize(w, h int, depth byte) string {
	var b bytes.Buffer
	_ = binary.Write(&b, binary.BigEndian, []uint32{uint32(w), uint32(h)})
	b.Write([]byte{depth, 2, 0, 0, 0})
	return b.String()
}

func pngChunk(kind, data string) string {
	var b bytes.Buffer
	_ = binary.Write(&b, binary.BigEndian, uint32(len(data)))
	b.WriteString(kind + data)
	_ = binary.Write(&b, binary.BigEndian, crc32.ChecksumIEEE([]byte(kind+data)))
	return b.String()
}

// zeros compresses so many bytes of nothing.
func zeros(t testing.TB, n int) string {
	return encoded(t, func(b *bytes.Buffer) error {
		w, none := zlib.NewWriter(b), make([]byte, 1<<20)
		for ; n > 0; n -= len(none) {
			if _, err := w.Write(none[:min(n, len(none))]); err != nil {
				return err
			}
		}
		return w.Close()
	})
}

// noise is a picture that does not compress.
type noise struct{ w, h int }

func (n noise) ColorModel() color.Model { return color.GrayModel }
func (n noise) Bounds() image.Rectangle { return image.Rect(0, 0, n.w, n.h) }
func (n noise) At(x, y int) color.Color {
	return color.Gray{Y: uint8((x*7919 + y*104729) * 2654435761 >> 13)}
}
