package edtf

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// habit is a way in which people write dates that EDTF writes otherwise. The
// pattern is held against the text in small letters; the offers are templates
// over its groups, and work makes offers that a template cannot.
type habit struct {
	pattern *regexp.Regexp
	reason  string
	offers  []offer
	work    func(groups []string) []offer
}

var (
	fourDigits   = regexp.MustCompile(`\d{4}|\d{3}x`)
	openWords    = regexp.MustCompile(`^(\.\.|…|open|present|now|today|date|current|currently|ongoing|still made)$`)
	unknownWords = regexp.MustCompile(`^(|unknown|uncertain|\?+|not known)$`)
)

const (
	about    = `(?:circa|circ|ca|c|about|abt|around|approx|approximately|roughly|near|~|±)\.? ?`
	month    = `(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?`
	day      = `(\d{1,2})(?:st|nd|rd|th)?`
	notEnded = "if it has not ended"
	orLater  = "for one year, that or later"
	orBefore = "for one year, that or earlier"
)

// when makes the pattern of a habit: it must fit the whole text.
func when(pattern string) *regexp.Regexp { return regexp.MustCompile("^(?:" + pattern + ")$") }

var habits = []habit{
	{when(`(\d{3})[-?_*.u]`), "the last digit of the year is missing", []offer{{"${1}X", "for a year of ${1}0 to ${1}9"}}, nil},
	{when(`(\d{2})(?:--|\?\?|__|\*\*|uu)`), "the last two digits of the year are missing", []offer{{"${1}XX", "for a year of ${1}00 to ${1}99"}}, nil},
	{when(`(\d{3})`), "three digits are not a year", []offer{{"${1}X", "for a year of ${1}0 to ${1}9, or all four digits of the year"}}, nil},
	{when(`(1\d|20)`), "two digits are not a year", []offer{{"${1}XX", "for a year of ${1}00 to ${1}99, or all four digits of the year"}}, nil},
	{when(`(\d{2})00'?s`), "a century or decade is written with X", []offer{{"${1}XX", "for a year of ${1}00 to ${1}99"}, {"${1}0X", "for a year of ${1}00 to ${1}09"}}, nil},
	{when(`(?:the )?(\d{3})0'?s`), "a decade is written with X", []offer{{"${1}X", "for a year of ${1}0 to ${1}9"}, {"${1}0/${1}9", "for all of them"}}, nil},
	{when(about + `(?:the )?(\d{3})0'?s`), "“about” is written ~ after the date, and a decade with X", []offer{{"${1}X~", ""}}, nil},
	{when(about + `(\d{4}|\d{3}x)`), "“about” is written ~ after the year", []offer{{"${1}~", ""}}, nil},
	{when(`(\d{4}|\d{3}x)(?: ?\(?(?:circa|ca|c|approx|about)\.?\)?|-?ish)`), "“about” is written ~ after the year", []offer{{"${1}~", ""}}, nil},
	{when(about + `(\d{4}) ?(?:-|to|/) ?(\d{4})`), "“about” is written ~ after each year that it covers", []offer{{"${1}~/${2}~", "if both are about right"}, {"${1}~/${2}", "if only the first is"}}, nil},
	{when(about + `(\d\d)(\d\d) ?[-/] ?(\d\d)`), "“about” is written ~ after each year that it covers", []offer{{"${1}${2}~/${1}${3}~", "if both are about right"}, {"${1}${2}~/${1}${3}", "if only the first is"}}, nil},
	{when(`early (?:in )?(?:the )?(\d{3})0'?s`), "“early” has no sign of its own", []offer{{"${1}0/${1}4", "or the years that you mean"}}, nil},
	{when(`mid(?:dle)?[- ]?(?:of )?(?:the )?(\d{3})0'?s`), "“mid” has no sign of its own", []offer{{"${1}3/${1}7", "or the years that you mean"}}, nil},
	{when(`late (?:in )?(?:the )?(\d{3})0'?s`), "“late” has no sign of its own", []offer{{"${1}6/${1}9", "or the years that you mean"}}, nil},
	{when(`(?:perhaps|possibly|probably|maybe|likely) (\d{4})|(\d{4}),? ?\(?(?:perhaps|possibly|probably|maybe|uncertain|doubtful)\)?`), "doubt is written ? after the year", []offer{{"${1}${2}?", ""}}, nil},
	{when(`(?:before|until|till|up to|to|by|pre|not after|not later than|at latest|-|\.\.|<=?)[- ]?(\d{4})|(\d{4}) or (?:before|earlier)`), "an open start is written with two dots and a stroke", []offer{{"../${1}${2}", "for the years to ${1}${2}"}, {"[..${1}${2}]", orBefore}}, nil},
	{when(`(?:after|since|from|post|not before|not earlier than|at earliest|>=?)[- ]?(\d{4})|(\d{4}) ?(?:-|\+|\.\.|…|on|onward|onwards|or after|or later|and later)`), "an open end is written with a stroke and two dots", []offer{{"${1}${2}/..", notEnded}, {"${1}${2}/", "if the end is not known"}, {"[${1}${2}..]", orLater}}, nil},
	{when(`(?:between |from )?(\d{4}) ?(?:-|to|until|till|through|and|\.\.|…) ?(\d{4})`), "a stroke stands between the first and the last year", nil, yearsBetween},
	{when(`(\d\d)(\d\d) ?[-/] ?(\d\d)`), "the last year of a span has four digits too", nil, shortYear},
	{when(`(\d{3})(\d) ?[-/] ?(\d)`), "a month and a day have two digits each, a year four", nil, shorterYear},
	{when(`\d{4}(?: ?(?:,|or) ?\d{4})+`), "years to choose from take square brackets, years that all hold curly ones", nil, choices},
	{when(`\d{4}(?: ?(?:,|and|&|\+|;) ?\d{4})+`), "years that all hold stand in curly brackets", nil, allOfThem},
	{when(`[\[{](\d{4})\.\.(\d{4})[\]}]`), "the run ends before it starts", nil, runOfYears},
	{when(`[\[{]?(?:(\d{4}[?~%]?)(?:\.\.|, ?)(\d{4}[?~%]?)[\]}]?|(\d{4}[?~%]?|\.\.)) ?/ ?[\[{]?(?:(\d{4}[?~%]?)(?:\.\.|, ?)(\d{4}[?~%]?)[\]}]?|(\d{4}[?~%]?|\.\.))`), "an end that may lie in several years is written with from and to", nil, endInSeveral},
	{when(`[\[{](\d{4})[-/](\d{4})[\]}]`), "a run in brackets has two dots between its first and last year", nil, runOfYears},
	{when(`(\d{4})p([1-4])`), "the digits that are sure are counted after S", []offer{{"${1}S${2}", ""}}, nil},
	{when(`(\d{4})-?(\d{3})`), "a day is written with its month", nil, dayOfYear},
	{when(`(\d{4})-?w(\d\d)(?:-?[1-7])?`), "a week has no sign of its own", nil, weekOfYear},
	{when(`(\d{4})(\d\d)(\d\d)`), "hyphens stand between year, month and day", []offer{{"${1}-${2}-${3}", ""}}, nil},
	{when(`(\d{4})(\d\d)`), "a hyphen stands between year and month", []offer{{"${1}-${2}", ""}}, nil},
	{when(`y(-?)0*(\d{1,4})`), "Y is for years of more than four digits", nil, paddedYear},
	{when(`y?(-?)0*([1-9]\d{4,8})`), "a year has four digits", []offer{{"Y${1}${2}", "if the year really has so many digits"}}, nil},
	{when(`(\d{4})[-./](\d{1,2})[-./](\d{1,2})`), "year, month and day stand in that order, with hyphens and two digits each", nil, paddedDay},
	{when(`(\d{4})\.(\d{1,2})`), "a hyphen stands between year and month", nil, paddedMonth},
	{when(`(\d{1,2})[-./ ](\d{1,2})[-./ ](\d{4})`), "year, month and day stand in that order", nil, dayFirst},
	{when(`(\d{1,2})[-./ ](\d{4})`), "the year stands before the month", nil, monthFirst},
	{when(`(?:` + day + ` )?` + month + `,? (\d{4})`), "year, month and day stand in that order, in digits", nil, func(g []string) []offer { return named(g[3], g[2], g[1]) }},
	{when(month + ` ` + day + `,? (\d{4})`), "year, month and day stand in that order, in digits", nil, func(g []string) []offer { return named(g[3], g[1], g[2]) }},
	{when(`(\d{4}),? ` + month + `(?: ` + day + `)?`), "year, month and day stand in that order, in digits", nil, func(g []string) []offer { return named(g[1], g[2], g[3]) }},
	{when(`(spring|summer|autumn|fall|winter),? (?:of )?(\d{4})`), "a season is written with a number", nil, func(g []string) []offer { return season(g[2], g[1]) }},
	{when(`(\d{4}),? (spring|summer|autumn|fall|winter)`), "a season is written with a number", nil, func(g []string) []offer { return season(g[1], g[2]) }},
	{when(`(\d{4})-?(?:2[1-9]|3\d|4[01])-\d\d`), "a season or other part of a year has no days", nil, func(g []string) []offer { return only(g[0][:7], "") }},
	{when(`q([1-4])[ /-]?(\d{4})|(\d{4})[ /-]?q([1-4])`), "a quarter of a year is written with a number from 33 to 36", nil, quarter},
	{when(`(?:the )?(\d{1,2})(?:st|nd|rd|th) c(?:entury|ent|\.)?`), "a century is written with XX", nil, century},
	{when(`(?:ad |ce )?(\d{1,4}) ?(?:ad|ce)?`), "a year has four digits", nil, commonEra},
	{when(`(\d{1,4}) ?(?:bc|bce)`), "years before 1 take a minus sign, and 1 BC is 0000", nil, beforeChrist},
	{when(`(\d{4})/p\d.*|p\d.*/(\d{4})`), "a length of time cannot stand in place of a date", []offer{{"${1}/", "with the last year after the stroke"}}, nil},
	{when(`(\d{4})/(?:\d{4}/)+(\d{4})`), "there is more than one stroke", []offer{{"${1}/${2}", "for the whole span"}}, nil},
	{when(`(\d{4})(?: ?/ ?)(?:\.\.)[?~%]`), "an open end cannot have a mark", []offer{{"${1}/..", ""}, {"${1}?/..", "if the start is in doubt"}}, nil},
}

