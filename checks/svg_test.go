package checks

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"yearmark/testdata/need"
)

const svgHead = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">`

// What SVG 2 (W3C Candidate Recommendation, chapters 5, 15, 16 and 17) and CSS
// let run or load, and ways to hide it.
func TestInspectSVGRefuses(t *testing.T) {
	for _, body := range []string{
		`<script>x()</script>`, `<script href="x.js"/>`, `<g onclick="x()"/>`, `<g ONMOUSEOVER="x()"/>`, `<g xml:base="https://e.org/"/>`,
		`<a href="https://e.org"/>`, `<a xlink:href="javascript:x()"/>`, `<foreignObject/>`, `<iframe xmlns="http://www.w3.org/1999/xhtml" src="x"/>`,
		`<html:script xmlns:html="http://www.w3.org/1999/xhtml">x()</html:script>`, `<image href="x.png"/>`, `<image xlink:href="//e.org/x.png"/>`,
		`<image href="data:image/svg+xml;base64,PHN2Zy8+"/>`, `<use href="other.svg#a"/>`, `<use href="data:image/png;base64,AA=="/>`,
		`<path fill="url(https://e.org/p)"/>`, `<path style="fill:url( 'x.svg#a' )"/>`, `<path fill="URL(x)"/>`, `<style>@import url(x.css);</style>`,
		`<style>@IMPORT "x.css";</style>`, `<style>p{background:u\72l(x)}</style>`, `<path style="fill:\75rl(x)"/>`, `<style>a{behavior:url(#x)}</style>`,
		`<style>a{-moz-binding:none}</style>`, `<style>a{width:expression(x())}</style>`, `<style>a{background:image-set("x.png" 1x)}</style>`,
		`<set attributeName="href" to="x"/>`, `<animate attributeName="href" values="javascript:x()"/>`, `<handler/>`, `<listener/>`,
		`<video/>`, `<audio/>`, `<embed/>`, `<object/>`, `<link rel="stylesheet" href="x"/>`, `<filter><feImage href="x.png"/></filter>`,
		`<g id="a"><use href="#a"/></g>`, `<g id="a"><use href="#b"/></g><g id="b"><use xlink:href="#a"/></g>`, strings.Repeat(`<use href="#a"/>`, 10_001),
		`<g><unknown-thing/></g>`, `<text><tref xlink:href="x#y"/></text>`, `<cursor/>`, `<discard/>`, `<mpath/>`,
	} {
		if len(InspectSVG([]byte(svgHead+body+"</svg>"))) == 0 {
			t.Errorf("taken as harmless: %s", body)
		}
	}
	for _, whole := range []string{
		"", "no drawing", "<svg", "<svg/>", `<html xmlns="http://www.w3.org/1999/xhtml"/>`, `<!DOCTYPE svg [<!ENTITY a "x">]>` + svgHead + `&a;</svg>`,
		`<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "x.dtd">` + svgHead + `</svg>`, `<?xml-stylesheet href="x.css"?>` + svgHead + `</svg>`,
		svgHead + `</g>`, svgHead + strings.Repeat("<g>", 300) + strings.Repeat("</g>", 300) + "</svg>", svgHead + "&nbsp;</svg>",
		"\x00\x01\x02", svgHead + "<title>\xff\xfe</title></svg>",
	} {
		if len(InspectSVG([]byte(whole))) == 0 {
			t.Errorf("taken as harmless: %q", whole)
		}
	}
}

func TestInspectSVGAllows(t *testing.T) {
	for _, body := range []string{
		`<path d="M0 0h9" fill="currentColor" stroke-width="1"/>`, `<path fill="url(#a)"/>`, `<path style="fill:url('#a')"/>`, `<use href="#a"/>`,
		`<use xlink:href="#a"/>`, `<style>.a{fill:red;stroke:url(#b)}</style>`, `<image href="data:image/png;base64,AA=="/>`, `<title>Only &amp; oval</title>`,
		`<text transform="rotate(4)">x</text>`, `<g xmlns:ink="http://editor.example.org/" ink:label="Layer"><ink:guide/></g>`, `<!-- a note -->`,
		`<filter><feGaussianBlur stdDeviation="1"/></filter>`, `<g id="a"><path/></g><g id="b"><use href="#a"/><use href="#a"/></g><use href="#b"/><use href="#nowhere"/>`, `<path id="one" class="on" opacity=".5"/>`,
	} {
		if faults := InspectSVG([]byte(svgHead + body + "</svg>")); len(faults) > 0 {
			t.Errorf("refused: %s: %v", body, faults)
		}
	}
	if faults := InspectSVG([]byte("\ufeff<?xml version=\"1.0\" encoding=\"UTF-8\"?>\r\n" + svgHead + "</svg>\n")); len(faults) > 0 {
		t.Errorf("a byte-order mark or declaration is refused: %v", faults)
	}
}

func TestInspectSVGSaysWhere(t *testing.T) {
	faults := InspectSVG([]byte(svgHead + "\n<g>\n  é<path onclick=\"x()\"/>\n</g></svg>"))
	if len(faults) != 1 || faults[0].Line != 3 || faults[0].Column != 4 {
		t.Errorf("got %+v", faults)
	}
}

// The drawings of the demonstration are all fit to be published.
func TestTheDemonstrationsDrawings(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join(need.Root(t), "content", "pictures", "*", "*.svg"))
	if len(files) == 0 {
		t.Fatal("the demonstration has no drawings")
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, fault := range InspectSVG(data) {
			t.Errorf("%s:%d: the drawing %s", file, fault.Line, fault.What)
		}
	}
}

