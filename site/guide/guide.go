// Package guide is how to write records, by topic: one text for the terminal
// and for the site. Its examples are tried by a test.
package guide

import _ "embed"

// Topic is one page of the guide, in Markdown.
type Topic struct{ Name, About, Text string }

//go:embed records.md
var records string

//go:embed years.md
var years string

//go:embed sources.md
var sources string

//go:embed disputes.md
var disputes string

// Topics are the pages of the guide, in the order in which to read them.
var Topics = []Topic{
	{"records", "How records are written", records},
	{"years", "How years are written, sure and unsure", years},
	{"sources", "How sources are recorded and cited", sources},
	{"disputes", "What to do where sources disagree", disputes},
}
