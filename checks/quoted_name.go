package checks

import (
	"strings"
	"unicode/utf8"

	"yearmark/schema"
)

var quotedName = Check{
	Name: "quoted-name", Family: Prose, Level: Warning,
	Meaning: "A name begins and ends with curly quotes, which are part of the name then: only straight ones are the quotes of a record.",
	Example: `name: “Stang”
→ the quotes of "“Stang”" are part of the name`,
	Remedy: "Write straight quotes, or none; word processors make curly ones by themselves.",
	Run: func(p *Pass) {
		for _, m := range p.Ref.Makers.All() {
			p.quotedName(m.Name)
		}
		for _, m := range p.Ref.Models.All() {
			p.quotedName(m.Name)
		}
		for _, f := range p.Ref.Features.All() {
			p.quotedName(f.Name)
			for _, v := range f.Values {
				p.quotedName(v.Name)
			}
		}
	},
}

func (p *Pass) quotedName(t schema.Text) {
	first, size := utf8.DecodeRuneInString(t.Value)
	last, _ := utf8.DecodeLastRuneInString(t.Value)
	if len(t.Value) <= size || !strings.ContainsRune("“”„‘‚«»‹›", first) || !strings.ContainsRune("“”’‘«»‹›", last) {
		return
	}
	bare := strings.Trim(t.Value, "“”„‘’‚«»‹›")
	p.Report(Finding{Pos: t.Pos, Message: "the quotes of " + quote(t.Value) + " are part of the name", Help: "Write " + quote(bare) + ": straight quotes, or none.", Remedies: []schema.Remedy{{Title: "Write " + quote(bare), Edits: []schema.Edit{{Pos: t.Pos, New: bare}}}}})
}
