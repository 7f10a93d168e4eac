package checks

var wordlessPicture = Check{
	Name: "wordless-picture", Family: Pictures, Level: Error,
	Meaning: "A picture has no words for people who cannot see it.",
	Example: `pictures:
  - {file: marks/oval.svg}
→ "marks/oval.svg" is shown without words`,
	Remedy: "Say what it shows: shows: \"Mark on the upper limb\" in an example, ![Mark on the upper limb](…) in a text.",
	Run: func(p *Pass) {
		for _, m := range p.namedPictures() {
			if m.noAlt {
				p.Report(Finding{Pos: m.pos, Width: m.width, Message: quote(m.text) + " is shown without words"})
			}
		}
	},
}
