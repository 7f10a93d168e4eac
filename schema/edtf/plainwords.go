package edtf

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Offer is an expression that may be meant by years in plain words.
type Offer struct {
	Write string // in EDTF
	When  string // the case in which it is meant, as in "for one year of it"; empty where there is no other
}

// maxPlain bounds the bytes of a text that is taken for years in plain words.
const maxPlain = 120

// FromWords gives what people mean by years in plain words: "about 1965",
// "early 60s", "before 1970" (which leaves 1970 out), "summer 1964". More than
// one offer asks which is meant; none says that the text is not understood. A
// text in EDTF is its own only offer. A year of two digits is of the century
// given: 19 makes 1965 of '65 and of sixty-five.
func FromWords(text string, century int) []Offer {
	text = strings.TrimSpace(text)
	if readable(text) {
		return []Offer{{Write: text}}
	}
	if len(text) > maxPlain {
		return nil
	}
	tidy := inFigures(plain(strings.Trim(text, ".,;")))
	for _, r := range plainForms {
		tidy = r.pattern.ReplaceAllString(tidy, strings.ReplaceAll(r.with, "CC", strconv.Itoa(century)))
	}
	if readable(tidy) {
		return []Offer{{Write: tidy}}
	}
	if offers := bounded(tidy); len(offers) > 0 {
		return offers
	}
	_, found := meant(tidy)
	return public(found)
}

const (
	unitWords   = `(?:one|two|three|four|five|six|seven|eight|nine)`
	teenWords   = `(?:ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen)`
	tensWords   = `(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)`
	decadeWords = `(?:twenties|thirties|forties|fifties|sixties|seventies|eighties|nineties)`

	// yearInWords is a year with its century, of which two figures are said, a ten or an oh.
	yearInWords = `(?:eighteen|nineteen)[- ](?:oh[- ]` + unitWords + `|` + teenWords + `|` + tensWords + `(?:[- ]` + unitWords + `)?)`
)

var (
	spelled     = regexp.MustCompile(`\b(?:` + yearInWords + `|` + tensWords + `(?:[- ]` + unitWords + `)?)\b`)
	numberWords = func() map[string]int {
		by := map[string]int{"oh": 0}
		for words, of := range map[string]struct{ first, step int }{unitWords: {1, 1}, teenWords: {10, 1}, tensWords: {20, 10}} {
			for i, word := range strings.Split(strings.Trim(words, "(?:)"), "|") {
				by[word] = of.first + i*of.step
			}
		}
		return by
	}()
)

// inFigures writes years that are spelled out, in small letters, with two digits
// or four: "sixty-six" as '66, "nineteen oh-six" as 1906.
func inFigures(text string) string {
	return spelled.ReplaceAllStringFunc(text, func(words string) string {
		century, year := "'", 0
		for _, word := range strings.FieldsFunc(words, func(r rune) bool { return r == ' ' || r == '-' }) {
			if n := numberWords[word]; century == "'" && (n == 18 || n == 19) {
				century = strconv.Itoa(n)
			} else {
				year += n
			}
		}
		return fmt.Sprintf("%s%02d", century, year)
	})
}

// bounded reads words that bound years on one side, in small letters.
func bounded(tidy string) []Offer {
	for _, limit := range limits {
		if m := limit.pattern.FindStringSubmatch(tidy); m != nil {
			year, _ := strconv.Atoi(m[1])
			return limit.offers(year)
		}
	}
	return nil
}

func public(found []offer) []Offer {
	var all []Offer
	for _, o := range found {
		all = append(all, Offer{o.write, strings.TrimSpace(o.when)})
	}
	return all
}

// rewriting is one way to bring plain words nearer to what habits read.
type rewriting struct {
	pattern *regexp.Regexp
	with    string // CC stands for the century
}

const months = `jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec`

