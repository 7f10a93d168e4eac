package words

import (
	"github.com/blevesearch/go-porterstemmer"
)

// Stem gives the term that a folded word stands for: its base where it is an irregular
// form, without its ending, by Porter's algorithm as Bleve's English analyzer
// applies it. A word that holds a figure is left alone.
func Stem(word string) string {
	if base, ok := irregular[word]; ok {
		word = base
	}
	letters := []rune(word)
	for _, r := range letters {
		if isDigit(r) {
			return word
		}
	}
	return string(porterstemmer.StemWithoutLowerCasing(letters))
}
