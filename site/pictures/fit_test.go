package pictures

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"yearmark/checks"
)

// TestFitMakesAPictureFitToKeep: a photograph that lies on its side stands up,
// carries no tag and is no larger than asked; the pictures that the library for
// HEIC brings along become JPEG.
func TestFitMakesAPictureFitToKeep(t *testing.T) {
	upright, ending, err := Fit("mark.JPG", onItsSide(t), 100)
	if err != nil || ending != ".jpg" {
		t.Fatalf("%q, %v", ending, err)
	}
	config, err := jpeg.DecodeConfig(bytes.NewReader(upright))
	if err != nil || config.Width != 50 || config.Height != 100 || bytes.Contains(upright, []byte("Exif")) || checks.Orientation(upright) > 1 {
		t.Errorf("it is %d by %d, tags left: %v (%v)", config.Width, config.Height, bytes.Contains(upright, []byte("Exif")), err)
	}
	phone := pictureOf(t, "github.com/gen2brain/heic", "test8.heic")
	fitted, ending, err := Fit("phone.heic", phone, 200)
	if err != nil || ending != ".jpg" {
		t.Fatalf("%q, %v", ending, err)
	}
	if config, err := jpeg.DecodeConfig(bytes.NewReader(fitted)); err != nil || max(config.Width, config.Height) != 200 {
		t.Errorf("the picture of a telephone is %d by %d, %v", config.Width, config.Height, err)
	}
	for name, data := range map[string][]byte{"page.pdf": []byte("%PDF"), "a.jpg": []byte("no picture"), "b.heic": []byte("no picture"), "c.webp": phone, "d.tiff": phone, "e.avif": phone} {
		if _, _, err := Fit(name, data, 200); err == nil || !strings.Contains(err.Error(), "JPEG") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestAVIFBecomesAnUprightJPEG: the picture that the library brings along is
// kept within the bound, turned where its box irot says so, and refused before
// it is decoded where it says that it is immense.
func TestAVIFBecomesAnUprightJPEG(t *testing.T) {
	plain := pictureOf(t, "github.com/gen2brain/avif", "test8.avif")
	fit := func(data []byte) image.Image {
		fitted, ending, err := Fit("phone.avif", data, 200)
		if err != nil || ending != ".jpg" {
			t.Fatalf("%q, %v", ending, err)
		}
		m, err := jpeg.Decode(bytes.NewReader(fitted))
		if err != nil || m.Bounds().Dx() != 200 || m.Bounds().Dy() != 200 {
			t.Fatalf("%v, %v", m.Bounds(), err)
		}
		return m
	}
	pixi := []byte("pixi\x00\x00\x00\x00\x03")
	if !bytes.Contains(plain, pixi) {
		t.Fatal("the picture of the library has another layout by now")
	}
	upright, lying := fit(plain), fit(bytes.Replace(plain, pixi, []byte("irot\x03\x00\x00\x00\x00"), 1))
	differ := func(x, y, atX, atY int) int {
		r, g, b, _ := upright.At(x, y).RGBA()
		r2, g2, b2, _ := lying.At(atX, atY).RGBA()
		return (abs(int(r)-int(r2)) + abs(int(g)-int(g2)) + abs(int(b)-int(b2))) >> 8
	}
	turned, same := 0, 0
	for x := 10; x < 200; x += 20 {
		for y := 10; y < 200; y += 20 {
			turned, same = turned+differ(x, y, 199-y, x), same+differ(x, y, x, y)
		}
	}
	if turned*4 > same {
		t.Errorf("a quarter turn differs by %d, none by %d", turned, same)
	}
	huge := bytes.Replace(plain, []byte("ispe\x00\x00\x00\x00\x00\x00\x02\x00\x00\x00\x02\x00"), []byte("ispe\x00\x00\x00\x00\x00\x00\xea\x60\x00\x00\xea\x60"), 1)
	if _, _, err := Fit("huge.avif", huge, 200); err == nil {
		t.Error("a picture of 60,000 by 60,000 pixels is taken")
	}
}

func abs(n int) int { return max(n, -n) }

// pictureOf reads a picture that a library brings along for its own tests.
func pictureOf(t *testing.T, library, name string) []byte {
	t.Helper()
	module, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", library).Output()
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(module)), "testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// onItsSide is a photograph of 400 by 200 pixels that is to be turned by a quarter.
func onItsSide(t *testing.T) []byte {
	t.Helper()
	pixels := image.NewRGBA(image.Rect(0, 0, 400, 200))
	for x := range 400 {
		for y := range 200 {
			pixels.Set(x, y, color.RGBA{uint8(x), uint8(y), 90, 255})
		}
	}
	var plain bytes.Buffer
	if err := jpeg.Encode(&plain, pixels, nil); err != nil {
		t.Fatal(err)
	}
	exif := []byte("\xff\xe1\x00\x22Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00")
	return append(append([]byte{0xff, 0xd8}, exif...), plain.Bytes()[2:]...)
}
