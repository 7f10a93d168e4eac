package checks

import (
	"strings"

	"golang.org/x/text/unicode/norm"
)

var twinPicture = Check{
	Name: "twin-picture", Family: Pictures, Level: Error,
	Meaning: "The names of two pictures differ in capitals alone, or in how an accent is written. Many computers take them for one name: where the folder or the site is copied there, one picture takes the place of the other.",
	Example: `# pictures/marks/Crown.svg and pictures/marks/crown.svg
→ "marks/crown.svg" and "marks/Crown.svg" are one name on many computers`,
	Remedy: "Give one of them another name, here and in the records that show it.",
	Run: func(p *Pass) {
		first := map[string]string{}
		for _, file := range p.Ref.Pictures {
			name := strings.ToLower(norm.NFC.String(file))
			twin, known := first[name]
			if !known {
				first[name] = file
				continue
			}
			p.Reportf(pictureStart(file), "%s and %s are one name on many computers", quote(file), quote(twin))
		}
	},
}
