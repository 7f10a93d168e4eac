//go:build unix

package builder_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"yearmark/testdata/made"
)

// BenchmarkPublishScans publishes a made reference in which each source has ten
// places and one scan, on which each place marks a region. Beside what
// BenchmarkPublish does bare, it decodes each scan once and encodes, without any
// scaling, as many pictures of the same sizes as the site has. Nothing is kept
// from one round to the next.
func BenchmarkPublishScans(b *testing.B) {
	folder := filepath.Join(b.TempDir(), "reference")
	dir := memoryDir(b, 1<<30)
	scans := makeScans(b, folder)
	var bare, ours clock
	for b.Loop() {
		scratch, err := os.MkdirTemp(dir, "round-")
		if err != nil {
			b.Fatal(err)
		}
		b.Setenv("XDG_CACHE_HOME", filepath.Join(scratch, "cache"))
		site := filepath.Join(scratch, "site")
		ours.run(b, "publish", func() { publish(b, folder, site) })
		bareWorkOf(b, &bare, folder, site, filepath.Join(scratch, "bare"))
		sizes := publishedSizes(b, site, scans)
		bare.run(b, "pictures", func() { barePictures(b, folder, scans, sizes) })
		if err := os.RemoveAll(scratch); err != nil {
			b.Fatal(err)
		}
	}
	for _, part := range bare.parts {
		b.ReportMetric(part.wall.Seconds()/float64(b.N), part.name+"-s")
	}
	b.ReportMetric(float64(len(scans)), "scans")
	b.ReportMetric(bare.wall().Seconds()/float64(b.N), "bare-s")
	b.ReportMetric(ours.wall().Seconds()/float64(b.N), "publish-s")
	b.ReportMetric(ours.wall().Seconds()/bare.wall().Seconds(), "ratio")
	b.ReportMetric(ours.cpu().Seconds()/bare.cpu().Seconds(), "cpu-ratio")
	b.ReportMetric(0, "ns/op")
}

// makeScans writes a reference of about a hundred sources, which have places and
// scans, and gives the names of the scans without their ending.
func makeScans(b *testing.B, folder string) (names []string) {
	b.Helper()
	if err := made.Write(folder, made.Options{Pages: 200, Seed: 1}); err != nil {
		b.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(folder, "pictures", "scans"), 0o755); err != nil {
		b.Fatal(err)
	}
	sources, err := filepath.Glob(filepath.Join(folder, "sources", "*.md"))
	if err != nil || len(sources) == 0 {
		b.Fatalf("%d sources, %v", len(sources), err)
	}
	for i, file := range sources {
		name := strings.TrimSuffix(filepath.Base(file), ".md")
		data, err := os.ReadFile(file)
		if err != nil {
			b.Fatal(err)
		}
		keys := "---\nshown: all\nrights: Drawn for this measurement\nplaces:\n"
		for k := range 10 {
			keys += fmt.Sprintf("  - {at: sheet %d, says: The words of sheet %d., scan: scans/%s.jpg, region: \"xywh=60,%d,700,90\"}\n", k+1, k+1, name, 40+k*110)
		}
		if err := os.WriteFile(file, bytes.Replace(data, []byte("---\n"), []byte(keys), 1), 0o644); err != nil {
			b.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, "pictures", "scans", name+".jpg"), scanned(b, uint64(i)), 0o644); err != nil {
			b.Fatal(err)
		}
		names = append(names, name)
	}
	return names
}

// scanned is a page of dark strokes on paper, another for every seed.
func scanned(b *testing.B, seed uint64) []byte {
	b.Helper()
	random := rand.New(rand.NewPCG(seed, 1))
	page := image.NewGray(image.Rect(0, 0, 900, 1200))
	for i := range page.Pix {
		page.Pix[i] = uint8(225 + random.IntN(12))
	}
	for range 4000 {
		x, y := random.IntN(880), random.IntN(1190)
		for dx := range random.IntN(14) {
			page.SetGray(x+dx, y+dx%3, color.Gray{Y: 40})
		}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, page, &jpeg.Options{Quality: 85}); err != nil {
		b.Fatal(err)
	}
	return out.Bytes()
}

// published is a picture that the site has of a scan.
type published struct {
	width, height int
	png           bool
}

// publishedSizes gives the pictures that a site has of each scan.
func publishedSizes(b *testing.B, site string, scans []string) map[string][]published {
	b.Helper()
	sizes := map[string][]published{}
	for _, scan := range scans {
		for _, folder := range []string{"pictures", "cuts"} {
			files, err := filepath.Glob(filepath.Join(site, folder, "scans", scan+"-*"))
			if err != nil {
				b.Fatal(err)
			}
			for _, file := range files {
				data, err := os.ReadFile(file)
				if err != nil {
					b.Fatal(err)
				}
				size, kind, err := image.DecodeConfig(bytes.NewReader(data))
				if err != nil {
					b.Fatal(err)
				}
				sizes[scan] = append(sizes[scan], published{size.Width, size.Height, kind == "png"})
			}
		}
		if len(sizes[scan]) < 11 {
			b.Fatalf("the site has %d pictures of %s: the page and ten regions are wanted", len(sizes[scan]), scan)
		}
	}
	return sizes
}

// barePictures decodes every scan once, and encodes as much of it as each picture has.
func barePictures(b *testing.B, folder string, scans []string, sizes map[string][]published) {
	together(len(scans), func(i int) {
		data, err := os.ReadFile(filepath.Join(folder, "pictures", "scans", scans[i]+".jpg"))
		if err != nil {
			b.Error(err)
			return
		}
		page, err := jpeg.Decode(bytes.NewReader(data))
		if err != nil {
			b.Error(err)
			return
		}
		for _, size := range sizes[scans[i]] {
			part := page.(*image.Gray).SubImage(image.Rect(0, 0, size.width, size.height))
			if size.png {
				err = png.Encode(io.Discard, part)
			} else {
				err = jpeg.Encode(io.Discard, part, nil)
			}
			if err != nil {
				b.Error(err)
			}
		}
	})
}
