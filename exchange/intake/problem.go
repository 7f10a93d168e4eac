package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Problem is something for which a submission is refused.
type Problem struct {
	Where   string `json:"where"`   // "observation 3, the note"; empty where the whole file is meant
	Message string `json:"message"` // lower case, no full stop
	Help    string `json:"help"`    // what to do, a sentence; may be empty
}

// String gives place and message.
func (p Problem) String() string {
	if p.Where == "" {
		return p.Message
	}
	return p.Where + ": " + p.Message
}

// Problems is all that a submission is refused for.
type Problems []Problem

// Error shows the first problem and counts the others.
func (p Problems) Error() string {
	switch len(p) {
	case 0:
		return "no problems"
	case 1:
		return p[0].String()
	}
	return fmt.Sprintf("%s (and %d more)", p[0], len(p)-1)
}

// maxShown is how many letters of what was sent a message repeats.
const maxShown = 60

// maxProblems is how many problems of one file are reported.
const maxProblems = 20

func (p Problems) sorted() Problems {
	slices.SortStableFunc(p, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.Where, b.Where), cmp.Compare(a.Message, b.Message))
	})
	p = slices.Compact(p)
	return p[:min(len(p), maxProblems)]
}

// whole is a problem of the whole file.
func whole(message, help string) Problems { return Problems{{Message: message, Help: help}} }

// lists are the lists of a submission: what one entry is called, and its keys in words.
var lists = map[string]string{
	"observed": "observation", "marks": "mark", "condition": "condition", "photographs": "photograph", "pictures": "picture", "likely": "likely years", "values": "value", "years": "year",
}

// keyWords are what the other keys are called in messages.
var keyWords = map[string]string{
	"yearmark": "the kind of file", "version": "the version", "reference": "the name of the reference", "edition": "the edition",
	"on": "the day", "model": "the model", "dated": "what the page answered", "weightMark": "the weight mark", "note": "the note",
	"by": "the examiner's name", "private": "the private part", "name": "the name", "contact": "the way to reach the visitor",
	"feature": "the feature", "sure": "how sure the visitor is", "mark": "the mark", "place": "the place", "part": "the part",
	"state": "the state", "fault": "the kind of fault", "file": "the file name", "shows": "what it shows", "year": "the year", "chance": "the chance",
	"about": "what it is about", "stance": "whether it agrees", "knows": "what the visitor knows", "source": "the source", "words": "its words",
}

// placeWords puts the way to a value into words: ["observed", "2", "note"]
// becomes "observation 3, the note".
func placeWords(way []string) string {
	var parts []string
	for i := 0; i < len(way); i++ {
		noun, list := lists[way[i]]
		switch {
		case list && i+1 < len(way):
			var n int
			if _, err := fmt.Sscan(way[i+1], &n); err == nil {
				parts = append(parts, fmt.Sprintf("%s %d", noun, n+1))
				i++
				continue
			}
			parts = append(parts, way[i])
		case list:
			parts = append(parts, "the list "+way[i])
		default:
			parts = append(parts, cmp.Or(keyWords[way[i]], "something unknown"))
		}
	}
	return strings.Join(parts, ", ")
}

// isPrivate says whether what stands there must not be repeated in a message.
func isPrivate(way []string) bool {
	return len(way) > 0 && (way[0] == "private" || way[0] == "photographs")
}
