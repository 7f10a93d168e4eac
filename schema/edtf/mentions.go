package edtf

import "regexp"

// Common usage, no source.
const (
	fullYear   = `(?:1[89]|20)[0-9]{2}`
	fullDecade = `(?:1[89]|20)[0-9]0[’']?s`
	shortForm  = `[’'][0-9]{2}`
	wordForm   = tensWords + `[- ]` + unitWords
	lead       = `in|from|since|by|to|until|till|after|before|about|around|during|then|early|late|of|spring|summer|autumn|winter`
	through    = `(?: ?[-–] ?| to | until | till | through )`
	partOf     = `(?:early|mid|late|(?:beginning|middle|start|end) of)[- ](?:in )?(?:the )?`
	decade     = `(?:` + fullDecade + `|[’']?[0-9]0[’']?s|` + decadeWords + `)`
)

var (
	mention = regexp.MustCompile(`(?i)(?:^|[^\pL0-9’'])(?:(` +
		`(?:` + partOf + `|the )` + decade + `|` + fullDecade +
		`|(?:about |around |circa |c\. ?|ca\. ?)?(?:` + fullYear + `(?:` + through + `(?:` + fullYear + `|[0-9]{2}))?|` + shortForm + `(?:` + through + `[’']?[0-9]{2})?)` +
		`|` + yearInWords + `)` +
		`|(?:` + lead + `) (` + wordForm + `(?:(?: and | or |` + through + `)` + wordForm + `)*)` +
		`|(` + wordForm + `|` + decadeWords + `))`)
	// measured is what follows a figure that is no year: 30#, 42 or 45 pounds, 28 to 30 inches.
	measured = regexp.MustCompile(`(?i)^(?:[\pL0-9]|[’'](?:[^s]|$)|(?:(?: to | and | or |[-–])[\pL0-9’'-]+)?(?:["”″%#]|[- ]?(?:lbs?|pounds?|pounders?|inch(?:es)?|kg|mm|cm|strands?|per ?cent|degrees?|shillings?|guineas?|years?|yards?|arrows?|bows|times)\b))`)
)

// Mention is words in a running text that may name years; FromWords reads them.
type Mention struct {
	From, To int  // bytes of the text
	Sure     bool // it is not only a number in words, which might count anything
}

// Mentions finds where running text names years: "1965", "'65", "1964-67", "the
// early sixties", "in sixty-six". Figures that measure something, as in 30# or
// 28 inches, are left out.
func Mentions(text string) []Mention {
	var found []Mention
	for _, at := range mention.FindAllStringSubmatchIndex(text, -1) {
		for group := 2; group < len(at); group += 2 {
			if from, to := at[group], at[group+1]; from >= 0 && !measured.MatchString(text[to:]) {
				found = append(found, Mention{from, to, group < 6})
			}
		}
	}
	return found
}
