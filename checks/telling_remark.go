package checks

import (
	"bytes"
	"regexp"
	"strings"

	"yearmark/schema"
)

var tellingRemark = Check{
	Name: "telling-remark", Family: Prose, Level: Note,
	Meaning: "A remark that will be published with its record holds an e-mail address, a telephone number or an amount of money.",
	Example: `seen: 2026-03-14   # paid £40, ring 01632 960 123
→ a telephone number stands in a remark that is published`,
	Remedy: "Move it below private: in the record of an example, or delete it: all other remarks can be read on the site.",
	Run: func(p *Pass) {
		for _, r := range p.Ref.Records() {
			for _, remark := range publicRemarks(r.Header()) {
				if what := reveals(remark.Value); what != "" {
					p.Reportf(remark.Pos, "%s stands in a remark that is published", what)
				}
			}
		}
	},
}

// revealing is what a remark gives away. A telephone number has nine to eleven
// figures after its 0 and is parted somewhere, or follows + or a word that
// says so. Pounds in words are a bow's weight, and so no money.
var revealing = []struct {
	what string
	form *regexp.Regexp
}{
	{"an e-mail address", regexp.MustCompile(`[\w.+-]+@[\w-]+(\.[\w-]+)+`)},
	{"a telephone number", regexp.MustCompile(`\+[1-9][0-9]{0,2}([ ()/.-]{0,2}[0-9]){7,12}\b` +
		`|(?:^|[^\w./-])\(?0[1-9][0-9]{1,4}\)?([ /-]{1,3}[0-9]{3,8}){1,2}(?:[^\w/-]|$)` +
		`|(?:^|[^\w./-])07[0-9]{9}\b` +
		`|(?:^|[^\w./-])\(?[2-9][0-9]{2}\)?[ .-][0-9]{3}[ .-][0-9]{4}\b` +
		`|(?i:\b(?:tel|phone|telephone|mobile)\b\D{0,6}[0-9](?:[ ()/.-]{0,2}[0-9]){4,})`)},
	{"an amount of money", regexp.MustCompile(`[£$€¥] ?[0-9]` +
		`|\b(?:GBP|USD|EUR|CHF|DM) ?[0-9]` +
		`|[0-9] ?(?:[£€]|(?:GBP|USD|EUR|CHF|DM|(?i:euros?|dollars?|guineas?|quid))\b)`)},
}

// reveals names what a remark gives away, or is empty.
func reveals(remark string) string {
	for _, t := range revealing {
		for _, found := range t.form.FindAllString(remark, -1) {
			if t.what != "a telephone number" || strings.ContainsAny(found, "+") || plausibleNumber(found) {
				return t.what
			}
		}
	}
	return ""
}

// plausibleNumber says that there are as many figures as a telephone number has.
func plausibleNumber(found string) bool {
	figures := 0
	for _, r := range found {
		if r >= '0' && r <= '9' {
			figures++
		}
	}
	return figures >= 9 && figures <= 11 || strings.ContainsAny(found, "eE") // tel, phone, mobile
}

// publicRemarks gives the remarks of a record that readers of the site can see,
// those in HTML within its prose too, where they are shown as text.
func publicRemarks(head *schema.Head) []schema.Text {
	var all []schema.Text
	line := 0
	for text := range bytes.Lines(head.Source) { // first with little effort: few records have such a line
		if line++; line >= head.Body.Pos.Line() {
			break
		}
		if at := bytes.IndexByte(text, '#'); at >= 0 && reveals(string(text[at:])) != "" {
			all = schema.PublicRemarks(head.File, head.Source)
			break
		}
	}
	body := []byte(head.Body.Text)
	for _, at := range htmlRemark.FindAllIndex(body, -1) {
		all = append(all, schema.Text{Value: string(body[at[0]:at[1]]), Pos: newPlaces(body, head.Body.Pos).at(at[0])})
	}
	return all
}

var htmlRemark = regexp.MustCompile(`(?s)<!--.*?-->`)
