package pages

import (
	"html/template"
	"sync"

	"yearmark/site/markup"
)

// frames keeps what pages share, written once for each way up to the root and
// each place in the masthead.
type frames struct {
	mu    sync.Mutex
	known map[frameKey]template.HTML
}

type frameKey struct {
	part, root, way string
	here            bool
}

// once gives a part of the frame, written when it is first asked for.
func (f *frames) once(key frameKey, write func() template.HTML) template.HTML {
	f.mu.Lock()
	defer f.mu.Unlock()
	part, ok := f.known[key]
	if !ok {
		part = write()
		f.known[key] = part
	}
	return part
}

// masthead is the site's name and its main ways, the page's own marked.
func (p *page) masthead(way string) template.HTML {
	here := p.path == way
	return p.frames.once(frameKey{"masthead", p.root, way, here}, func() template.HTML {
		w := markup.New(2048)
		w.Tag("<header class=\"masthead\">\n<div class=\"masthead-inner\">\n<p class=\"nameplate\">").Link(p.to("index.html"), p.ref.Settings.Name.Value)
		w.Tag("</p>\n<nav aria-label=\"Site\"><ul class=\"ways\">\n")
		for _, to := range ways {
			w.Tag(`<li><a`)
			if to.Lead {
				w.Tag(` class="lead"`)
			}
			w.Tag(` href="`).Address(p.to(to.Href)).Tag(`"`)
			switch {
			case to.Href == way && here:
				w.Tag(` aria-current="page"`)
			case to.Href == way:
				w.Tag(` aria-current="true"`)
			}
			w.Tag(`>`).Text(to.Text).Tag("</a></li>\n")
		}
		return w.Tag("</ul></nav>\n</div>\n</header>\n<div class=\"lamination\"></div>").Done()
	})
}

// footer is what the register is, what else can be read, and the caution.
func (p *page) footer() template.HTML {
	return p.frames.once(frameKey{part: "footer", root: p.root}, func() template.HTML {
		w := markup.New(4096)
		w.Tag("<footer class=\"footer\">\n<div class=\"footer-inner\">\n")
		p.writeEdition(w)
		p.writeWays(w, "Reading", "Reading", p.reading())
		p.writeWays(w, "About the register", "Behind the register", behind)
		w.Tag(`<div><h2>Before you string it</h2><p>Old bows break, and hurt people. Nothing here certifies a bow as safe: ask a bowyer, and keep to the range’s rules and to local law.`)
		if cautions, ok := p.ref.Pages.Get(cautionsID); ok {
			w.Tag(` `).Link(p.to(cautions.Address()), cautions.Title())
		}
		return w.Tag("</p></div>\n</div>\n</footer>").Done()
	})
}

func (p *page) writeEdition(w *markup.Writer) {
	settings, edition := p.ref.Settings, p.facts.Edition
	w.Tag(`<div><h2>`).Text(settings.Name.Value).Tag("</h2>\n")
	if settings.Editor.Value != "" {
		w.Tag(`<p>Kept by `).Text(settings.Editor.Value).Tag(".</p>\n")
	}
	w.Tag(`<p>Edition of <span class="figure">`).Text(edition.Date).Tag(`</span><br><span class="fixed">`).Text(edition.Hash).Tag("</span></p>\n")
	if settings.Licence.Value != "" {
		w.Tag(`<p>Text and data: `).Text(settings.Licence.Value).Tag("</p>\n")
	}
	w.Tag("</div>\n")
}

// write writes a page around its matter.
func (b *base) write(w *markup.Writer, matter func(*markup.Writer) error) error {
	b.writeHead(w)
	w.Tag("<body>\n<a class=\"skip\" href=\"#Main\">Skip to the page's matter</a>\n").HTML(b.Masthead).Tag("\n<main id=\"Main\">\n")
	if err := matter(w); err != nil {
		return err
	}
	w.Tag("\n</main>\n").HTML(b.Footer).Tag("\n</body>\n</html>\n")
	return nil
}

// writeHead writes what stands before a page's body.
func (b *base) writeHead(w *markup.Writer) {
	w.Tag("<!doctype html>\n<html lang=\"").Text(b.Language).Tag(`"`)
	if b.Class != "" {
		w.Tag(` class="`).Text(b.Class).Tag(`"`)
	}
	w.Tag(">\n<head>\n<meta charset=\"utf-8\">\n" +
		"<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'\">\n" +
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"referrer\" content=\"no-referrer\">\n<title>").Text(b.Title)
	if b.Path != "" {
		w.Tag(` · `).Text(b.SiteName)
	}
	w.Tag("</title>\n")
	if b.Description != "" {
		w.Tag(`<meta name="description" content="`).Text(b.Description).Tag("\">\n")
	}
	w.Tag(`<link rel="stylesheet" href="`).Address(b.Root + b.Style).Tag("\">\n<link rel=\"icon\" href=\"").Address(b.Root + b.Icon).Tag("\" type=\"image/svg+xml\">\n")
	if b.Feed != "" {
		w.Tag(`<link rel="alternate" type="application/atom+xml" href="`).Address(b.Root + b.Feed).Tag("\" title=\"Changes\">\n")
	}
	for _, module := range b.Preloads {
		w.Tag(`<link rel="modulepreload" href="`).Address(b.Root + module).Tag("\">\n")
	}
	for _, module := range b.Scripts {
		w.Tag(`<script type="module" src="`).Address(b.Root + module).Tag("\"></script>\n")
	}
	w.Tag("</head>\n")
}

func (p *page) writeWays(w *markup.Writer, label, heading string, list []anchor) {
	if len(list) == 0 {
		return
	}
	w.Tag(`<nav aria-label="`).Text(label).Tag(`"><h2>`).Text(heading).Tag("</h2><ul>\n")
	for _, a := range list {
		w.Tag(`<li>`).Link(p.to(a.Href), a.Text).Tag("</li>\n")
	}
	w.Tag("</ul></nav>\n")
}
