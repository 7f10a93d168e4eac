package checks

import (
	"regexp"
	"strings"

	"github.com/tdewolff/parse/v2"
	"github.com/tdewolff/parse/v2/css"
)

// cssFault is something in a style that no published page may carry.
type cssFault struct {
	at   int // byte of the text
	what string
}

// declaration is one property that a style sets, with the parts of the
// drawing to which its value refers.
type declaration struct {
	property string
	refers   []string
	value    string
}

// cssRule is a style sheet's rule: what it sets on the elements that the
// selectors pick.
type cssRule struct {
	picks []cssPick
	sets  []declaration
}

// cssPick is the last compound of a selector, in small letters, and how many
// compounds the selector has. It picks no fewer elements than the selector.
type cssPick struct {
	element, id string
	classes     []string
	compounds   int
}

// The bounds of a style sheet.
const (
	mostSelectors = 2000
	mostCompounds = 3 // in one selector
)

// cssReader reads a style token by token. Whatever it does not know it
// refuses, so that it matters little how a browser recovers from an error.
type cssReader struct {
	lexer  *css.Lexer
	at     int // byte after the token
	begins int // of the token
	kind   css.TokenType
	data   string
	faults []cssFault
	picks  int
}

func readCSS(text string) *cssReader {
	r := &cssReader{lexer: css.NewLexer(parse.NewInputString(text))}
	if strings.ContainsAny(text, "\\\x00\f") {
		r.fault(`has a style with escapes, which can hide an address`)
	}
	r.next()
	return r
}

func (r *cssReader) next() {
	for {
		kind, data := r.lexer.Next()
		r.begins = r.at
		r.at += len(data)
		if r.kind, r.data = kind, string(data); kind != css.CommentToken {
			return
		}
	}
}

// fault refuses; nothing is read after it.
func (r *cssReader) fault(what string) { r.faults = append(r.faults, cssFault{r.begins, what}) }

func (r *cssReader) blank() {
	for r.kind == css.WhitespaceToken {
		r.next()
	}
}

func (r *cssReader) ended() bool { return r.kind == css.ErrorToken || len(r.faults) > 0 }

// property reads the value of an attribute that stands for a property.
func property(name, value string) (declaration, []cssFault) {
	r := readCSS(value)
	d := declaration{property: name}
	r.value(&d)
	if !r.ended() {
		r.strange("a value")
	}
	return d, r.faults
}

// declarations reads the text of an attribute style.
func declarations(text string, each func(declaration)) []cssFault {
	r := readCSS(text)
	r.declarations(each)
	if !r.ended() {
		r.strange("a style")
	}
	return r.faults
}

// styleSheet reads the text of an element style: rules, and media around rules.
func styleSheet(text string) (rules []cssRule, wrong []cssFault) {
	r := readCSS(text)
	media := false
	for r.blank(); !r.ended(); r.blank() {
		switch {
		case r.kind == css.AtKeywordToken && strings.EqualFold(r.data, "@media") && !media:
			r.media()
			media = true
		case r.kind == css.RightBraceToken && media:
			r.next()
			media = false
		default:
			rules = append(rules, r.rule())
		}
	}
	if media {
		r.broken()
	}
	return rules, r.faults
}

// broken refuses a style that ends in the midst.
func (r *cssReader) broken() {
	if len(r.faults) == 0 {
		r.fault("has a style that breaks off")
	}
}

// media reads a media rule to its brace.
func (r *cssReader) media() {
	for r.next(); !r.ended() && r.kind != css.LeftBraceToken; r.next() {
		switch r.kind {
		case css.IdentToken, css.WhitespaceToken, css.LeftParenthesisToken, css.RightParenthesisToken, css.ColonToken,
			css.CommaToken, css.DimensionToken, css.NumberToken:
		default:
			r.strange("a media rule")
		}
	}
	r.next()
}

func (r *cssReader) rule() (rule cssRule) {
	rule.picks = r.selectors()
	if r.ended() {
		return rule
	}
	r.next()
	r.declarations(func(d declaration) { rule.sets = append(rule.sets, d) })
	if r.kind != css.RightBraceToken {
		r.broken()
	}
	r.next()
	return rule
}