// only makes one offer, or none if it cannot be read.
func only(expression, when string) []offer {
	if !readable(expression) {
		return nil
	}
	return []offer{{expression, when}}
}

func yearsBetween(g []string) []offer {
	first, last := min(g[1], g[2]), max(g[1], g[2])
	return append(only(first+"/"+last, "for the whole span"), only("["+first+".."+last+"]", "for one year of it")...)
}

// shortYear reads the 67 of "1964-67"; a smaller number is no year of the same century.
func shortYear(g []string) []offer {
	if g[3] <= g[2] {
		return nil
	}
	return only(g[1]+g[2]+"/"+g[1]+g[3], "")
}

// shorterYear reads the 7 of "1964-7", which may be a year or a month.
func shorterYear(g []string) []offer {
	year := g[1] + g[2]
	offers := only(year+"-0"+g[3], "for the month")
	if g[3] > g[2] {
		offers = append(offers, only(year+"/"+g[1]+g[3], "for the years")...)
	}
	return offers
}

var eachYear = regexp.MustCompile(`\d{4}`)

func choices(g []string) []offer {
	years := strings.Join(eachYear.FindAllString(g[0], -1), ",")
	offers := only("["+years+"]", "for one of them")
	if strings.Contains(g[0], "or") {
		return offers
	}
	return append(offers, only("{"+years+"}", "for all of them")...)
}

