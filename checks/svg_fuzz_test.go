package checks

import (
	"encoding/xml"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"yearmark/testdata/chromium"
	"yearmark/testdata/need"
)

// FuzzInspectSVG holds whatever passes to a reading of its own: nothing in it
// runs, loads or is unknown.
func FuzzInspectSVG(f *testing.F) {
	for _, body := range append(hostileDrawings, harmlessDrawings...) {
		f.Add(svgHead + body + "</svg>")
	}
	f.Add("<?xml version=\"1.0\"?>\n<!DOCTYPE svg>" + svgHead + "<!-- a --><![CDATA[b]]></svg>")
	f.Fuzz(func(t *testing.T, text string) {
		faults := InspectSVG([]byte(text))
		for _, fault := range faults {
			if fault.Line < 1 || fault.Column < 1 || fault.What == "" {
				t.Fatalf("a fault without a place: %+v", fault)
			}
		}
		if len(faults) > 0 {
			return
		}
		if harm := harmIn(text); harm != "" {
			t.Fatalf("%s in %q", harm, text)
		}
	})
}

var (
	loadsInCSS = regexp.MustCompile(`(?i)@(?:[^m]|m[^e])|\\|src\(|image|var\(|attr\(|expression|binding|behavior|javascript|animation|content`)
	urlInCSS   = regexp.MustCompile(`(?i)url\(\s*["']?(.?)`)
)

// harmIn says what in a drawing runs, loads or is unknown, by names written
// down here once more.
func harmIn(text string) string {
	var open []string
	style := ""
	for d := xml.NewDecoder(strings.NewReader(text)); ; {
		token, err := d.Token()
		if err == io.EOF {
			return ""
		}
		if err != nil {
			return err.Error()
		}
		switch t := token.(type) {
		case xml.StartElement:
			open = append(open, t.Name.Local)
			draws := t.Name.Space == "http://www.w3.org/2000/svg"
			if draws != strings.Contains(" svg g defs symbol use title desc metadata style switch path rect circle ellipse line polyline polygon text tspan textPath linearGradient radialGradient stop pattern clipPath mask marker filter feBlend feColorMatrix feComponentTransfer feComposite feDropShadow feFlood feFuncA feFuncB feFuncG feFuncR feGaussianBlur feMerge feMergeNode feOffset ", " "+t.Name.Local+" ") && draws {
				return "the element " + t.Name.Local
			}
			if !draws && (t.Name.Space == "" || strings.Contains(t.Name.Space, "xhtml") || strings.Contains(t.Name.Space, "Math")) {
				return "the element " + t.Name.Local + " of " + t.Name.Space
			}
			for _, a := range t.Attr {
				if harm := harmInAttribute(a); harm != "" && draws {
					return harm
				}
			}
		case xml.EndElement:
			if open[len(open)-1] == "style" {
				if harm := harmInCSS(style); harm != "" {
					return harm
				}
				style = ""
			}
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 && open[len(open)-1] == "style" {
				style += string(t)
			}
		case xml.Directive:
			return "a document type"
		case xml.ProcInst:
			if t.Target != "xml" {
				return "an instruction"
			}
		}
	}
}

func harmInAttribute(a xml.Attr) string {
	name := strings.ToLower(a.Name.Local)
	switch {
	case strings.HasPrefix(name, "on") && a.Name.Space == "" || name == "src" || name == "base" || name == "action" || name == "attributename" || name == "begin":
		return "the attribute " + name
	case name == "href" && !strings.HasPrefix(strings.TrimSpace(a.Value), "#") && (a.Name.Space == "" || strings.Contains(a.Name.Space, "xlink")):
		return "a reference to " + a.Value
	case name == "style" || name == "fill" || name == "stroke" || name == "mask" || name == "filter" || name == "cursor" || name == "clip-path" || strings.HasPrefix(name, "marker-"):
		return harmInCSS(a.Value)
	}
	return ""
}

// quotedCSS is what names a face of type, and may hold any word.
var quotedCSS = regexp.MustCompile(`"[^"\n]*"|'[^'\n]*'|/\*(?s:.*?)\*/`)