var plainForms = []rewriting{
	{regexp.MustCompile(`\btwenties\b`), "CC20s"}, {regexp.MustCompile(`\bthirties\b`), "CC30s"},
	{regexp.MustCompile(`\bforties\b`), "CC40s"}, {regexp.MustCompile(`\bfifties\b`), "CC50s"},
	{regexp.MustCompile(`\bsixties\b`), "CC60s"}, {regexp.MustCompile(`\bseventies\b`), "CC70s"},
	{regexp.MustCompile(`\beighties\b`), "CC80s"}, {regexp.MustCompile(`\bnineties\b`), "CC90s"},
	{regexp.MustCompile(`(^|[^0-9])[’']?([0-9]0)[’']?s\b`), "${1}CC${2}s"},
	{regexp.MustCompile(`[’']([0-9]{2})\b`), "CC$1"},
	{regexp.MustCompile(`\b((?:` + months + `)[a-z]*\.?|spring|summer|autumn|fall|winter)[-, ]+([0-9]{2})$`), "$1 CC$2"},
	{regexp.MustCompile(`\b((?:` + months + `)[a-z]*\.?)-([0-9]{4})$`), "$1 $2"},
	{regexp.MustCompile(`^(circa|ca|c|about|around|before|after|by|since|from|until)(\.? ?)([0-9]{2})$`), "$1 CC$3"},
	{regexp.MustCompile(`^(?:the )?(?:beginning|start|first (?:years|part)) of (the )?`), "early "},
	{regexp.MustCompile(`^(?:the )?middle of (the )?`), "mid "},
	{regexp.MustCompile(`^(?:the )?(?:end|last (?:years|part)) of (the )?`), "late "},
	{regexp.MustCompile(`^(?:early|mid|late|beginning|end)[- ](?:in )?([0-9]{4})$`), "$1"}, // the grid is the year
	{regexp.MustCompile(`^(?:at )?(?:easter|christmas|xmas|whitsun|michaelmas|new year) ?,? ?([0-9]{4})$`), "$1"},
	{regexp.MustCompile(`^(?:in|during|the year|year|made in|all of|the whole of) (the )?([0-9]{3}[0-9x]s?)$`), "$2"},
	{regexp.MustCompile(`^(?:a few years|a year or two|some years|somewhere|sometime|some time) (?:around|about|either side of|near) (?:the )?([0-9]{4})$`), "about $1"},
	{regexp.MustCompile(`^([0-9]{4}) (?:or so|or thereabouts|give or take(?: a (?:year|few years)| a year or two)?)$`), "about $1"},
	{regexp.MustCompile(`^(?:from )?([0-9]{4}) ?(?:-|to|until|till|through) ?([0-9]{4})$`), "$1/$2"},
	{regexp.MustCompile(`^(?:both )?([0-9]{4}) and ([0-9]{4})$`), "{$1,$2}"},
	{regexp.MustCompile(`^either (?:in )?([0-9]{4}) or (?:in )?([0-9]{4})$`), "$1 or $2"},
	{regexp.MustCompile(`^([0-9]{2})([0-9]{2}) or [’']?([0-9]{2})$`), "$1$2 or $1$3"},
	{regexp.MustCompile(`^one of ([0-9]{4}), ?([0-9]{4})(?:,? (?:and|or) ([0-9]{4}))?$`), "$1 or $2"},
	{regexp.MustCompile(`^(?:from |since )?([0-9]{4}),? (?:and )?(?:still made|still in production|on|onwards?|to (?:the )?(?:present|today|now|date)|until (?:today|now))$`), "$1/.."},
	{regexp.MustCompile(`^(?:from |since )?([0-9]{4}),? (?:end (?:un|not )known|until (?:unknown|\?)|to \?)$`), "$1/"},
	{regexp.MustCompile(`^([0-9]{4}) at (?:the )?latest$`), "by $1"},
	{regexp.MustCompile(`^(?:no|not) later than ([0-9]{4})$`), "by $1"},
	{regexp.MustCompile(`^([0-9]{4}) at (?:the )?earliest$`), "from $1"},
	{regexp.MustCompile(`^(?:no|not) (?:earlier than|before) ([0-9]{4})$`), "from $1"},
}

// yearLimit is a word that bounds years on one side.
type yearLimit struct {
	pattern *regexp.Regexp
	offers  func(year int) []Offer
}

// limits read their words strictly: "before 1970" leaves 1970 out, "by 1970" does not.
var limits = []yearLimit{
	{regexp.MustCompile(`^(?:some time |any time )?(?:before|pre-?|earlier than|prior to) ?([0-9]{4})$`), func(y int) []Offer { return endingIn(y - 1) }},
	{regexp.MustCompile(`^(?:by|until|till|up to|to) ([0-9]{4})$`), endingIn},
	{regexp.MustCompile(`^(?:some time |any time )?(?:after|post-?|later than) ?([0-9]{4})$`), func(y int) []Offer { return startingIn(y + 1) }},
	{regexp.MustCompile(`^(?:from|since) ([0-9]{4})$`), startingIn},
}

func endingIn(year int) []Offer {
	return []Offer{
		{fmt.Sprintf("../%04d", year), fmt.Sprintf("for the years to %d", year)},
		{fmt.Sprintf("[..%04d]", year), fmt.Sprintf("for one year, %d or earlier", year)},
	}
}

func startingIn(year int) []Offer {
	return []Offer{
		{fmt.Sprintf("%04d/..", year), fmt.Sprintf("for the years from %d on, still going", year)},
		{fmt.Sprintf("%04d/", year), fmt.Sprintf("from %d, end not known", year)},
		{fmt.Sprintf("[%04d..]", year), fmt.Sprintf("for one year, %d or later", year)},
	}
}
