// Package prose turns the Markdown of a record into the HTML of its page.
//
// The text stays plain CommonMark with tables. Three things are ours: links
// whose address begins with the kind of a record lead to its page, a link to a
// source becomes a numbered note, and headings get identifiers that neither
// clash with the page's own nor change when a section moves. Raw HTML is shown
// as the text it is.
package prose

import (
	"bufio"
	"bytes"
	"html"
	"sync"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"yearmark/schema"
)

// Target is where an address leads.
type Target struct {
	Address string // relative to the page being written
	Title   string // the name for people of what is there
}

// Picture is a picture of the reference as the page shows it.
type Picture struct {
	Address       string
	Width, Height int // in pixels; 0 where not known
}

// Links says where the addresses in one page's prose lead.
type Links interface {
	// Resolve finds a record or claim: kind "model" and id "dunlin", kind
	// "claim" and id "padauk-riser" or "plover/padauk-riser".
	Resolve(kind, id string) (Target, bool)
	// Picture finds a picture by its path below the folder pictures.
	Picture(path string) (Picture, bool)
}

// Options says how one text is written.
type Options struct {
	Links Links
	// TopLevel is the level that the highest heading of the text gets; 2 where
	// it is 0.
	TopLevel int
	// Prefix begins every identifier made here, so that two texts can stand on
	// one page; "text" where it is empty.
	Prefix string
}

// Document is one text as HTML with what was found in it.
type Document struct {
	HTML     string // safe to stand in a page
	Notes    []Note
	Headings []Heading
}

// Note is one numbered note: a source and a place in it.
type Note struct {
	Number int
	ID     string   // the note's own identifier on the page
	Marks  []string // identifiers of the places that refer to it
	Source Target
	Of     string // the source's identifier, as the link named it
	Place  string // "p. 6", or empty
}

// Heading is one heading of the text, in the level it was given.
type Heading struct {
	Level int
	ID    string
	Text  string
}

var markdown = goldmark.New(
	goldmark.WithExtensions(
		extension.NewTable(extension.WithTableCellAlignMethod(extension.TableCellAlignNone)),
		extension.Typographer,
	),
	goldmark.WithParserOptions(parser.WithASTTransformers(util.Prioritized(transformer{}, 100))),
	goldmark.WithRendererOptions(renderer.WithNodeRenderers(util.Prioritized(nodeRenderer{}, 100))),
)

// outlet is where a text is written, used again for the next: goldmark would
// make a writer for each.
type outlet struct {
	out bytes.Buffer
	w   *bufio.Writer
}

var outlets = sync.Pool{New: func() any {
	o := &outlet{}
	o.w = bufio.NewWriter(&o.out)
	return o
}}

func render(source []byte, tree ast.Node) (string, error) {
	o := outlets.Get().(*outlet)
	defer outlets.Put(o)
	o.out.Reset()
	o.w.Reset(&o.out)
	err := markdown.Renderer().Render(o.w, source, tree) // it flushes
	return o.out.String(), err
}

// Render turns Markdown into HTML. It never fails: what cannot be followed is
// left as text.
func Render(source string, o Options) Document {
	if o.TopLevel == 0 {
		o.TopLevel = 2
	}
	if o.Prefix == "" {
		o.Prefix = "text"
	}
	src := []byte(source)
	if line, _, _ := schema.Overload(source); line > 0 {
		return Document{HTML: "<pre>" + html.EscapeString(source) + "</pre>"}
	}
	st := &state{options: o, source: src, ids: map[string]int{}, notes: map[string]int{}}
	pc := parser.NewContext()
	pc.Set(stateKey, st)
	tree := markdown.Parser().Parse(text.NewReader(src), parser.WithContext(pc))
	written, err := render(src, tree)
	if err != nil {
		return Document{HTML: "<pre>" + html.EscapeString(source) + "</pre>"}
	}
	return Document{HTML: written, Notes: st.list, Headings: st.headings}
}
