package checks

import "yearmark/schema"

var unusedPicture = Check{
	Name: "unused-picture", Family: Pictures, Level: Note, absence: true,
	Meaning: "A file lies in the folder pictures, but no record shows it.",
	Example: `# pictures/marks/old-oval.svg, which nothing shows
→ no record shows "marks/old-oval.svg"`,
	Remedy: "Show it where it belongs, or take it out of the folder.",
	Run: func(p *Pass) {
		used := map[string]bool{}
		for _, m := range p.namedPictures() {
			used[m.below] = true
		}
		for _, file := range p.Ref.Pictures {
			if !used[file] {
				p.Reportf(pictureStart(file), "no record shows %s", quote(file))
			}
		}
	},
}

// pictureStart is the place of a picture as a whole.
func pictureStart(below string) schema.Pos { return inPicture(below, 1, 1) }

// inPicture is a place in a picture that is a text, as a drawing is.
func inPicture(below string, line, column int) schema.Pos {
	return schema.At(schema.PicturesFolder+"/"+below, line, column)
}
