package words

import (
	"github.com/blevesearch/go-porterstemmer"
)

// Stem takes the ending off a folded word, by Porter's algorithm as Bleve's
// English analyzer applies it. A word that holds a figure is left alone.
func Stem(word string) string {
	letters := []rune(word)
	for _, r := range letters {
		if isDigit(r) {
			return word
		}
	}
	return string(porterstemmer.StemWithoutLowerCasing(letters))
}