func allOfThem(g []string) []offer {
	return only("{"+strings.Join(eachYear.FindAllString(g[0], -1), ",")+"}", "")
}

func runOfYears(g []string) []offer {
	first, last := min(g[1], g[2]), max(g[1], g[2])
	closing := map[byte]string{'[': "]", '{': "}"}[g[0][0]]
	return only(g[0][:1]+first+".."+last+closing, "")
}

func dayOfYear(g []string) []offer {
	year, _ := strconv.Atoi(g[1])
	n, _ := strconv.Atoi(g[2])
	on := time.Date(year, 1, n, 0, 0, 0, 0, time.UTC)
	if n < 1 || on.Year() != year {
		return nil
	}
	return only(on.Format(time.DateOnly), fmt.Sprintf("for day %d of %d", n, year))
}

func weekOfYear(g []string) []offer {
	year, _ := strconv.Atoi(g[1])
	n, _ := strconv.Atoi(g[2])
	if n < 1 || n > 53 {
		return nil
	}
	first := time.Date(year, 1, 4, 0, 0, 0, 0, time.UTC) // 4 January lies in week 1
	monday := first.AddDate(0, 0, 7*(n-1)-(int(first.Weekday())+6)%7)
	return only(monday.Format("2006-01"), "for the month in which that week begins")
}

