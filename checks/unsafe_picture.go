package checks

var unsafePicture = Check{
	Name: "unsafe-picture", Family: Pictures, Level: Error, needsFiles: true,
	Meaning: "A drawing holds something that is not known to draw and do no more, such as a script, a handler, an outside reference, a foreign element, or takes a browser too long to draw.",
	Example: `<!-- pictures/marks/oval.svg -->
<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)">
→ the drawing has the handler "onload"`,
	Remedy: "Take it out in a text editor, or save the drawing again as plain SVG.",
	Run: func(p *Pass) {
		for _, picture := range p.pictures() {
			for _, fault := range picture.unsafe {
				p.Report(Finding{Pos: inPicture(picture.below, fault.Line, fault.Column), Message: "the drawing " + fault.What, Help: fault.Help})
			}
		}
	},
}
