package edtf

import (
	"regexp"
	"slices"
	"strings"
)

// offer is an expression that may have been meant, and in which case.
type offer struct{ write, when string }

// mostAdvised is the longest text, in bytes, over which it is worth to wonder.
const mostAdvised = 120

// advise completes a fault with the text and with what may have been meant.
func advise(text string, f *SyntaxError) *SyntaxError {
	f.Text = text
	f.Instead = slices.DeleteFunc(f.Instead, func(s string) bool { return !readable(s) })
	if len(f.Instead) > 0 || len(text) > mostAdvised {
		return f
	}
	reason, found := meant(text)
	offers := bounded(plain(text))
	switch {
	case len(offers) > 0:
	case len(found) > 0:
		offers = public(found)
	default:
		offers, reason = FromWords(text, presumedCentury), "it is written in words, or without all four digits of the year"
	}
	if len(offers) == 0 {
		if wordsAlone.MatchString(text) {
			f.Reason, f.Remedy = "it names no year", "write the years as far as they are known, as in 1964 or /1967, and leave the key away where none is"
		}
		return f
	}
	if reason != "" {
		f.Reason = reason
	}
	f.Remedy, f.Instead = remedyOf(offers)
	return f
}

// wordsAlone is words and nothing else, two at least.
var wordsAlone = regexp.MustCompile(`^\pL{2,}[\pL ,;'’-]* \pL{2,}$`)

// presumedCentury is that of a year of two digits in advice; the writer decides.
const presumedCentury = 19

// remedyOf tells the offers in one sentence.
func remedyOf(offers []Offer) (remedy string, instead []string) {
	var said []string
	for _, o := range offers {
		instead = append(instead, o.Write)
		said = append(said, strings.TrimSpace(o.Write+" "+o.When))
	}
	return "write " + strings.Join(said, ", or "), instead
}

// meant guesses what a text that cannot be read was to say: first slips of
// the pen, then ways in which people are used to write dates, then two such
// dates with something between them.
func meant(text string) (reason string, offers []offer) {
	if reason, offers = meantAlone(text); len(offers) > 0 {
		return reason, offers
	}
	if joined, ok := meantSpan(plain(text)); ok {
		return "the first and the last date need one stroke between them, and no words", []offer{{write: joined}}
	}
	return "", nil
}

// meantAlone guesses at a text that is not two dates with something between them.
func meantAlone(text string) (reason string, offers []offer) {
	for _, s := range slips {
		if mended := s.mend(text); mended != text && readable(mended) {
			return s.reason, []offer{{write: mended}}
		}
	}
	tidy := plain(text)
	for _, h := range habits {
		m := h.pattern.FindStringSubmatchIndex(tidy)
		if m == nil {
			continue
		}
		for _, o := range h.offers {
			expand := func(template string) string {
				return string(h.pattern.ExpandString(nil, template, tidy, m))
			}
			o = offer{strings.ToUpper(expand(o.write)), expand(o.when)}
			if readable(o.write) {
				offers = append(offers, o)
			}
		}
		if h.work != nil {
			offers = append(offers, h.work(h.pattern.FindStringSubmatch(tidy))...)
		}
		if len(offers) > 0 {
			return h.reason, offers
		}
	}
	return "", nil
}

// meantSpan guesses at two dates with a stroke, a dash or words between them.
func meantSpan(tidy string) (string, bool) {
	tidy = strings.TrimPrefix(strings.TrimPrefix(tidy, "from "), "between ")
	for _, joint := range []string{"/", " to ", " until ", " till ", " through ", " and ", "..", "-"} {
		for at := strings.Index(tidy, joint); at >= 0; {
			left, okLeft := meantEnd(tidy[:at])
			right, okRight := meantEnd(tidy[at+len(joint):])
			if joined := left + "/" + right; okLeft && okRight && readable(joined) {
				return joined, true
			}
			next := strings.Index(tidy[at+1:], joint)
			if next < 0 {
				break
			}
			at += 1 + next
		}
	}
	return "", false
}

// meantEnd guesses at one end of a span.
func meantEnd(text string) (string, bool) {
	text = strings.TrimSpace(text)
	switch {
	case openWords.MatchString(text):
		return "..", true
	case unknownWords.MatchString(text):
		return "", true
	case !fourDigits.MatchString(text):
		return "", false
	case readable(strings.ToUpper(text)):
		return strings.ToUpper(text), true
	}
	_, offers := meantAlone(text)
	if len(offers) == 0 || strings.ContainsAny(offers[0].write, "/[{") {
		return "", false
	}
	return offers[0].write, true
}

// readable says whether an expression can be read.
func readable(s string) bool {
	_, f := parse(s)
	return f == nil
}

// plain brings a text to small letters, plain digits and hyphens, and single spaces.
func plain(text string) string {
	return strings.Join(strings.Fields(strings.ToLower(plainSigns(text))), " ")
}

// plainSigns writes look-alikes of digits, hyphens and spaces as the plain characters.
func plainSigns(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 0x2010 && r <= 0x2015, r == 0x2212, r == 0xFE58, r == 0xFE63, r == 0xFF0D: // dashes and minus signs
			return '-'
		case r >= 0xFF10 && r <= 0xFF19: // wide digits
			return r - 0xFF10 + '0'
		case r == 0xFF0F, r == 0x2044, r == 0x2215: // wide and fraction strokes
			return '/'
		case r == 0xA0, r == 0x2009, r == 0x202F: // spaces that do not break
			return ' '
		case r == 0xFEFF, r >= 0x200B && r <= 0x200F, r >= 0x202A && r <= 0x202E, r == 0xAD: // nothing to see
			return -1
		}
		return r
	}, text)
}
