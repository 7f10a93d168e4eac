package intake

import (
	"fmt"
	"html"
	"path"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode"

	"yearmark/schema/english"
)

// plain holds every text of the submission to plain text, and trims it.
func (s *Submission) plain() Problems {
	p := &plainer{}
	for _, field := range []struct {
		text *string
		name string
	}{{&s.Reference, "reference"}, {&s.Edition, "edition"}, {&s.On, "on"}, {&s.Model, "model"}, {&s.WeightMark, "weightMark"}, {&s.By, "by"}} {
		p.line(field.text, field.name)
	}
	p.lines(&s.Note, "note")
	for i := range s.Observed {
		o, at := &s.Observed[i], strconv.Itoa(i)
		p.line(&o.Feature, "observed", at, "feature")
		p.line(&o.Note, "observed", at, "note")
		for k := range o.Values {
			p.line(&o.Values[k], "observed", at, "values", strconv.Itoa(k))
			p.some(o.Values[k], "observed", at, "values", strconv.Itoa(k))
		}
	}
	for i := range s.Marks {
		m, at := &s.Marks[i], strconv.Itoa(i)
		p.line(&m.Mark, "marks", at, "mark")
		p.line(&m.Place, "marks", at, "place")
		p.some(m.Mark, "marks", at, "mark")
		p.some(m.Place, "marks", at, "place")
	}
	for i := range s.Condition {
		c, at := &s.Condition[i], strconv.Itoa(i)
		p.line(&c.Part, "condition", at, "part")
		p.line(&c.State, "condition", at, "state")
		p.some(c.Part, "condition", at, "part")
		if c.Fault == "" {
			p.some(c.State, "condition", at, "state")
		}
	}
	p.photographs(s.Photographs, "photographs")
	p.sender(s.Private)
	s.plainDated(p)
	p.day(s.On)
	return p.problems
}

func (s *Submission) plainDated(p *plainer) {
	if s.Dated == nil {
		return
	}
	p.line(&s.Dated.Model, "dated", "model")
	for i := range s.Dated.Likely {
		p.line(&s.Dated.Likely[i].Model, "dated", "likely", strconv.Itoa(i), "model")
	}
}

// plainer collects what is wrong with the texts of one submission.
type plainer struct{ problems Problems }

func (p *plainer) report(way []string, message, help string) {
	p.problems = append(p.problems, Problem{placeWords(way), message, help})
}

// photographs holds the photographs of a list to plain text and plain file names.
func (p *plainer) photographs(all []Photograph, list string) {
	for i := range all {
		at := strconv.Itoa(i)
		p.line(&all[i].File, list, at, "file")
		p.line(&all[i].Shows, list, at, "shows")
		p.fileName(all[i].File, list, at, "file")
	}
}

// sender holds who sent it to plain text; private may be nil.
func (p *plainer) sender(private *Private) {
	if private != nil {
		p.line(&private.Name, "private", "name")
		p.line(&private.Contact, "private", "contact")
	}
}

func (p *plainer) some(text string, way ...string) {
	if text == "" {
		p.report(way, "is empty", saveAgain)
	}
}

// line holds a text of one line; white space around it is taken off.
func (p *plainer) line(text *string, way ...string) {
	*text = strings.TrimSpace(*text)
	if strings.ContainsAny(*text, "\n\t") {
		p.report(way, "has a line break or a tab in it", "Ask the visitor to write it in one line.")
		return
	}
	p.check(*text, way)
}

// lines holds a text of several lines. White space at their ends is taken off,
// and of several empty lines one stays.
func (p *plainer) lines(text *string, way ...string) {
	var kept []string
	for line := range strings.Lines(strings.ReplaceAll(*text, "\r\n", "\n")) {
		line = strings.TrimRightFunc(line, unicode.IsSpace)
		if line != "" || len(kept) > 0 && kept[len(kept)-1] != "" {
			kept = append(kept, line)
		}
	}
	*text = strings.TrimSpace(strings.Join(kept, "\n"))
	p.check(strings.ReplaceAll(*text, "\n", " "), way)
}

func (p *plainer) check(text string, way []string) {
	for _, r := range text {
		if what := oddCharacter(r); what != "" {
			p.report(way, fmt.Sprintf("holds %s (U+%04X)", what, r), "Ask the visitor to type the text afresh: such characters come with copied text and are not seen.")
			return
		}
	}
	if runs(text) {
		p.report(way, "holds what a browser would take for markup or a script", "A submission is plain text: ask the visitor to say it without < before a letter and without script addresses.")
	}
}

// oddCharacter names a character that no text of a submission may hold: those
// that a record must not hold either, and further ones that cannot be seen.
func oddCharacter(r rune) string {
	switch {
	case r == unicode.ReplacementChar:
		return "a character that was lost on the way"
	case unicode.IsControl(r):
		return "a control character"
	case r == '\u200c' || r == '\u200d': // joiners, which some scripts are written with
		return ""
	case unicode.Is(unicode.Cf, r), unicode.Is(unicode.Zl, r), unicode.Is(unicode.Zp, r):
		return "an invisible character"
	case unicode.Is(unicode.Co, r), r&0xfffe == 0xfffe, r >= 0xfdd0 && r <= 0xfdef:
		return "a code that is no character"
	}
	return ""
}

// active finds the beginning of a tag, a comment or a declaration, and the
// schemes of addresses that run something.
var active = regexp.MustCompile(`(?i)<[a-z/!?]|\b(java|vb|live)script\s*:|\bdata\s*:\s*[a-z]+/[a-z0-9.+-]+\s*[;,]`)

// runs says whether a text could be taken for markup that runs, as it stands
// or once its character references are written out.
func runs(text string) bool {
	if active.MatchString(text) {
		return true
	}
	if !strings.Contains(text, "&") {
		return false
	}
	once := html.UnescapeString(text)
	return active.MatchString(once) || active.MatchString(html.UnescapeString(once))
}

// photographEndings are the endings of photographs.
var photographEndings = []string{".jpg", ".jpeg", ".png", ".heic", ".heif", ".webp", ".gif", ".tif", ".tiff", ".bmp", ".dng", ".avif"}

// fileName holds a photograph's name to a name: no folder, no drive, nothing hidden.
func (p *plainer) fileName(name string, way ...string) {
	ending := strings.ToLower(path.Ext(name))
	known := false
	for _, e := range photographEndings {
		known = known || e == ending
	}
	switch {
	case strings.ContainsAny(name, `/\:*?"<>|`) || strings.HasPrefix(name, ".") || strings.Contains(name, ".."):
		p.report(way, "is not a plain file name", "Photographs are named without a folder, as in IMG_0412.jpg.")
	case !known:
		p.report(way, "does not end as a photograph's does", "Photographs end in "+strings.Join(photographEndings, ", ")+".")
	}
}

// day holds the visitor's day to one that a calendar has and that can be meant.
func (p *plainer) day(text string) {
	day, err := time.Parse(time.DateOnly, text)
	switch {
	case err != nil:
		p.report([]string{"on"}, fmt.Sprintf("%q is no day of the calendar", english.Clip(text, maxShown)), saveAgain)
	case day.Year() < 2000 || day.Year() > 2199:
		p.report([]string{"on"}, fmt.Sprintf("%q cannot be the day on which it was saved", english.Clip(text, maxShown)), "The visitor's clock is wrong: have it set and the submission saved once more.")
	}
}
