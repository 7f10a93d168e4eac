package checks

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"yearmark/testdata/need"
)

const svgHead = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">`

// hostileDrawings is what SVG 2 (W3C Candidate Recommendation, chapters 5, 15, 16 and 17) and CSS
// let run or load, and ways to hide it.
var hostileDrawings = []string{
	`<script>x()</script>`, `<script href="x.js"/>`, `<g onclick="x()"/>`, `<g ONMOUSEOVER="x()"/>`, `<g xml:base="https://e.org/"/>`,
	`<a href="https://e.org"/>`, `<a xlink:href="javascript:x()"/>`, `<foreignObject/>`, `<iframe xmlns="http://www.w3.org/1999/xhtml" src="x"/>`,
	`<html:script xmlns:html="http://www.w3.org/1999/xhtml">x()</html:script>`, `<image href="x.png"/>`, `<image xlink:href="//e.org/x.png"/>`,
	`<image href="data:image/svg+xml;base64,PHN2Zy8+"/>`, `<use href="other.svg#a"/>`, `<use href="data:image/png;base64,AA=="/>`,
	`<path fill="url(https://e.org/p)"/>`, `<path style="fill:url( 'x.svg#a' )"/>`, `<path fill="URL(x)"/>`, `<style>@import url(x.css);</style>`,
	`<style>@IMPORT "x.css";</style>`, `<style>p{background:u\72l(x)}</style>`, `<path style="fill:\75rl(x)"/>`, `<style>a{behavior:url(#x)}</style>`,
	`<style>a{-moz-binding:none}</style>`, `<style>a{width:expression(x())}</style>`, `<style>a{background:image-set("x.png" 1x)}</style>`,
	`<set attributeName="href" to="x"/>`, `<animate attributeName="href" values="javascript:x()"/>`, `<handler/>`, `<listener/>`,
	`<video/>`, `<audio/>`, `<embed/>`, `<object/>`, `<link rel="stylesheet" href="x"/>`, `<filter><feImage href="x.png"/></filter>`,
	`<g id="a"><use href="#a"/></g>`, `<g id="a"><use href="#b"/></g><g id="b"><use xlink:href="#a"/></g>`,
	`<style>@im<!-- -->port url(x.css);</style>`, `<style>@im<![CDATA[port "x.css";]]></style>`, `<style>@im<?x?>port "x.css";</style>`, `<style>@imp&#111;rt "x.css";</style>`,
	`<style>p{fill:u<!-- -->rl(//e.org/x)}</style>`, `<style>p{fill:url(<![CDATA[//e.org/x)}]]></style>`, `<style><g/>@import "x.css";</style>`, `<style type="text/xsl"/>`,
	`<style>@font-face{src:url(#a)}</style>`, `<style>@media screen{@import "x.css";}</style>`, `<style>a{fill:red</style>`, `<style>a{b{fill:red}}</style>`, `<style>:has(a){fill:red}</style>`,
	`<style>a{--x:url(#a)}</style>`, `<path style="fill:var(--x)"/>`, `<path style="content:attr(href)"/>`, `<path style="animation:x 1s"/>`, `<path style="fill:src(#a)"/>`,
	`<path fill="url(#%61)"/>`, `<use href="#xpointer(id('a'))"/>`, `<path style="fill:url(#a"/>`, `<path mask="url()"/>`, `<path fill="red;x:y"/>`, `<g xml:id="a"/>`, `<g src="x"/>`,
	`<g href="#a" href="#b"/>`, `<g xmlns:i="http://www.inkscape.org/namespaces/inkscape"><i:x><script>x()</script></i:x></g>`, `<g xmlns:i="http://www.inkscape.org/namespaces/inkscape"><i:x><g/></i:x></g>`,
	`<g xmlns:i="http://www.inkscape.org/namespaces/inkscape"><i:x onclick="x()"/></g>`, `<i:x xmlns:i="http://unknown.example.org/"/>`, `<g i:x="y"/>`, `<i:script/>`,
	`<g xmlns:ev="http://www.w3.org/2001/xml-events" ev:event="load"/>`, `<filter><feTurbulence baseFrequency="9"/></filter>`, `<filter><feConvolveMatrix order="99"/></filter>`, `<image href="data:image/png;base64,AA=="/>`,
	`<g><unknown-thing/></g>`, `<text><tref xlink:href="x#y"/></text>`, `<cursor/>`, `<discard/>`, `<mpath/>`,
}

