// Package english puts counts, lists and long texts into words for people, as
// the terminal, the pages and the desk all show them.
package english

import (
	"strconv"
	"strings"
)

// Plural gives the noun for n things: one for 1, else the plural, which is the
// noun with an s where none is given.
func Plural(n int, noun string, plural ...string) string {
	switch {
	case n == 1:
		return noun
	case len(plural) > 0:
		return plural[0]
	}
	return noun + "s"
}

// Count gives a number before its noun: "1 claim", "12 claims".
func Count(n int, noun string, plural ...string) string {
	return strconv.Itoa(n) + " " + Plural(n, noun, plural...)
}

// And joins names as a sentence does: "a, b and c".
func And(names []string) string { return join(names, "and") }

// Or joins names as a choice does: "a, b or c".
func Or(names []string) string { return join(names, "or") }

func join(names []string, word string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " " + word + " " + names[last]
}

// Clip gives the first so many characters of a text, and an ellipsis if there are more.
func Clip(text string, most int) string {
	if letters := []rune(text); len(letters) > most {
		return string(letters[:most]) + "…"
	}
	return text
}
