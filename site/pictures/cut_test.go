package pictures

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"maps"
	"slices"
	"testing"

	"yearmark/checks"
	"yearmark/schema"
)

// TestCutsAreOfTheUprightPicture cuts each quarter of a photograph in every
// orientation of Exif 2.3, tag 0112, and looks for the red one.
func TestCutsAreOfTheUprightPicture(t *testing.T) {
	for orientation := 1; orientation <= 8; orientation++ {
		data := photograph(t, 640, 320, orientation, binary.LittleEndian)
		p, err := Look("a/list.jpg", data)
		if err != nil {
			t.Fatal(err)
		}
		at := redQuarter(show(t, p, data, p.Versions[0]))
		for _, right := range []bool{false, true} {
			for _, bottom := range []bool{false, true} {
				region := image.Rect(0, 0, p.Width/2, p.Height/2)
				if right {
					region = region.Add(image.Pt(p.Width/2, 0))
				}
				if bottom {
					region = region.Add(image.Pt(0, p.Height/2))
				}
				cut := p.Cut(region)
				made := show(t, p, data, cut[len(cut)-1])
				if got := made.Bounds().Size(); got != region.Size() {
					t.Errorf("orientation %d: the cut-out is %v, its region %v", orientation, got, region.Size())
				}
				r, _, b, _ := made.At(made.Bounds().Dx()/2, made.Bounds().Dy()/2).RGBA()
				if red := r > b; red != (at == [2]bool{right, bottom}) {
					t.Errorf("orientation %d, right %v, bottom %v: red %v", orientation, right, bottom, red)
				}
			}
		}
	}
}

// TestACutIsThePixelsOfItsRegion, bit by bit, against image/draw.
func TestACutIsThePixelsOfItsRegion(t *testing.T) {
	whole := image.NewRGBA(image.Rect(0, 0, 120, 90))
	for y := range 90 {
		for x := range 120 {
			whole.SetRGBA(x, y, color.RGBA{uint8(x * 2), uint8(y * 2), uint8(x ^ y), 255})
		}
	}
	var data bytes.Buffer
	if err := png.Encode(&data, whole); err != nil {
		t.Fatal(err)
	}
	p, err := Look("list.png", data.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	region, ok := (schema.Region{Percent: true, X: 10, Y: 20, Width: 33, Height: 50}).Within(p.Width, p.Height)
	if want := image.Rect(12, 18, 51, 63); !ok || region != want {
		t.Fatalf("the region is %v, want %v", region, want)
	}
	cut := p.Cut(region)
	if cut[0].Name != "list-12-18-39-45-39.png" {
		t.Errorf("the cut-out is called %s", cut[0].Name)
	}
	want := image.NewRGBA(image.Rect(0, 0, region.Dx(), region.Dy()))
	draw.Draw(want, want.Rect, whole, region.Min, draw.Src)
	got := show(t, p, data.Bytes(), cut[0])
	for y := range want.Rect.Dy() {
		for x := range want.Rect.Dx() {
			if r, g, b, _ := got.At(x, y).RGBA(); uint8(r) != want.RGBAAt(x, y).R || uint8(g) != want.RGBAAt(x, y).G || uint8(b) != want.RGBAAt(x, y).B {
				t.Fatalf("the pixel %d, %d is another", x, y)
			}
		}
	}
}

// TestMadeTogetherIsMadeAlone makes all versions and cut-outs of a photograph at
// once, without a cache, through a new one, and through one that has some of
// them: each is, to the byte, what is made of it alone.
func TestMadeTogetherIsMadeAlone(t *testing.T) {
	for _, orientation := range []int{1, 6} {
		data := photograph(t, 900, 850, orientation, binary.BigEndian)
		p, err := Look("a/list.jpg", data)
		if err != nil {
			t.Fatal(err)
		}
		versions := slices.Concat(p.Versions, p.Cut(image.Rect(7, 11, 507, 411)), p.Cut(image.Rect(300, 200, 339, 245)))
		begun := Cache{t.TempDir()}
		alone := map[string][]byte{}
		for i, version := range versions {
			alone[version.Name] = maker(p.Make).one(t, data, version)
			if i%2 == 1 {
				begun.through(p).one(t, data, version)
			}
		}
		if len(alone) != 6 {
			t.Fatalf("%d versions of other names, want the whole in 3, one cut-out in 2 and one in 1", len(alone))
		}
		for name, all := range map[string]maker{"without a cache": p.Make, "through a new cache": Cache{t.TempDir()}.through(p), "through a cache that has some": begun.through(p)} {
			got := map[string][]byte{}
			if err := all(data, versions, func(version Size, made []byte) error {
				got[version.Name] = bytes.Clone(made)
				return nil
			}); err != nil {
				t.Fatal(err)
			}
			if !maps.EqualFunc(got, alone, bytes.Equal) {
				t.Errorf("orientation %d, %s: the versions are others than those made alone", orientation, name)
			}
		}
	}
}

func TestRegionsOutsideThePicture(t *testing.T) {
	for _, c := range []struct {
		region schema.Region
		ok     bool
	}{
		{schema.Region{Width: 100, Height: 50}, true}, {schema.Region{X: 1, Width: 100, Height: 50}, false},
		{schema.Region{Y: 49, Width: 1, Height: 1}, true}, {schema.Region{Y: 50, Width: 1, Height: 1}, false},
		{schema.Region{Percent: true, X: 99, Y: 98, Width: 1, Height: 1}, false}, // no pixel high
		{schema.Region{Percent: true, Width: 100, Height: 100}, true},
	} {
		if _, ok := c.region.Within(100, 50); ok != c.ok {
			t.Errorf("%s: %v", c.region, ok)
		}
	}
}

func TestCutDrawing(t *testing.T) {
	for text, want := range map[string]string{
		`<?xml version="1.0"?>` + "\n" + `<svg xmlns="http://www.w3.org/2000/svg" width="100%" height="100%" viewBox="-10 0 400 600"><rect width="100%" height="100%"/></svg>`: `<svg xmlns="http://www.w3.org/2000/svg" width="40" height="60" viewBox="40 60 40 60"><svg xmlns="http://www.w3.org/2000/svg" width="400" height="600" viewBox="-10 0 400 600"><rect width="100%" height="100%"/></svg></svg>`,
		`<svg xmlns="http://www.w3.org/2000/svg" width="400px" height="600"/>`:                                                                                                 `<svg xmlns="http://www.w3.org/2000/svg" width="40" height="60" viewBox="40 60 40 60"><svg xmlns="http://www.w3.org/2000/svg" width="400" height="600" viewBox="0 0 400 600"/></svg>`,
	} {
		d, ok := LookAtDrawing([]byte(text))
		region, within := (schema.Region{Percent: true, X: 10, Y: 10, Width: 10, Height: 10}).Within(d.Width, d.Height)
		if !ok || !within {
			t.Fatalf("%s: %+v", text, d)
		}
		got := d.Cut(CleanDrawing([]byte(text)), region)
		if string(got) != want {
			t.Errorf("%s\nbecame\n%s", text, got)
		}
		if faults := checks.InspectSVG(got); len(faults) > 0 {
			t.Errorf("%s: %v", got, faults)
		}
	}
	if _, ok := LookAtDrawing([]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="100%"/>`)); ok {
		t.Error("a drawing without a size has one")
	}
}