func TestInspectSVGNeverFails(t *testing.T) {
	piece := rapid.SampledFrom([]string{svgHead, "</svg>", "<g>", "</g>", "<style>", "</style>", "url(", ")", "#a", "'", `"`, "<", ">", "&", "<!--", "-->", "\x00", "é", "<path d='", "/>", "<![CDATA[", "]]>"})
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(piece, 0, 40).Draw(t, "pieces"), "")
		for _, f := range InspectSVG([]byte(text)) {
			if f.Line < 1 || f.Column < 1 || f.What == "" {
				t.Fatalf("a fault without a place: %+v", f)
			}
		}
	})
}

// tiff makes an EXIF block with one GPS directory (Exif 2.3, section 4.6.6).
func tiff(little bool, tags ...uint16) []byte {
	var b bytes.Buffer
	put16 := func(v uint16) { b.Write(order(little, uint32(v), 2)) }
	put32 := func(v uint32) { b.Write(order(little, v, 4)) }
	if little {
		b.WriteString("II*\x00")
	} else {
		b.WriteString("MM\x00*")
	}
	put32(8)
	put16(2)
	put16(0x0112)
	put16(3)
	put32(1)
	put32(0)
	put16(0x8825)
	put16(4)
	put32(1)
	put32(38)
	put32(0)
	put16(uint16(len(tags)))
	for _, tag := range tags {
		put16(tag)
		put16(5)
		put32(3)
		put32(0)
	}
	put32(0)
	return b.Bytes()
}

func order(little bool, v uint32, size int) []byte {
	var out []byte
	for i := range size {
		shift := 8 * i
		if !little {
			shift = 8 * (size - 1 - i)
		}
		out = append(out, byte(v>>shift))
	}
	return out
}

func jpegWith(segments ...[]byte) []byte {
	data := []byte{0xFF, 0xD8}
	for _, s := range segments {
		data = append(data, 0xFF, 0xE1, byte((len(s)+2)>>8), byte(len(s)+2))
		data = append(data, s...)
	}
	return append(data, 0xFF, 0xDA, 0, 2)
}

func chunk(kind string, data []byte) []byte {
	out := append(order(false, uint32(len(data)), 4), kind...)
	return append(append(out, data...), 0, 0, 0, 0)
}

func TestFindLocation(t *testing.T) {
	exif := func(block []byte) []byte { return append([]byte("Exif\x00\x00"), block...) }
	xmp := []byte("http://ns.adobe.com/xap/1.0/\x00<x exif:GPSLatitude='54,30N'/>")
	png := []byte("\x89PNG\r\n\x1a\n")
	raw := fmt.Appendf(nil, "Raw profile type exif\x00\nexif\n      10\n%x\n", exif(tiff(true, 2, 4)))
	for _, row := range []struct {
		name, kind, want string
		data             []byte
	}{
		{"little-endian EXIF", "jpeg", "EXIF", jpegWith(exif(tiff(true, 1, 2, 3, 4)))},
		{"big-endian EXIF", "jpeg", "EXIF", jpegWith(exif(tiff(false, 2)))},
		{"after another segment", "jpeg", "EXIF", jpegWith([]byte("other"), exif(tiff(true, 4)))},
		{"a date by satellite only", "jpeg", "", jpegWith(exif(tiff(true, 29)))},
		{"no GPS at all", "jpeg", "", jpegWith(exif(tiff(true)))},
		{"XMP", "jpeg", "XMP", jpegWith(xmp)},
		{"nothing", "jpeg", "", jpegWith()},
		{"cut short", "jpeg", "", jpegWith(exif(tiff(true, 2, 4)))[:40]},
		{"PNG", "png", "EXIF", append(png, chunk("eXIf", tiff(true, 2, 4))...)},
		{"PNG after the pixels", "png", "EXIF", append(append(png, chunk("IDAT", make([]byte, 99))...), chunk("eXIf", tiff(false, 4))...)},
		{"PNG with XMP", "png", "XMP", append(png, chunk("iTXt", xmp)...)},
		{"PNG with a raw profile", "png", "EXIF", append(png, chunk("tEXt", raw)...)},
		{"PNG with a title", "png", "", append(png, chunk("tEXt", []byte("Title\x00GPS"))...)},
		{"PNG that lies about its length", "png", "", append(png, 0xFF, 0xFF, 0xFF, 0xFF, 'e', 'X', 'I', 'f', 0)},
	} {
		if got := findLocation(row.data, row.kind); got != row.want {
			t.Errorf("%s: got %q, not %q (%s)", row.name, got, row.want, base64.StdEncoding.EncodeToString(row.data))
		}
	}
}

func TestFindLocationNeverFails(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data := append(jpegWith(append([]byte("Exif\x00\x00"), tiff(true, 2, 4)...)), chunk("eXIf", tiff(false, 2))...)
		for range rapid.IntRange(0, 9).Draw(t, "changes") {
			data[rapid.IntRange(0, len(data)-1).Draw(t, "at")] = rapid.Byte().Draw(t, "byte")
		}
		data = data[:rapid.IntRange(0, len(data)).Draw(t, "length")]
		for _, kind := range []string{"jpeg", "png"} {
			if got := findLocation(data, kind); got != "" && got != "EXIF" && got != "XMP" {
				t.Fatalf("got %q", got)
			}
		}
	})
}