// selectors reads to the brace that begins the declarations.
func (r *cssReader) selectors() (picks []cssPick) {
	var pick cssPick
	gap := true // the next name begins another compound
	add := func() {
		if gap {
			pick = cssPick{compounds: pick.compounds + 1}
			gap = false
		}
	}
	for ; !r.ended(); r.next() {
		switch {
		case r.kind == css.LeftBraceToken:
			return append(picks, r.done(pick))
		case r.kind == css.CommaToken:
			picks = append(picks, r.done(pick))
			pick, gap = cssPick{}, true
		case r.kind == css.WhitespaceToken, r.kind == css.DelimToken && r.data == ">":
			gap = true
		case r.kind == css.AtKeywordToken && strings.EqualFold(r.data, "@import"):
			r.fault("imports a style")
		case r.kind == css.AtKeywordToken:
			r.fault("has the rule " + quote(r.data) + " in a style")
		default:
			add()
			r.simple(&pick)
		}
	}
	r.broken()
	return nil
}

// simple reads one simple selector into the compound that it belongs to.
func (r *cssReader) simple(pick *cssPick) {
	data := strings.ToLower(r.data)
	switch {
	case r.kind == css.IdentToken:
		pick.element = data
	case r.kind == css.HashToken:
		pick.id = data[1:]
	case r.kind == css.DelimToken && data == "*":
	case r.kind == css.DelimToken && data == ".":
		if r.next(); r.kind != css.IdentToken {
			r.strange("a selector")
		}
		pick.classes = append(pick.classes, strings.ToLower(r.data))
	case r.kind == css.ColonToken:
		if r.next(); !svgStates[strings.ToLower(r.data)] {
			r.strange("a selector")
		}
	default:
		r.strange("a selector")
	}
}

func (r *cssReader) done(pick cssPick) cssPick {
	if r.picks++; r.picks > mostSelectors {
		r.fault("has a style with more selectors than can be drawn quickly")
	}
	if pick.compounds > mostCompounds {
		r.fault("has a selector of more parts than can be drawn quickly")
	}
	return pick
}

// declarations reads properties and values up to a closing brace or the end.
func (r *cssReader) declarations(each func(declaration)) {
	for !r.ended() {
		for r.kind == css.WhitespaceToken || r.kind == css.SemicolonToken {
			r.next()
		}
		if r.ended() || r.kind == css.RightBraceToken {
			return
		}
		d := declaration{property: strings.ToLower(r.data)}
		if r.kind != css.IdentToken || !svgProperties[d.property] && !strings.HasPrefix(d.property, "-inkscape-") {
			r.fault("sets the property " + quote(r.data))
			return
		}
		r.next()
		if r.blank(); r.kind != css.ColonToken {
			r.strange("a style")
			return
		}
		r.next()
		r.value(&d)
		each(d)
		if !r.ended() && r.kind != css.SemicolonToken && r.kind != css.RightBraceToken {
			r.strange("a style")
		}
	}
}

// value reads a value up to what ends it.
func (r *cssReader) value(d *declaration) {
	var text strings.Builder
	defer func() { d.value = strings.ToLower(strings.TrimSpace(text.String())) }()
	depth := 0
	for ; !r.ended(); r.next() {
		switch r.kind {
		case css.IdentToken, css.HashToken, css.StringToken, css.NumberToken, css.PercentageToken, css.DimensionToken,
			css.WhitespaceToken, css.CommaToken:
		case css.DelimToken:
			if r.data != "/" && r.data != "!" && r.data != "." && r.data != "+" && r.data != "-" {
				return
			}
		case css.URLToken:
			id, ok := urlReference(r.data)
			if !ok {
				r.fault("refers to " + quote(addressIn(r.data)))
			}
			d.refers = append(d.refers, id)
		case css.FunctionToken:
			if name := strings.ToLower(strings.TrimSuffix(r.data, "(")); !svgFunctions[name] {
				r.fault("has a style that calls " + quote(name))
			}
			depth++
		case css.RightParenthesisToken:
			if depth--; depth < 0 {
				return
			}
		case css.BadURLToken:
			r.fault("refers to " + quote(addressIn(r.data)))
		default:
			return
		}
		text.WriteString(r.data)
	}
}

var quotedURL = regexp.MustCompile(`^(?i:url)\(\s*(?:"([^"]*)"|'([^']*)'|([^"']*?))\s*\)$`)

// urlReference reads url(…) with a reference to a part of the same drawing.
func urlReference(token string) (id string, ok bool) {
	m := quotedURL.FindStringSubmatch(token)
	if m == nil {
		return "", false
	}
	return partReference(m[1] + m[2] + m[3])
}

func addressIn(token string) string {
	_, inside, _ := strings.Cut(token, "(")
	return strings.Trim(inside, " \t\r\n\"')")
}

func (r *cssReader) strange(of string) {
	if len(r.faults) == 0 {
		r.fault("has " + quote(r.data) + " in " + of)
	}
}