func TestInspectSVGRefuses(t *testing.T) {
	for _, body := range hostileDrawings {
		if len(InspectSVG([]byte(svgHead+body+"</svg>"))) == 0 {
			t.Errorf("taken as harmless: %.200s", body)
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

// harmlessDrawings is what draws and does no more.
var harmlessDrawings = []string{
	`<path d="M0 0h9" fill="currentColor" stroke-width="1"/>`, `<path fill="url(#a)"/>`, `<path style="fill:url('#a')"/>`, `<use href="#a"/>`,
	`<use xlink:href="#a"/>`, `<style>.a{fill:red;stroke:url(#b)}</style>`, `<title>Only &amp; oval</title>`,
	`<text transform="rotate(4)">x</text>`, `<g xmlns:ink="http://www.inkscape.org/namespaces/inkscape" ink:label="Layer"><ink:guide/></g>`, `<!-- a note -->`,
	`<filter><feGaussianBlur stdDeviation="1"/></filter>`, `<g id="a"><path/></g><g id="b"><use href="#a"/><use href="#a"/></g><use href="#b"/><use href="#nowhere"/>`, `<path id="one" class="on" opacity=".5"/>`,
	`<style>/* a */ .a, g > .b:hover, #c path{fill:RED !important;font:12px/1.5 "Some Face", serif}<!-- aside -->@media (min-width: 40px){*{opacity:0.5}}</style>`, `<style><![CDATA[.a{fill:#123456}]]></style>`,
	`<path style="fill:rgba(1,2,3,.4);-inkscape-stroke:none;transform:rotate(4deg)"/>`, `<path mask="url(#m)"/><mask id="m"><path fill="url( &quot;#g&quot; )"/></mask><linearGradient id="g"><stop/></linearGradient>`,
	`<g fill="url(#g)"><linearGradient id="g" xlink:href="#h"/><linearGradient id="h"/><path/></g>`, `<filter id="f"><feDropShadow dx="1"/></filter><g filter="url(#f)"><path/></g>`, `<a:b xmlns:a="http://purl.org/dc/elements/1.1/">by nobody</a:b>`,
}

func TestInspectSVGAllows(t *testing.T) {
	for _, body := range harmlessDrawings {
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
	faults = InspectSVG([]byte(svgHead + "<style>\n.a{fill:red}\n\n  .b{fill:url(x)}\n</style></svg>"))
	if len(faults) != 1 || faults[0].Line != 4 || faults[0].Column != 11 {
		t.Errorf("in a style: %+v", faults)
	}
}

// TestDrawingsThatTakeTooLong: what refers to one another is counted as often
// as a browser draws it, however it is referred to, and rings are refused.
func TestDrawingsThatTakeTooLong(t *testing.T) {
	const shape = `<path d="M0 0h9v9z"/>`
	ways := map[string][2]string{ // a part that is made of a text, and what draws that part
		"mask": {`<mask id="%s">%s</mask>`, `<path mask="url(#%s)"/>`}, "mask in a style": {`<mask id="%s">%s</mask>`, `<path style="mask:url('#%s')"/>`},
		"clip": {`<clipPath id="%s">%s</clipPath>`, `<path clip-path="url(#%s)"/>`}, "use": {`<g id="%s">%s</g>`, `<use href="#%s"/>`},
		"pattern": {`<pattern id="%s">%s</pattern>`, `<path fill="url(#%s)"/>`}, "stroke": {`<pattern id="%s">%s</pattern>`, `<path stroke="url(#%s)"/>`},
		"marker": {`<marker id="%s">%s</marker>`, `<path marker-end="url(#%s)"/>`}, "inherited": {`<pattern id="%s">%s</pattern>`, `<g fill="url(#%s)"><path/></g>`},
		"symbol": {`<symbol id="%s">%s</symbol>`, `<use xlink:href=" #%s"/>`},
	}
	for name, way := range ways {
		text := shape
		for i := range 10 {
			id := fmt.Sprintf("p%d", i)
			text = fmt.Sprintf(way[0], id, text) + strings.Repeat(fmt.Sprintf(way[1], id), 4)
		}
		wantFault(t, name+" of many of many", text, "than a browser can draw")
		wantFault(t, name+" in a ring", fmt.Sprintf(way[0], "a", fmt.Sprintf(way[1], "b"))+fmt.Sprintf(way[0], "b", fmt.Sprintf(way[1], "a")), "within itself")
		chain := ""
		for i := range 25 {
			chain += fmt.Sprintf(way[0], fmt.Sprintf("p%d", i), fmt.Sprintf(way[1], fmt.Sprintf("p%d", i+1)))
		}
		wantFault(t, name+" in a long row", chain+shape, "more than 12 deep")
	}
	pattern := `<pattern id="p">` + strings.Repeat(shape, 100) + `</pattern>`
	wantFault(t, "a pattern on all of a group", pattern+`<g fill="url(#p)">`+strings.Repeat(shape, 200)+`</g>`, "than a browser can draw")
	wantFault(t, "a pattern on all that is used", pattern+`<defs><g id="g">`+strings.Repeat(shape, 200)+`</g></defs><use fill="url(#p)" href="#g"/>`, "than a browser can draw")
	wantFault(t, "a pattern by a class", pattern+`<style>.a{fill:url(#p)}</style>`+strings.Repeat(`<path class="b A"/>`, 200), "than a browser can draw")
	wantFault(t, "a ring by a style sheet", `<style>rect{mask:url(#m)}</style><mask id="m"><rect/></mask>`, "within itself")
	wantFault(t, "markers on vertices", `<marker id="m">`+shape+`</marker><path marker-mid="url(#m)" d="M0 0`+strings.Repeat("h1", 40_000)+`"/>`, "than a browser can draw")
	wantFault(t, "filters", `<filter id="f"><feGaussianBlur/></filter>`+strings.Repeat(`<g filter="url(#f)">`+shape+`</g>`, 60), "than a browser can draw")
	wantFault(t, "layers in layers", strings.Repeat(strings.Repeat(`<g opacity=".9">`, 150)+shape+strings.Repeat("</g>", 150), 3), "than a browser can draw")
	wantFault(t, "many selectors", `<style>`+strings.Repeat("* * *{fill:red}", 1999)+`</style>`+strings.Repeat("<g/>", 9000), "selectors take too long")
	wantFault(t, "more selectors", `<style>`+strings.Repeat("a{fill:red}", 2001)+`</style>`, "more selectors")
	wantFault(t, "long selectors", `<style>a b>c d{fill:red}</style>`, "selector of more parts")
	for name, body := range map[string]string{
		"many shapes": strings.Repeat(shape, 20_000), "many gradients": `<linearGradient id="g"><stop/><stop/></linearGradient>` + strings.Repeat(`<path fill="url(#g)"/>`, 3000),
		"many classes": `<style>` + strings.Repeat(".a{fill:red}", 500) + `</style>` + strings.Repeat(`<path class="a"/>`, 1500), "many masks": `<mask id="m">` + shape + `</mask>` + strings.Repeat(`<path mask="url(#m)"/>`, 100),
	} {
		if faults := InspectSVG([]byte(svgHead + body + "</svg>")); len(faults) > 0 {
			t.Errorf("%s: %v", name, faults)
		}
	}
}

func wantFault(t *testing.T, name, body, part string) {
	t.Helper()
	faults := InspectSVG([]byte(svgHead + body + "</svg>"))
	if len(faults) != 1 || !strings.Contains(faults[0].What, part) {
		t.Errorf("%s: wanted %q, got %v", name, part, faults)
	}
}

// TestDrawingsOfPrograms: drawings as two vector programs write them pass with
// their notes, and one with a document type passes once the remedy is followed.
func TestDrawingsOfPrograms(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(need.Root(t), "testdata", "drawings", "*.svg"))
	if err != nil || len(files) < 2 {
		t.Fatalf("%d drawings, %v", len(files), err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		faults := InspectSVG(data)
		if from := bytes.Index(data, []byte("<!DOCTYPE")); from >= 0 {
			if len(faults) != 1 || !strings.Contains(faults[0].Help, "Delete it, from <!DOCTYPE") {
				t.Errorf("%s: %v", file, faults)
			}
			to := from + bytes.IndexByte(data[from:], '>') + 1
			faults = InspectSVG(slices.Concat(data[:from], data[to:]))
		}
		for _, fault := range faults {
			t.Errorf("%s:%d: the drawing %s", file, fault.Line, fault.What)
		}
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
