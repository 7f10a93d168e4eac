package search

import (
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/text"

	"yearmark/schema"
)

var markdown = goldmark.New(goldmark.WithExtensions(extension.GFM)).Parser()

// Plain gives the words of Markdown as a reader sees them, one line for each
// block. Raw HTML is text, as on the site; addresses are left out. Prose beyond
// the bounds of schema.Overload has no words.
func Plain(prose string) string {
	if line, _, _ := schema.Overload(prose); line > 0 {
		return ""
	}
	source := []byte(prose)
	var b strings.Builder
	root := markdown.Parse(text.NewReader(source))
	_ = ast.Walk(root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			if n.Type() == ast.TypeBlock {
				endLine(&b)
			}
			return ast.WalkContinue, nil
		}
		writeNode(&b, n, source)
		return ast.WalkContinue, nil
	})
	return strings.TrimSpace(b.String())
}

// writeNode writes the text that a node itself holds.
func writeNode(b *strings.Builder, n ast.Node, source []byte) {
	switch n := n.(type) {
	case *ast.Text:
		b.Write(n.Segment.Value(source))
		if n.SoftLineBreak() || n.HardLineBreak() {
			b.WriteByte(' ')
		}
	case *ast.String:
		b.Write(n.Value)
	case *ast.RawHTML:
		for i := range n.Segments.Len() {
			s := n.Segments.At(i)
			b.Write(s.Value(source))
		}
	case *ast.AutoLink:
		b.Write(n.Label(source))
	case *ast.CodeBlock, *ast.FencedCodeBlock, *ast.HTMLBlock:
		lines := n.Lines()
		for i := range lines.Len() {
			s := lines.At(i)
			b.Write(s.Value(source))
		}
	}
}

// endLine ends a line, once.
func endLine(b *strings.Builder) {
	if s := b.String(); s != "" && s[len(s)-1] != '\n' {
		b.WriteByte('\n')
	}
}

// lead gives the first sentence of what Plain gives, which says what a thing is.
func lead(plain string) string {
	first, _, _ := strings.Cut(plain, "\n")
	sentence, _, _ := strings.Cut(first, ". ")
	return sentence
}
