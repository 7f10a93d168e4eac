package prose

import (
	"html"
	"strconv"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"
)

// The nodes that stand in place of links and images.
type (
	// span is a link that leads nowhere: its words remain.
	span struct{ ast.BaseInline }
	// link leads to a page of the site, or outside.
	link struct {
		ast.BaseInline
		address, kind string
		outside       bool
	}
	// citation is words with the number of the note that says where they come from.
	citation struct {
		ast.BaseInline
		number     int
		note, mark string
	}
	// picture is a picture of the reference.
	picture struct {
		ast.BaseInline
		shown Picture
		alt   string
	}
)

var (
	kindSpan     = ast.NewNodeKind("Span")
	kindLink     = ast.NewNodeKind("SiteLink")
	kindCitation = ast.NewNodeKind("Citation")
	kindPicture  = ast.NewNodeKind("Picture")
)

func (n *span) Kind() ast.NodeKind     { return kindSpan }
func (n *link) Kind() ast.NodeKind     { return kindLink }
func (n *citation) Kind() ast.NodeKind { return kindCitation }
func (n *picture) Kind() ast.NodeKind  { return kindPicture }

func (n *span) Dump(src []byte, level int)     { ast.DumpHelper(n, src, level, nil, nil) }
func (n *link) Dump(src []byte, level int)     { ast.DumpHelper(n, src, level, nil, nil) }
func (n *citation) Dump(src []byte, level int) { ast.DumpHelper(n, src, level, nil, nil) }
func (n *picture) Dump(src []byte, level int)  { ast.DumpHelper(n, src, level, nil, nil) }

// nodeRenderer writes our nodes, and writes raw HTML as the text it is.
type nodeRenderer struct{}

func (r nodeRenderer) RegisterFuncs(reg renderer.NodeRendererFuncRegisterer) {
	reg.Register(kindSpan, r.span)
	// A link or image within the words of an image is only words.
	reg.Register(ast.KindLink, r.span)
	reg.Register(ast.KindImage, r.span)
	reg.Register(ast.KindAutoLink, r.autoLink)
	reg.Register(kindLink, r.link)
	reg.Register(kindCitation, r.citation)
	reg.Register(kindPicture, r.picture)
	reg.Register(ast.KindRawHTML, r.rawHTML)
	reg.Register(ast.KindHTMLBlock, r.htmlBlock)
	reg.Register(east.KindTable, r.table)
}

func (nodeRenderer) span(util.BufWriter, []byte, ast.Node, bool) (ast.WalkStatus, error) {
	return ast.WalkContinue, nil
}

func (nodeRenderer) autoLink(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, _ = w.Write(util.EscapeHTML(node.(*ast.AutoLink).Label(src)))
	}
	return ast.WalkContinue, nil
}

func (nodeRenderer) link(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	n := node.(*link)
	switch {
	case !entering:
		_, _ = w.WriteString("</a>")
	case n.outside:
		_, _ = w.WriteString(`<a class="outside" rel="external noopener noreferrer" href="` + html.EscapeString(n.address) + `">`)
	default:
		_, _ = w.WriteString(`<a class="to-` + n.kind + `" href="` + html.EscapeString(n.address) + `">`)
	}
	return ast.WalkContinue, nil
}

func (nodeRenderer) citation(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	n := node.(*citation)
	if entering {
		_, _ = w.WriteString(`<span class="cited">`)
		return ast.WalkContinue, nil
	}
	number := strconv.Itoa(n.number)
	_, _ = w.WriteString(`<sup><a class="note-mark" id="` + html.EscapeString(n.mark) + `" href="#` + html.EscapeString(n.note) +
		`" aria-label="note ` + number + `">` + number + `</a></sup></span>`)
	return ast.WalkContinue, nil
}

func (nodeRenderer) picture(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	n := node.(*picture)
	_, _ = w.WriteString(`<img loading="lazy" src="` + html.EscapeString(n.shown.Address) + `" alt="` + html.EscapeString(n.alt) + `"`)
	if n.shown.Width > 0 && n.shown.Height > 0 {
		_, _ = w.WriteString(` width="` + strconv.Itoa(n.shown.Width) + `" height="` + strconv.Itoa(n.shown.Height) + `"`)
	}
	_, _ = w.WriteString(`>`)
	return ast.WalkSkipChildren, nil
}

func (nodeRenderer) rawHTML(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	segments := node.(*ast.RawHTML).Segments
	for i := range segments.Len() {
		s := segments.At(i)
		_, _ = w.Write(util.EscapeHTML(s.Value(src)))
	}
	return ast.WalkSkipChildren, nil
}

func (nodeRenderer) htmlBlock(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	n := node.(*ast.HTMLBlock)
	_, _ = w.WriteString("<p>")
	for i := range n.Lines().Len() {
		line := n.Lines().At(i)
		_, _ = w.Write(util.EscapeHTML(line.Value(src)))
	}
	if n.HasClosure() {
		_, _ = w.Write(util.EscapeHTML(n.ClosureLine.Value(src)))
	}
	_, _ = w.WriteString("</p>\n")
	return ast.WalkSkipChildren, nil
}

// table lets a wide table scroll within its page.
func (nodeRenderer) table(w util.BufWriter, _ []byte, _ ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, _ = w.WriteString("<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"table\">\n<table>\n")
	} else {
		_, _ = w.WriteString("</table>\n</div>\n")
	}
	return ast.WalkContinue, nil
}
