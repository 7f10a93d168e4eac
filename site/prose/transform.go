package prose

import (
	"fmt"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// state is what one rendering gathers.
type state struct {
	options  Options
	source   []byte
	ids      map[string]int // by identifier, the last number tried
	notes    map[string]int // by source and place, the index in list
	list     []Note
	headings []Heading
}

var stateKey = parser.NewContextKey()

// transformer replaces the links, images and headings of a parsed text by
// what the page shows in their place.
type transformer struct{}

func (transformer) Transform(doc *ast.Document, _ text.Reader, pc parser.Context) {
	st, ok := pc.Get(stateKey).(*state)
	if !ok {
		return
	}
	var links, images, headings, autos []ast.Node
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			switch n.Kind() {
			case ast.KindLink:
				links = append(links, n)
			case ast.KindImage:
				images = append(images, n)
				return ast.WalkSkipChildren, nil
			case ast.KindHeading:
				headings = append(headings, n)
			case ast.KindAutoLink:
				autos = append(autos, n)
			}
		}
		return ast.WalkContinue, nil
	})
	st.placeHeadings(headings)
	for _, n := range images {
		st.replaceImage(n.(*ast.Image))
	}
	for _, n := range links {
		st.replaceLink(n.(*ast.Link))
	}
	for _, n := range autos {
		st.replaceAuto(n.(*ast.AutoLink))
	}
}

// placeHeadings moves the text's levels below the page's own title, leaves no
// level out, and gives each heading its identifier.
func (st *state) placeHeadings(nodes []ast.Node) {
	var open []int // the written levels of the headings that the next one may stand under
	for _, n := range nodes {
		h := n.(*ast.Heading)
		for len(open) > 0 && open[len(open)-1] >= h.Level {
			open = open[:len(open)-1]
		}
		open = append(open, h.Level)
		h.Level = min(st.options.TopLevel+len(open)-1, 6)
		words := plainText(h, st.source)
		id := st.headingID(words)
		h.SetAttributeString("id", []byte(id))
		st.headings = append(st.headings, Heading{Level: h.Level, ID: id, Text: words})
	}
}

func (st *state) replaceLink(n *ast.Link) {
	address := string(n.Destination)
	kind, id, isOurs := splitOurs(address)
	if !isOurs {
		if Outside(address) {
			adopt(n, &link{address: address, outside: true})
		} else {
			adopt(n, &span{})
		}
		return
	}
	target, found := st.options.Links.Resolve(kind, id)
	switch {
	case !found:
		adopt(n, &span{})
	case kind == "source":
		adopt(n, st.cite(target, id, plainText(n, st.source)))
	default:
		adopt(n, &link{address: target.Address, kind: kind})
	}
}

func (st *state) replaceAuto(n *ast.AutoLink) {
	address := string(n.URL(st.source))
	if n.AutoLinkType == ast.AutoLinkEmail && !strings.HasPrefix(strings.ToLower(address), "mailto:") {
		address = "mailto:" + address
	}
	var made ast.Node = &span{}
	if Outside(address) {
		made = &link{address: address, outside: true}
	}
	label := ast.NewString(n.Label(st.source))
	label.SetRaw(true)
	made.AppendChild(made, label)
	n.Parent().ReplaceChild(n.Parent(), n, made)
}

func (st *state) replaceImage(n *ast.Image) {
	below, ok := pictureBelow(string(n.Destination))
	var shown Picture
	if ok {
		shown, ok = st.options.Links.Picture(below)
	}
	if !ok {
		adopt(n, &span{})
		return
	}
	adopt(n, &picture{shown: shown, alt: plainText(n, st.source)})
}

// cite finds or makes the numbered note of a source and a place in it. The
// place is what follows the first comma of the link's words, as in "list of
// 1964, p. 6".
func (st *state) cite(target Target, id, words string) *citation {
	_, place, _ := strings.Cut(words, ",")
	place = strings.TrimSpace(place)
	key := id + "\x00" + place
	at, known := st.notes[key]
	if !known {
		at = len(st.list)
		st.notes[key] = at
		st.list = append(st.list, Note{
			Number: at + 1, ID: fmt.Sprintf("%s-note-%d", st.options.Prefix, at+1), Source: target, Of: id, Place: place,
		})
	}
	note := &st.list[at]
	mark := fmt.Sprintf("%s-cite-%d-%d", st.options.Prefix, note.Number, len(note.Marks)+1)
	note.Marks = append(note.Marks, mark)
	return &citation{number: note.Number, note: note.ID, mark: mark}
}

// adopt puts made in n's place, with n's children.
func adopt(n, made ast.Node) {
	for c := n.FirstChild(); c != nil; {
		next := c.NextSibling()
		made.AppendChild(made, c)
		c = next
	}
	n.Parent().ReplaceChild(n.Parent(), n, made)
}

// plainText gives the words of a node without any mark-up.
func plainText(n ast.Node, source []byte) string {
	var b strings.Builder
	_ = ast.Walk(n, func(c ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch t := c.(type) {
		case *ast.Text:
			b.Write(t.Value(source))
			if t.SoftLineBreak() || t.HardLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(t.Value)
		}
		return ast.WalkContinue, nil
	})
	return unentity(b.String())
}
