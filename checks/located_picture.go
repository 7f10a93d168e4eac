package checks

var locatedPicture = Check{
	Name: "located-picture", Family: Pictures, Level: Warning, needsFiles: true,
	Meaning: "A photograph says where on earth it was taken, most likely somebody's home. The published site drops this, but whoever is given the folder can read it.",
	Example: `# pictures/examples/0007-mark.jpg, straight from a telephone
→ the picture says where it was taken (EXIF)`,
	Remedy: "Save the picture again without its location, and turn locations off in the camera.",
	Run: func(p *Pass) {
		for _, picture := range p.pictures() {
			if picture.location != "" {
				p.Reportf(pictureStart(picture.below), "the picture says where it was taken (%s)", picture.location)
			}
		}
	},
}