func paddedYear(g []string) []offer {
	n, _ := strconv.Atoi(g[2])
	return only(fmt.Sprintf("%s%04d", g[1], n), "")
}

// padded makes a date of a year, a month and a day that may lack their leading zeros.
func padded(year, month, day string) string {
	y, _ := strconv.Atoi(year)
	text := fmt.Sprintf("%04d", y)
	for _, part := range []string{month, day} {
		if part != "" {
			n, _ := strconv.Atoi(part)
			text += fmt.Sprintf("-%02d", n)
		}
	}
	return text
}

func paddedDay(g []string) []offer   { return only(padded(g[1], g[2], g[3]), "") }
func paddedMonth(g []string) []offer { return only(padded(g[1], g[2], ""), "") }
func monthFirst(g []string) []offer  { return only(padded(g[2], g[1], ""), "") }

// dayFirst reads 12/4/1964, which is April or December.
func dayFirst(g []string) []offer {
	offers := append(only(padded(g[3], g[2], g[1]), "with the month in the middle"), only(padded(g[3], g[1], g[2]), "with the month in the middle")...)
	return slices.CompactFunc(offers, func(a, b offer) bool { return a == b })
}

// named reads a month by its name; day may be empty.
func named(year, month, day string) []offer {
	names := []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}
	return only(padded(year, strconv.Itoa(slices.Index(names, month)+1), day), "")
}

func season(year, name string) []offer {
	code := map[string]string{"spring": "21", "summer": "22", "autumn": "23", "fall": "23", "winter": "24"}[name]
	return only(year+"-"+code, "")
}

func quarter(g []string) []offer {
	year, n := cmp.Or(g[2], g[3]), cmp.Or(g[1], g[4])
	return only(fmt.Sprintf("%s-3%c", year, n[0]+2), "")
}

func century(g []string) []offer {
	n, _ := strconv.Atoi(g[1])
	return only(fmt.Sprintf("%02dXX", n-1), "")
}

func commonEra(g []string) []offer {
	if !strings.ContainsAny(g[0], "ac") {
		return nil
	}
	return only(padded(g[1], "", ""), "")
}

func beforeChrist(g []string) []offer {
	n, _ := strconv.Atoi(g[1])
	if n <= 1 {
		return only("0000", "")
	}
	return only(fmt.Sprintf("-%04d", n-1), "")
}
