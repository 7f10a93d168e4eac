package pictures

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math/big"
	"os"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// corners is a picture whose left top quarter is red and the rest blue.
func corners(w, h int) image.Image {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{B: 255, A: 255}
			if x < w/2 && y < h/2 {
				c = color.RGBA{R: 255, A: 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	return m
}

// photograph is a JPEG with an EXIF block that says its orientation and holds a note.
func photograph(t *testing.T, w, h, orientation int, order binary.AppendByteOrder) []byte {
	t.Helper()
	var plain bytes.Buffer
	if err := jpeg.Encode(&plain, corners(w, h), nil); err != nil {
		t.Fatal(err)
	}
	tiff := []byte("MM\x00*")
	if order == binary.AppendByteOrder(binary.LittleEndian) {
		tiff = []byte("II*\x00")
	}
	tiff = order.AppendUint32(tiff, 8)
	tiff = order.AppendUint16(tiff, 1)
	tiff = order.AppendUint16(tiff, 0x0112)
	tiff = order.AppendUint16(tiff, 3)
	tiff = order.AppendUint32(tiff, 1)
	tiff = order.AppendUint16(tiff, uint16(orientation))
	tiff = append(tiff, 0, 0, 0, 0, 0, 0)
	tiff = append(tiff, "owner: nobody's business"...)
	body := append([]byte("Exif\x00\x00"), tiff...)
	out := append([]byte{0xFF, 0xD8, 0xFF, 0xE1}, binary.BigEndian.AppendUint16(nil, uint16(len(body)+2))...)
	return append(append(out, body...), plain.Bytes()[2:]...)
}

// TestOrientation holds every orientation of Exif 2.3, tag 0112, to where the
// standard puts the visual top left of the picture: the red quarter.
func TestOrientation(t *testing.T) {
	at := map[int][2]bool{ // is the red quarter at the right, at the bottom, once shown
		1: {false, false}, 2: {true, false}, 3: {true, true}, 4: {false, true},
		5: {false, false}, 6: {true, false}, 7: {true, true}, 8: {false, true},
	}
	for orientation, want := range at {
		for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
			data := photograph(t, 640, 320, orientation, order)
			p, err := Look("mark.jpg", data)
			if err != nil {
				t.Fatal(err)
			}
			if wide := p.Width > p.Height; wide != (orientation < 5) {
				t.Errorf("orientation %d: %d by %d", orientation, p.Width, p.Height)
			}
			shown := show(t, p, data, p.Versions[0])
			if got := redQuarter(shown); got != want {
				t.Errorf("orientation %d: red at right %v, at bottom %v; want %v", orientation, got[0], got[1], want)
			}
		}
	}
}

// maker is a Photo or a Cache's way to it.
type maker func(data []byte, versions []Size, use func(Size, []byte) error) error

// one gives the bytes of one version, made by itself.
func (m maker) one(t *testing.T, data []byte, version Size) (made []byte) {
	t.Helper()
	if err := m(data, []Size{version}, func(_ Size, b []byte) error {
		made = bytes.Clone(b)
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	return made
}

// through makes versions of a photograph by way of a cache.
func (c Cache) through(p *Photo) maker {
	return func(data []byte, versions []Size, use func(Size, []byte) error) error {
		return c.Make(p, data, versions, use)
	}
}

func show(t *testing.T, p *Photo, data []byte, version Size) image.Image {
	t.Helper()
	made := maker(p.Make).one(t, data, version)
	if bytes.Contains(made, []byte("Exif")) || bytes.Contains(made, []byte("business")) {
		t.Error("a tag of the camera is left in what is published")
	}
	m, _, err := image.Decode(bytes.NewReader(made))
	if err != nil {
		t.Fatal(err)
	}
	if b := m.Bounds(); b.Dx() != version.Width || b.Dy() != version.Height {
		t.Errorf("made %d by %d, said %d by %d", b.Dx(), b.Dy(), version.Width, version.Height)
	}
	return m
}

func redQuarter(m image.Image) (at [2]bool) {
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	for _, right := range []bool{false, true} {
		for _, bottom := range []bool{false, true} {
			x, y := w/4, h/4
			if right {
				x = 3 * w / 4
			}
			if bottom {
				y = 3 * h / 4
			}
			if r, _, b, _ := m.At(x, y).RGBA(); r > b {
				at = [2]bool{right, bottom}
			}
		}
	}
	return at
}

func TestVersionsAreNeverLargerThanTheOriginal(t *testing.T) {
	for _, c := range []struct {
		width int
		want  []int
	}{{300, []int{300}}, {400, []int{400}}, {900, []int{400, 800, 900}}, {1600, []int{400, 800, 1600}}, {4000, []int{400, 800, 1600}}} {
		var data bytes.Buffer
		if err := png.Encode(&data, image.NewGray(image.Rect(0, 0, c.width, 30))); err != nil {
			t.Fatal(err)
		}
		p, err := Look("examples/bow.PNG", data.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		var got []int
		for _, v := range p.Versions {
			got = append(got, v.Width)
		}
		if len(got) != len(c.want) || got[len(got)-1] != c.want[len(got)-1] {
			t.Errorf("%d wide: versions %v, want %v", c.width, got, c.want)
		}
		show(t, p, data.Bytes(), p.Versions[len(got)-1])
	}
}

func TestRefusals(t *testing.T) {
	bomb := []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x01\x00\x00\x00\x01\x00\x00\x08\x02\x00\x00\x00")
	bomb = binary.BigEndian.AppendUint32(bomb, 0x6e4e0e6e)
	for name, data := range map[string][]byte{"empty": nil, "text": []byte("not a picture"), "gif": []byte("GIF89a\x01\x00\x01\x00\x00\x00\x00"), "bomb": bomb} {
		if _, err := Look(name, data); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
	whole := photograph(t, 64, 64, 1, binary.BigEndian)
	p, err := Look("cut.jpg", whole)
	if err != nil {
		t.Fatal(err)
	}
	if err := p.Make(whole[:len(whole)/2], p.Versions, func(Size, []byte) error { return nil }); err == nil {
		t.Error("half a photograph was made whole")
	}
	full := errors.New("the disk is full")
	if err := p.Make(whole, p.Versions, func(Size, []byte) error { return full }); err != full {
		t.Errorf("what the user of a version cannot do is told as %v", err)
	}
}

func TestUnchangedPhotographsCostNothing(t *testing.T) {
	cache := Cache{t.TempDir()}
	data := photograph(t, 64, 48, 6, binary.LittleEndian)
	p, err := Look("a.jpg", data)
	if err != nil {
		t.Fatal(err)
	}
	cached := cache.through(p)
	first := cached.one(t, data, p.Versions[0])
	kept, err := os.ReadDir(cache.Folder)
	if err != nil || len(kept) != 1 {
		t.Fatalf("%d files kept, %v", len(kept), err)
	}
	mark := []byte("kept")
	if err := os.WriteFile(cache.Folder+"/"+kept[0].Name(), mark, 0o644); err != nil {
		t.Fatal(err)
	}
	if again := cached.one(t, data, p.Versions[0]); !bytes.Equal(again, mark) {
		t.Error("an unchanged photograph was made again")
	}
	if other := cached.one(t, append(data, 0), p.Versions[0]); !bytes.Equal(other, first) {
		t.Error("a changed photograph came from the cache")
	}
}

// TestSoundPhotographsAreRemembered: a sound photograph is decoded once, and a
// damaged one is damaged every time.
func TestSoundPhotographsAreRemembered(t *testing.T) {
	cache := Cache{t.TempDir()}
	data := photograph(t, 64, 48, 1, binary.LittleEndian)
	for range 2 {
		if err := cache.Sound(data); err != nil {
			t.Fatal(err)
		}
		if cache.Sound(data[:len(data)/2]) == nil || (Cache{}).Sound(data[:len(data)/2]) == nil {
			t.Error("half a photograph is sound")
		}
	}
	if kept, err := os.ReadDir(cache.Folder); err != nil || len(kept) != 1 {
		t.Errorf("%d files kept, %v", len(kept), err)
	}
}

// TestScaleIsTheMeanByArea holds the scaler to the mean worked out for each
// pixel by exact fractions, from every side of its share.
func TestScaleIsTheMeanByArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 23).Draw(t, "w"), rapid.IntRange(1, 17).Draw(t, "h")
		from := image.NewRGBA(image.Rect(3, 5, 3+w, 5+h))
		for i := range from.Pix {
			from.Pix[i] = rapid.Byte().Draw(t, "value")
			if i%4 == 3 {
				from.Pix[i] = 255
			}
		}
		nw, nh := rapid.IntRange(1, w).Draw(t, "nw"), rapid.IntRange(1, h).Draw(t, "nh")
		got := scale(from, nw, nh)
		for y := range nh {
			for x := range nw {
				for c := range 4 {
					if want := mean(from, x, y, nw, nh, c); got.Pix[got.PixOffset(x, y)+c] != want {
						t.Fatalf("%d,%d channel %d of %dx%d from %dx%d: %d, want %d", x, y, c, nw, nh, w, h, got.Pix[got.PixOffset(x, y)+c], want)
					}
				}
			}
		}
	})
}

// mean is one channel of a new pixel by the definition: the sum of every old
// pixel times the area that they share, over the whole area.
func mean(from *image.RGBA, x, y, nw, nh, c int) uint8 {
	overlap := func(i, n, j, m int) int64 { // of [i/n,(i+1)/n) and [j/m,(j+1)/m), in parts of 1/(n*m)
		return int64(max(0, min((i+1)*m, (j+1)*n)-max(i*m, j*n)))
	}
	w, h := from.Rect.Dx(), from.Rect.Dy()
	sum, area := new(big.Rat), new(big.Rat)
	for sy := range h {
		for sx := range w {
			share := big.NewRat(overlap(x, nw, sx, w)*overlap(y, nh, sy, h), 1)
			area.Add(area, share)
			value := from.Pix[from.PixOffset(from.Rect.Min.X+sx, from.Rect.Min.Y+sy)+c]
			sum.Add(sum, share.Mul(share, big.NewRat(int64(value), 1)))
		}
	}
	sum.Quo(sum, area).Add(sum, big.NewRat(1, 2))
	return uint8(new(big.Int).Quo(sum.Num(), sum.Denom()).Int64())
}

// BenchmarkScale makes the three versions of a photograph of 12 million
// pixels, beside decoding it, and reports how much longer that takes.
func BenchmarkScale(b *testing.B) {
	var file bytes.Buffer
	if err := jpeg.Encode(&file, corners(4000, 3000), nil); err != nil {
		b.Fatal(err)
	}
	var bare, scaled time.Duration
	for b.Loop() {
		start := time.Now()
		pixels, err := jpeg.Decode(bytes.NewReader(file.Bytes()))
		if err != nil {
			b.Fatal(err)
		}
		bare += time.Since(start)
		start = time.Now()
		for _, w := range Widths {
			scale(pixels, w, w*3/4)
		}
		scaled += time.Since(start)
	}
	b.ReportMetric(scaled.Seconds()/bare.Seconds(), "x-decoding")
}
