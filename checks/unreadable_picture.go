package checks

var unreadablePicture = Check{
	Name: "unreadable-picture", Family: Pictures, Level: Error, needsFiles: true,
	Meaning: "A file in the folder pictures cannot be shown: it is no JPEG, PNG or SVG, is damaged, or is too large.",
	Example: `# pictures/examples/0007.heic
→ the picture is neither JPEG, PNG nor SVG by its name`,
	Remedy: "Save it as JPEG, PNG or SVG, or make it smaller.",
	Run: func(p *Pass) {
		for _, picture := range p.pictures() {
			if picture.fault != "" {
				p.Report(Finding{Pos: pictureStart(picture.below), Message: "the picture " + picture.fault, Help: picture.remedy})
			}
		}
	},
}
