// Package iiif writes the pages and recordings of sources as IIIF Presentation
// API 3.0 documents (https://iiif.io/api/presentation/3.0/): a manifest for each
// source of which a scan or a recording may be shown, and one collection that
// leads to all of them.
//
// A canvas is one scan, as large as the upright scan in pixels, or one
// recording, as long as it plays. What stands at a place is a transcription
// (motivation supplementing) and each claim that cites the place a comment (W3C
// Web Annotation, motivation commenting) that leads to the claim, both on the
// region or the time of the place (W3C Media Fragments). What a source keeps
// back is in none of them.
package iiif

// context is the JSON-LD context of every document.
const context = "http://iiif.io/api/presentation/3/context.json"

// MediaFragments is what the selectors conform to.
const MediaFragments = "http://www.w3.org/TR/media-frags/"

// words are texts by language.
type words map[string][]string

// pair is a label and what stands beside it.
type pair struct {
	Label words `json:"label"`
	Value words `json:"value"`
}

// resource is anything that a document names or embeds: pictures and sounds,
// pages and data, other documents.
type resource struct {
	ID       string     `json:"id"`
	Type     string     `json:"type"`
	Label    words      `json:"label,omitempty"`
	Format   string     `json:"format,omitempty"`
	Language []string   `json:"language,omitempty"`
	Profile  string     `json:"profile,omitempty"`
	Width    int        `json:"width,omitempty"`
	Height   int        `json:"height,omitempty"`
	Duration float64    `json:"duration,omitempty"`
	Homepage []resource `json:"homepage,omitempty"`
}

type manifest struct {
	Context           string     `json:"@context"`
	ID                string     `json:"id"`
	Type              string     `json:"type"`
	Label             words      `json:"label"`
	Metadata          []pair     `json:"metadata,omitempty"`
	RequiredStatement *pair      `json:"requiredStatement,omitempty"`
	Rights            string     `json:"rights,omitempty"`
	Provider          []resource `json:"provider"`
	Thumbnail         []resource `json:"thumbnail,omitempty"`
	Homepage          []resource `json:"homepage"`
	SeeAlso           []resource `json:"seeAlso"`
	PartOf            []resource `json:"partOf"`
	Items             []canvas   `json:"items"`
}

type collection struct {
	Context  string     `json:"@context"`
	ID       string     `json:"id"`
	Type     string     `json:"type"`
	Label    words      `json:"label"`
	Provider []resource `json:"provider"`
	Homepage []resource `json:"homepage"`
	Items    []resource `json:"items"`
}

type canvas struct {
	ID          string  `json:"id"`
	Type        string  `json:"type"`
	Label       words   `json:"label"`
	Width       int     `json:"width,omitempty"`
	Height      int     `json:"height,omitempty"`
	Duration    float64 `json:"duration,omitempty"`
	Items       []page  `json:"items"`
	Annotations []page  `json:"annotations,omitempty"`
}

// page is an annotation page.
type page struct {
	ID    string       `json:"id"`
	Type  string       `json:"type"`
	Label words        `json:"label,omitempty"`
	Items []annotation `json:"items"`
}

type annotation struct {
	ID         string `json:"id"`
	Type       string `json:"type"`
	Label      words  `json:"label,omitempty"` // who says the words
	Motivation string `json:"motivation"`
	Body       any    `json:"body"`
	Target     any    `json:"target"` // the address of a canvas, or a part of one
}

// text is words that stand in an annotation itself.
type text struct {
	Type     string `json:"type"`
	Value    string `json:"value"`
	Language string `json:"language"`
	Format   string `json:"format"`
}

// part is a region or a stretch of time of a canvas.
type part struct {
	Type     string   `json:"type"`
	Source   string   `json:"source"`
	Selector selector `json:"selector"`
}

type selector struct {
	Type       string `json:"type"`
	ConformsTo string `json:"conformsTo"`
	Value      string `json:"value"`
}
