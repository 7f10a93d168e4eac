// Package transcript reads what was said in a recording, piece by piece with
// its time: WebVTT (W3C Candidate Recommendation of 4 April 2019), SubRip, and
// plain text whose lines begin with a time. It is pure and knows no records.
//
// The one library in Go that reads the first two was tried and not taken: it
// panics on a cue without an end, refuses the recommendation's own example of a
// region, and drops the lines of a comment into the words.
package transcript

import (
	"fmt"
	"html"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Cue is one piece of a transcript.
type Cue struct {
	Start, End time.Duration // from the beginning; End is 0 where the file does not say
	Speaker    string        // empty where the file does not say
	Text       string        // without mark-up, on one line
	Line       int           // in the file, from 1: where its time stands
}

// namedFirst is a name before a colon at the beginning of a cue's words.
var namedFirst = regexp.MustCompile(`^(\p{Lu}[\p{L}\p{M}.'’ -]{0,38}[\p{L}\p{M}.]):\s+(\S.*)$`)

// Named gives what may be the name of a speaker before a colon, as SubRip files
// often have it, and the words after it. ok is false where there is none, or
// where a voice tag names the speaker.
func (c *Cue) Named() (name, rest string, ok bool) {
	m := namedFirst.FindStringSubmatch(c.Text)
	if m == nil || c.Speaker != "" {
		return "", c.Text, false
	}
	return m[1], m[2], true
}

// Names gives what two or more cues begin with as Named has it, in their order.
func Names(cues []Cue) []string {
	var list []string
	count := map[string]int{}
	for i := range cues {
		if name, _, ok := cues[i].Named(); ok {
			if count[name]++; count[name] == 2 {
				list = append(list, name)
			}
		}
	}
	return list
}

// Problem is a line that could not be read. The rest of the file still is.
type Problem struct {
	Line    int
	Message string // lower case, no full stop
	Help    string // what to do about it
}

// Endings are the file name endings that Read knows.
var Endings = []string{".vtt", ".srt", ".txt"}

// Read reads a transcript in the format that the file's name ends in. The
// cues are in the file's order. A file that is none of the formats has one
// problem and no cues.
func Read(name string, data []byte) ([]Cue, []Problem) {
	r := &reader{lines: lines(data)}
	switch strings.ToLower(path.Ext(name)) {
	case ".vtt":
		r.webVTT()
	case ".srt":
		r.blocks(0)
	case ".txt":
		r.plain()
	default:
		r.problem(0, "a transcript of this kind is not known", "Save it as WebVTT (.vtt), SubRip (.srt), or as plain text (.txt) with a time at the beginning of each line.")
	}
	if len(r.cues) == 0 && len(r.problems) == 0 {
		r.problem(0, "no line with a time was found", `Begin each piece with its time, as in "12:34 What was said".`)
	}
	return r.cues, r.problems
}

// lines cuts a file at LF, CRLF or CR, as WebVTT section 4.1 has it.
func lines(data []byte) []string {
	text := strings.TrimPrefix(strings.ToValidUTF8(string(data), "\uFFFD"), "\uFEFF")
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\x00", "\uFFFD").Replace(text)
	return strings.Split(text, "\n")
}

type reader struct {
	lines    []string
	cues     []Cue
	problems []Problem
}

// problem notes what is wrong with a line, counted from 0.
func (r *reader) problem(line int, message, help string) {
	r.problems = append(r.problems, Problem{line + 1, message, help})
}

const arrow = "-->"

// webVTT reads the signature, then blocks.
func (r *reader) webVTT() {
	after, ok := strings.CutPrefix(r.lines[0], "WEBVTT")
	if !ok || after != "" && after[0] != ' ' && after[0] != '\t' {
		r.problem(0, `the file does not begin with "WEBVTT"`, "Export it once more as WebVTT, or name it .srt or .txt if that is what it is.")
		return
	}
	at := 1
	for at < len(r.lines) && r.lines[at] != "" && !strings.Contains(r.lines[at], arrow) {
		at++ // the header's own lines
	}
	r.blocks(at)
}

// blocks reads the blocks from a line on. A block is a cue where its first or
// second line holds an arrow (WebVTT section 6.1); comments, styles and regions
// are passed over.
func (r *reader) blocks(at int) {
	for at < len(r.lines) {
		switch {
		case strings.Contains(r.lines[at], arrow):
			at = r.cue(at)
		case at+1 < len(r.lines) && r.lines[at] != "" && strings.Contains(r.lines[at+1], arrow):
			at = r.cue(at + 1)
		default:
			for at < len(r.lines) && strings.TrimSpace(r.lines[at]) != "" && !strings.Contains(r.lines[at], arrow) {
				at++
			}
			for at < len(r.lines) && strings.TrimSpace(r.lines[at]) == "" {
				at++
			}
		}
	}
}

// timing is a cue's line of times; SubRip writes a comma for the point.
var timing = regexp.MustCompile(`^\s*(?:(\d{2,4}):)?([0-5]\d):([0-5]\d)[.,](\d{3})\s*-->\s*(?:(\d{2,4}):)?([0-5]\d):([0-5]\d)[.,](\d{3})(?:\s.*)?$`)

// cue reads a cue whose times stand on a line, and gives the line after it.
func (r *reader) cue(at int) int {
	line := at
	var text []string
	for at++; at < len(r.lines) && r.lines[at] != "" && !strings.Contains(r.lines[at], arrow); at++ {
		text = append(text, r.lines[at])
	}
	m := timing.FindStringSubmatch(r.lines[line])
	if m == nil {
		r.problem(line, "these times cannot be read", `Write them as "00:12:34.000 --> 00:12:38.500".`)
		return at
	}
	c := Cue{Start: clock(m[1:5]), End: clock(m[5:9]), Line: line + 1}
	if c.End < c.Start {
		r.problem(line, "this piece ends before it begins", "Exchange the two times, or mend the wrong one.")
		return at
	}
	c.Speaker, c.Text = textOf(strings.Join(text, "\n"))
	r.cues = append(r.cues, c)
	return at
}

// clock gives the time of hours, minutes, seconds and thousandths.
func clock(parts []string) time.Duration {
	var d time.Duration
	for i, unit := range []time.Duration{time.Hour, time.Minute, time.Second, time.Millisecond} {
		n, _ := strconv.Atoi(parts[i]) // digits only; none is 0
		d += time.Duration(n) * unit
	}
	return d
}

var (
	voiceTag = regexp.MustCompile(`<v(?:\.[^\s>]*)?\s+([^>]*)>`)
	anyTag   = regexp.MustCompile(`<[^>]*>|\{\\[^}]*\}`) // WebVTT's and SubRip's
)

// textOf takes mark-up out of a cue's words and gives the one voice that is
// named; of several each stands before its words, with a colon.
func textOf(text string) (speaker, words string) {
	all := voiceTag.FindAllStringSubmatch(text, -1)
	if len(all) > 0 {
		speaker = oneLine(html.UnescapeString(all[0][1]))
	}
	if slices.ContainsFunc(all, func(m []string) bool { return m[1] != all[0][1] }) {
		speaker, text = "", voiceTag.ReplaceAllString(text, " $1: ")
	}
	return speaker, oneLine(html.UnescapeString(anyTag.ReplaceAllString(text, "")))
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// timed is a line of plain text that begins with a time, in brackets or not.
var timed = regexp.MustCompile(`^\s*[\[(]?((?:\d{1,3}:)?\d{1,3}:[0-5]\d)(?:[.,]\d{1,3})?[\])]?[\s:–-]*(.*)$`)

// plain reads lines that begin with a time; others go on with the one before.
func (r *reader) plain() {
	for i, line := range r.lines {
		m := timed.FindStringSubmatch(line)
		switch {
		case m != nil:
			at, ok := ParseTime(m[1])
			if !ok {
				r.problem(i, fmt.Sprintf("%q is no time", m[1]), `Write hours, minutes and seconds, as in "1:02:03" or "12:34".`)
				continue
			}
			r.cues = append(r.cues, Cue{Start: at, Text: oneLine(m[2]), Line: i + 1})
		case len(r.cues) > 0 && strings.TrimSpace(line) != "":
			c := &r.cues[len(r.cues)-1]
			c.Text = strings.TrimSpace(c.Text + " " + oneLine(line))
		}
	}
	for i := range r.cues[:max(0, len(r.cues)-1)] {
		if next := r.cues[i+1].Start; next > r.cues[i].Start {
			r.cues[i].End = next
		}
	}
}

// ParseTime reads a place in a recording as people write it: "12:34" is twelve
// minutes, "1:02:03" an hour and two minutes. Minutes may pass 59 where no
// hours are given.
func ParseTime(text string) (time.Duration, bool) {
	parts := strings.Split(strings.TrimSpace(text), ":")
	if len(parts) < 2 || len(parts) > 3 {
		return 0, false
	}
	var d time.Duration
	for i, p := range parts {
		n, err := strconv.ParseUint(p, 10, 10)
		if err != nil || len(p) > 3 || i > 0 && n > 59 || i == len(parts)-1 && len(p) != 2 {
			return 0, false
		}
		d = 60*d + time.Duration(n)*time.Second
	}
	return d, true
}

// FormatTime writes a time as a place in a recording: "07:12", "1:02:03". Parts
// of a second are left out.
func FormatTime(d time.Duration) string {
	s := int(d / time.Second)
	if s >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
	}
	return fmt.Sprintf("%02d:%02d", s/60, s%60)
}
