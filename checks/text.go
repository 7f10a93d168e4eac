package checks

import (
	"bufio"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"yearmark/schema"
	"yearmark/schema/english"
)

// TextOptions says how findings are written for people.
type TextOptions struct {
	Color bool  // for a terminal: highlighted lines and coloured levels
	Files fs.FS // where the lines of files are found that could not be read as records; may be nil
	// Notes is the command that lists the notes, which are counted by check then;
	// where it is empty they are written in full.
	Notes string
}

// Text writes the findings for people: by file, each with the line in question
// and the place marked under it, the places that made it so, and what to do;
// the counts come last. What to do is said once where it is the same. Files
// that could not be read come first, and in place of what follows from them
// stands where that was found; then files with errors, then the others.
func Text(w io.Writer, r Report, ref *schema.Reference, opts TextOptions) error {
	out := bufio.NewWriter(w)
	t := textWriter{out: out, opts: opts, lines: newLines(ref, opts.Files), helped: map[string]bool{}}
	shown, notes := t.divide(r.Findings)
	file := ""
	for i, f := range shown {
		if i == 0 || f.Pos.File() != file {
			if i > 0 {
				t.following(file)
			}
			file = f.Pos.File()
			t.heading(file, i > 0)
		}
		t.finding(f)
	}
	t.following(file)
	if len(shown) > 0 {
		fmt.Fprintln(out)
	}
	t.noteCounts(notes)
	fmt.Fprintln(out, r.Summary())
	for _, line := range r.leftOutByReason() {
		fmt.Fprintln(out, line)
	}
	return out.Flush()
}

// Summary counts the findings in a sentence: "2 errors, 1 warning, 5 notes in 143 records".
func (r Report) Summary() string {
	var parts []string
	add := func(n int, noun string) {
		if n > 0 {
			parts = append(parts, english.Count(n, noun))
		}
	}
	add(r.Counts.Error, "error")
	add(r.Counts.Warning, "warning")
	add(r.Counts.Note, "note")
	if len(parts) == 0 {
		parts = []string{"nothing found"}
	}
	return strings.Join(parts, ", ") + " in " + english.Count(r.Records, "record")
}

// leftOutByReason tells which checks were not made, those of one reason together.
func (r Report) leftOutByReason() []string {
	var reasons []string
	names := map[string][]string{}
	for _, entry := range r.LeftOut {
		name, reason, _ := strings.Cut(entry, ": ")
		if names[reason] == nil {
			reasons = append(reasons, reason)
		}
		names[reason] = append(names[reason], name)
	}
	lines := make([]string, len(reasons))
	for i, reason := range reasons {
		lines[i] = fmt.Sprintf("not looked for, since %s: %s", reason, strings.Join(names[reason], ", "))
	}
	return lines
}

type textWriter struct {
	out    *bufio.Writer
	opts   TextOptions
	lines  *lines
	helped map[string]bool
	misses map[string][]Finding // what follows from each file that could not be read
}

// labelWidth is the width of the column of labels to the left of what they label.
const labelWidth = 10

func (t *textWriter) heading(file string, more bool) {
	if more {
		fmt.Fprintln(t.out)
	}
	fmt.Fprintln(t.out, t.paint(bold, clean(file)))
}

func (t *textWriter) finding(f Finding) {
	place := ""
	if f.Pos.Line() > 0 {
		place = fmt.Sprintf("%d:%d  ", f.Pos.Line(), f.Pos.Column())
	}
	fmt.Fprintf(t.out, "\n  %s%s  %s  %s\n", place,
		t.paint(levelColour[f.Level], string(f.Level)), f.Check, t.paint(bold, clean(f.Message)))
	t.source(f)
	for i, place := range f.Why {
		label := ""
		if i == 0 {
			label = "since"
		}
		t.labelled(label, t.place(place))
	}
	if f.Help != "" && !t.helped[f.Help] {
		t.helped[f.Help] = true
		for i, line := range wrap(clean(f.Help), 90) {
			label := ""
			if i == 0 {
				label = "remedy"
			}
			t.labelled(label, line)
		}
	}
}

func (t *textWriter) labelled(label, text string) {
	fmt.Fprintf(t.out, "%s  %s\n", t.paint(faint, fmt.Sprintf("%*s", labelWidth, label)), text)
}

func (t *textWriter) place(p Place) string {
	text := clean(p.Message)
	if p.Credence != nil {
		text += " (credence " + credence(*p.Credence) + ")"
	}
	switch {
	case p.Pos.File() == "":
		return text
	case p.Pos.Line() == 0:
		return t.paint(faint, clean(p.Pos.File())) + "  " + text
	}
	return t.paint(faint, fmt.Sprintf("%s:%d", clean(p.Pos.File()), p.Pos.Line())) + "  " + text
}

// credence rounds a credence and does not make a certainty of it.
func credence(c float64) string {
	if c > 0.99 && c < 1 {
		return "over 0.99"
	}
	return fmt.Sprintf("%.2f", c)
}

// source shows the line in question and marks the place under it.
func (t *textWriter) source(f Finding) {
	line, language, ok := t.lines.line(f.Pos)
	if !ok || strings.TrimSpace(line) == "" {
		return
	}
	shown, before, width := window(line, f.Pos.Column(), f.Width)
	text := shown
	if t.opts.Color {
		text = highlight(shown, language)
	}
	t.labelled(fmt.Sprint(f.Pos.Line()), text)
	t.labelled("", strings.Repeat(" ", before)+t.paint(levelColour[f.Level], strings.Repeat("‾", width)))
}

// wrap breaks a sentence into lines of at most width characters, at spaces.
func wrap(s string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		switch {
		case line == "":
			line = word
		case len([]rune(line))+1+len([]rune(word)) > width:
			lines = append(lines, line)
			line = word
		default:
			line += " " + word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