func harmInCSS(text string) string {
	for _, m := range urlInCSS.FindAllStringSubmatch(text, -1) {
		if m[1] != "#" && !quotedCSS.MatchString(text) {
			return "a style that refers elsewhere"
		}
	}
	if plain := quotedCSS.ReplaceAllString(text, " "); loadsInCSS.MatchString(strings.ReplaceAll(plain, "image-rendering", "")) {
		return "a style that loads"
	}
	return ""
}

// TestWhatPassesDrawsAlone shows in a real Chromium all that the gate lets
// pass of the hostile and harmless drawings and of many put together from
// their pieces: nothing runs, and nothing is asked for but the drawings.
func TestWhatPassesDrawsAlone(t *testing.T) {
	need.Chromium(t)
	drawings := passing()
	if len(drawings) < 80 {
		t.Fatalf("only %d drawings pass", len(drawings))
	}
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		var n int
		if _, err := fmt.Sscanf(r.URL.Path, "/%d.svg", &n); err == nil {
			w.Header().Set("Content-Type", "image/svg+xml")
			_, _ = w.Write([]byte(drawings[n]))
			return
		}
		w.Header().Set("Content-Type", "text/html")
		for n := range drawings {
			fmt.Fprintf(w, `<iframe src="%d.svg"></iframe><img src="%d.svg">`, n, n)
		}
	}))
	defer server.Close()
	var mu sync.Mutex
	var asked []string
	tab := chromium.Tab(t, chromedp.WithListener(func(event any) {
		if e, is := event.(*network.EventRequestWillBeSent); is {
			mu.Lock()
			defer mu.Unlock()
			asked = append(asked, e.Request.URL)
		}
	}))
	if _, err := chromedp.Call(tab, network.Enable, network.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(tab, chromedp.Navigate(server.URL+"/all.html")); err != nil {
		t.Fatal(err)
	}
	ran, err := chromedp.Run(tab, chromedp.Evaluate[int](`Array.from(document.querySelectorAll("iframe"), f => f.contentWindow).filter(w => w.ran || !w.document.documentElement || w.document.querySelector("script,a,image,iframe,foreignObject")).length`))
	if err != nil || ran > 0 {
		t.Errorf("%d drawings did more than draw, %v", ran, err)
	}
	mu.Lock()
	defer mu.Unlock()
	own := regexp.MustCompile("^" + regexp.QuoteMeta(server.URL) + `/(\d+\.svg|all\.html|favicon\.ico)$`)
	for _, address := range asked {
		if !own.MatchString(address) {
			t.Errorf("asked for %s", address)
		}
	}
	if len(asked) < len(drawings) {
		t.Errorf("only %d of %d drawings were shown", len(asked), len(drawings))
	}
}

// passing puts drawings together from the pieces of all examples, always the
// same, and gives those that pass.
func passing() (list []string) {
	all := append(append([]string{}, hostileDrawings...), harmlessDrawings...)
	loads := []string{"<", ">", "&lt;", `"`, "'", "/*", "*/", "<!--", "-->", "<![CDATA[", "]]>", "url(x.png)", "@import 'x.css';", `onload="window.ran=1"`, "#a", "{", "}", ";", ":", " "}
	random := rand.New(rand.NewPCG(1, 2))
	for n := range 15_000 {
		body := all[n%len(all)]
		if n >= len(all) {
			for range 1 + random.IntN(3) {
				at := random.IntN(len(body) + 1)
				other := all[random.IntN(len(all))]
				if random.IntN(2) == 0 {
					other = loads[random.IntN(len(loads))]
				}
				body = body[:at] + other + body[min(len(body), at+random.IntN(4)):]
			}
		}
		if text := svgHead + strings.ReplaceAll(body, "x()", "window.ran=1") + "</svg>"; len(text) < 4096 && len(InspectSVG([]byte(text))) == 0 {
			if n < len(all) || strings.ContainsAny(body, "(@") && len(list) < 150 {
				list = append(list, text)
			}
		}
	}
	return list
}
