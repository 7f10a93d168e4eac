package checks

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/jpeg"
	"runtime"
	"strings"
	"testing"
)

// blankPNG is a PNG of any colour type and depth whose bytes are all nought
// (PNG, third edition, chapters 8 and 11). Without pixels only its head is there.
func blankPNG(t *testing.T, w, h int, depth, colour byte, interlaced, pixels bool) []byte {
	t.Helper()
	var b bytes.Buffer
	put := func(kind string, data []byte) {
		_ = binary.Write(&b, binary.BigEndian, uint32(len(data)))
		b.WriteString(kind)
		b.Write(data)
		_ = binary.Write(&b, binary.BigEndian, crc32.ChecksumIEEE(append([]byte(kind), data...)))
	}
	b.WriteString("\x89PNG\r\n\x1a\n")
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(w)), uint32(h))
	passes := [][4]int{{0, 0, 1, 1}}
	if interlaced {
		passes = [][4]int{{0, 0, 8, 8}, {4, 0, 8, 8}, {0, 4, 4, 8}, {2, 0, 4, 4}, {0, 2, 2, 4}, {1, 0, 2, 2}, {0, 1, 1, 2}}
	}
	head = append(head, depth, colour, 0, 0, byte(len(passes)/7))
	put("IHDR", head)
	if colour == 3 {
		put("PLTE", make([]byte, 3*256))
	}
	if pixels {
		var packed bytes.Buffer
		z := zlib.NewWriter(&packed)
		bits := int(depth) * map[byte]int{0: 1, 2: 3, 3: 1, 4: 2, 6: 4}[colour]
		for _, p := range passes {
			pw, ph := (w-p[0]+p[2]-1)/p[2], (h-p[1]+p[3]-1)/p[3]
			_, _ = z.Write(make([]byte, ph*(1+(pw*bits+7)/8)))
		}
		_ = z.Close()
		put("IDAT", packed.Bytes())
		put("IEND", nil)
	}
	return b.Bytes()
}

// TestPhotoMemory holds what is reckoned for a photograph to what Go's
// decoder takes from the heap: never more, and not much less.
func TestPhotoMemory(t *testing.T) {
	photos := map[string][]byte{}
	for _, kind := range [][2]byte{{1, 0}, {8, 0}, {16, 0}, {8, 2}, {16, 2}, {8, 3}, {8, 4}, {16, 4}, {8, 6}, {16, 6}} {
		for _, interlaced := range []bool{false, true} {
			photos[fmt.Sprintf("PNG depth %d colour %d interlaced %v", kind[0], kind[1], interlaced)] = blankPNG(t, 1601, 1203, kind[0], kind[1], interlaced, true)
		}
	}
	var grey, colour bytes.Buffer
	if err := errors.Join(jpeg.Encode(&grey, image.NewGray(image.Rect(0, 0, 1601, 1203)), nil), jpeg.Encode(&colour, image.NewRGBA(image.Rect(0, 0, 1601, 1203)), nil)); err != nil {
		t.Fatal(err)
	}
	photos["JPEG grey"], photos["JPEG"] = grey.Bytes(), colour.Bytes()
	photos["JPEG progressive"] = progressive(colour.Bytes())
	photos["JPEG in red, green and blue"] = bytes.Replace(colour.Bytes(), []byte("\xff\xd8"), []byte("\xff\xd8\xff\xee\x00\x0eAdobe\x00\x64\x00\x00\x00\x00\x00"), 1)
	for name, data := range photos {
		head, err := ReadPhotoHead(data)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		err = WithPixels(data, func(image.Image, string) error { return nil })
		runtime.ReadMemStats(&after)
		if err != nil && name != "JPEG progressive" { // which has no right scans
			t.Errorf("%s: %v", name, err)
		}
		const own = 256 << 10 // the decoder's own
		if took := int64(after.TotalAlloc - before.TotalAlloc); took > head.Memory+own || took < head.Memory*2/3 {
			t.Errorf("%s: took %d, reckoned %d", name, took, head.Memory)
		}
	}
}

// progressive makes a JPEG say that it is progressive, and that its scan holds
// the first coefficients alone.
func progressive(data []byte) []byte {
	data = bytes.Replace(data, []byte("\xff\xc0"), []byte("\xff\xc2"), 1)
	return bytes.Replace(data, []byte("\x00\x3f\x00"), []byte("\x00\x00\x00"), 1)
}

// TestPhotosTooLarge: what would take more than all may take is refused before
// it is opened, and of the size that the remedy names it is not.
func TestPhotosTooLarge(t *testing.T) {
	for _, c := range []struct {
		w, h          int
		depth, colour byte
		interlaced    bool
		says          string
	}{
		{14000, 7000, 16, 6, false, "take 747 MB to open, more than 512 MB"}, {14000, 7000, 16, 2, true, "more than 512 MB"},
		{9000, 9000, 8, 6, true, "more than 512 MB"}, {20000, 20000, 8, 0, false, "more than a hundred million"}, {90000, 1200, 8, 0, false, "more than a hundred million"},
	} {
		_, err := ReadPhotoHead(blankPNG(t, c.w, c.h, c.depth, c.colour, c.interlaced, false))
		var large *TooLargeError
		if !errors.As(err, &large) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v", c, err)
			continue
		}
		var w, h int
		if _, err := fmt.Sscanf(large.Remedy(), "Scale it down to %d by %d pixels", &w, &h); err != nil {
			t.Fatalf("%q: %v", large.Remedy(), err)
		}
		if _, err := ReadPhotoHead(blankPNG(t, w, h, c.depth, c.colour, c.interlaced, false)); err != nil {
			t.Errorf("%+v: of the size that the remedy names: %v", c, err)
		}
	}
	for name, data := range map[string][]byte{"98 million, 8 bits": blankPNG(t, 14000, 7000, 8, 6, false, false), "grey": blankPNG(t, 14000, 7000, 8, 0, true, false)} {
		if _, err := ReadPhotoHead(data); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	odd := "\xff\xd8\xff\xd0\xff\xc0\x00\x0b\x08\x20\x00\x20\x00\x01\x01\x11\x00\xff\xd9" // a mark that has no length before its size
	if head, err := ReadPhotoHead([]byte(odd)); err == nil {
		t.Errorf("a head laid out oddly counts as %d", head.Memory)
	}
}

// TestPhotosShareTheMemory: what is open takes its share until it is shut.
func TestPhotosShareTheMemory(t *testing.T) {
	data := blankPNG(t, 400, 300, 8, 6, false, true)
	head, err := ReadPhotoHead(data)
	if err != nil {
		t.Fatal(err)
	}
	if err := WithPixels(data, func(image.Image, string) error {
		if photoMemory.TryAcquire(MaxPhotoMemory - head.Memory + 1) {
			t.Error("more than all may take was given away")
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	if !photoMemory.TryAcquire(MaxPhotoMemory) {
		t.Fatal("what was shut still takes memory")
	}
	photoMemory.Release(MaxPhotoMemory)
}
