package guide

import (
	"embed"
	"strings"
)

// Desk tells, in Markdown, how a first model is made at the desk.
//
//go:embed desk.md
var Desk string

//go:embed desk/*.webp
var deskPictures embed.FS

// PictureWidth and PictureHeight are the size of every picture of the desk, in pixels.
const (
	PictureWidth  = 760
	PictureHeight = 560
)

// Step is one step at the desk.
type Step struct {
	Name, Text string // the text in Markdown
	File       string // of its picture, a WebP: "save-and-see-what-is-found.webp"
	Picture    []byte // nil where there is none
}

// DeskSteps gives what stands before the first step, and the steps in order.
// The pictures are made by TestANewcomersFirstModel of package builder.
func DeskSteps() (before string, steps []Step) {
	before, rest, _ := strings.Cut(Desk, "\n### ")
	for part := range strings.SplitSeq(rest, "\n### ") {
		name, text, _ := strings.Cut(part, "\n")
		s := Step{Name: name, Text: strings.TrimSpace(text), File: PictureFile(name)}
		s.Picture, _ = deskPictures.ReadFile("desk/" + s.File)
		steps = append(steps, s)
	}
	return before, steps
}

// PictureFile is the file of the picture of a step, by the step's name.
func PictureFile(name string) string {
	plain := strings.NewReplacer(",", "", " ", "-")
	return plain.Replace(strings.ToLower(name)) + ".webp"
}
