package words

import "strings"

// IsStop says whether a folded word is one of grammar, which is not searched for.
func IsStop(word string) bool { return stops[word] }

// StopCount is the number of words of grammar.
func StopCount() int { return len(stops) }

// stops are the words of Bleve's English list, without apostrophes; of those that
// then read as other words (shell, well, shed) none.
var stops = func() map[string]bool {
	set := map[string]bool{}
	for _, w := range strings.Fields(stopWords) {
		set[w] = true
	}
	return set
}()

const stopWords = `
i me my myself we our ours ourselves you your yours yourself yourselves he him his himself she her hers
herself it its itself they them their theirs themselves what which who whom this that these those am is are was
were be been being have has had having do does did doing would should could ought im youre hes shes theyre ive
youve weve theyve youd theyd youll theyll isnt arent wasnt werent hasnt havent hadnt doesnt dont didnt wont
wouldnt shant shouldnt cant cannot couldnt mustnt lets thats whos whats heres theres whens wheres whys hows a an
the and but if or because as until while of at by for with about against between into through during before
after above below to from up down in out on off over under again further then once here there when where why how
all any both each few more most other some such no nor not only own same so than too very
`
