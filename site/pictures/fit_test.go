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
	module, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/gen2brain/heic").Output()
	if err != nil {
		t.Fatal(err)
	}
	phone, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(module)), "testdata", "test8.heic"))
	if err != nil {
		t.Fatal(err)
	}
	fitted, ending, err := Fit("phone.heic", phone, 200)
	if err != nil || ending != ".jpg" {
		t.Fatalf("%q, %v", ending, err)
	}
	if config, err := jpeg.DecodeConfig(bytes.NewReader(fitted)); err != nil || max(config.Width, config.Height) != 200 {
		t.Errorf("the picture of a telephone is %d by %d, %v", config.Width, config.Height, err)
	}
	for name, data := range map[string][]byte{"page.pdf": []byte("%PDF"), "a.jpg": []byte("no picture"), "b.heic": []byte("no picture"), "c.webp": phone, "d.tiff": phone} {
		if _, _, err := Fit(name, data, 200); err == nil || !strings.Contains(err.Error(), "JPEG") {
			t.Errorf("%s: %v", name, err)
		}
	}
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
