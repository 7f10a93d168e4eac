package checks

var outsidePicture = Check{
	Name: "outside-picture", Family: Pictures, Level: Error,
	Meaning: "The text shows a picture that does not lie in the folder pictures; published pages load nothing from elsewhere.",
	Example: `![The oval mark](https://example.org/oval.png)
→ "https://example.org/oval.png" is not a picture of ours`,
	Remedy: "Put a copy into the folder pictures and write its path, as in ![The oval mark](pictures/marks/oval.svg).",
	Run: func(p *Pass) {
		for _, e := range p.prose() {
			for _, m := range e.images {
				if _, ours := pictureBelow(m.text); !ours {
					p.Report(Finding{Pos: m.pos, Width: m.width, Message: quote(m.text) + " is not a picture of ours"})
				}
			}
		}
	},
}
