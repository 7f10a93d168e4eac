package schema

import (
	"cmp"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"

	"yearmark/schema/english"
	"yearmark/schema/transcript"
)

// Mending is what a transcript misheard.
type Mending struct {
	Pos      Pos  `yaml:"-"`
	At       Text `yaml:"at" jsonschema:"required" jsonschema_description:"The time of the piece that was misheard, as in 10:08."`
	Misheard Text `yaml:"heard" jsonschema:"required" jsonschema_description:"What the transcript has, to the letter."`
	Read     Text `yaml:"read" jsonschema:"required" jsonschema_description:"What was said."`
}

// Cue is the piece of a transcript that a place is, or that is heard at it;
// its text is as the transcript has it. It is nil of places that are none.
func (p *SourcePlace) Cue() *transcript.Cue { return p.cue }

// EveryPlace gives the places that the record lists and those that its
// transcript has besides, these by time.
func (s *Source) EveryPlace() []*SourcePlace { return slices.Concat(s.Places, s.cues) }

// ByTime gives the places at which there is a piece of the transcript, by time.
func (s *Source) ByTime() []*SourcePlace {
	list := slices.DeleteFunc(s.EveryPlace(), func(p *SourcePlace) bool { return p.cue == nil })
	slices.SortStableFunc(list, func(a, b *SourcePlace) int { return cmp.Compare(a.cue.Start, b.cue.Start) })
	return list
}

// TranscriptText is the transcript's file as read; nil where there is none.
func (s *Source) TranscriptText() []byte { return s.transcript }

// transcribe reads the source's transcript: each of its pieces is a place by
// its time, unless the record lists a place within it.
func (s *Source) transcribe(fsys fs.FS) Problems {
	name := s.Transcript.Value
	if !fs.ValidPath(name) { // none, or one that is refused already
		return nil
	}
	file := RecordingsFolder + "/" + name
	text, problem := readFile(fsys, file)
	if problem != nil {
		return Problems{{Check: CheckMalformedTranscript, Pos: s.Transcript.Pos, Message: fmt.Sprintf("the transcript %q cannot be read: %s", english.Clip(name, 60), problem.Message), Help: "Put it into the folder recordings, or mend its name here; capitals count."}}
	}
	s.transcript = text
	cues, faults := transcript.Read(name, text)
	var problems Problems
	for i, f := range faults {
		if i == maxProblems {
			break
		}
		problems = append(problems, Problem{Check: CheckMalformedTranscript, Pos: At(file, f.Line, 1), Message: f.Message, Help: f.Help})
	}
	if len(cues) > MaxClaims {
		problems = append(problems, Problem{Check: CheckTooLarge, Pos: At(file, cues[MaxClaims].Line, 1), Message: fmt.Sprintf("the transcript has %d pieces, more than %d", len(cues), MaxClaims), Help: "Divide it, and the source with it."})
		cues = cues[:MaxClaims]
	}
	s.cues = cuePlaces(file, bySecond(s.voiced(cues)))
	problems = append(problems, s.mended()...)
	s.wordsAtPlaces()
	return problems
}

// voiced takes the names of speakers off the words of cues that have no voice tag,
// where the record says that these names are speakers.
func (s *Source) voiced(cues []transcript.Cue) []transcript.Cue {
	for i := range cues {
		c := &cues[i]
		if name, rest, ok := c.Named(); ok && slices.ContainsFunc(s.Speakers, func(t Text) bool { return t.Value == name }) {
			c.Speaker, c.Text = name, rest
		}
	}
	return cues
}

// bySecond orders cues by time and makes one of those that begin in one
// second, since places are written without parts of a second.
func bySecond(cues []transcript.Cue) []transcript.Cue {
	slices.SortStableFunc(cues, func(a, b transcript.Cue) int { return int(min(max(a.Start-b.Start, -1), 1)) })
	var list []transcript.Cue
	for _, c := range cues {
		if c.Text == "" {
			continue
		}
		if last := len(list) - 1; last >= 0 && list[last].Start.Truncate(time.Second) == c.Start.Truncate(time.Second) {
			l := &list[last]
			l.Speaker, l.Text = OneSpeaker([]Quote{{l.Speaker, l.Text}, {c.Speaker, c.Text}})
			l.End = max(l.End, c.End)
			continue
		}
		list = append(list, c)
	}
	return list
}

// cuePlaces makes places of cues. Each lasts to the second in which the next
// one begins, so that a time names one of them.
func cuePlaces(file string, cues []transcript.Cue) []*SourcePlace {
	places := make([]*SourcePlace, len(cues))
	for i := range cues {
		c := &cues[i]
		at := At(file, c.Line, 1)
		span := TimeSpan{Start: c.Start.Truncate(time.Second), End: c.End}
		if i+1 < len(cues) {
			span.End = cues[i+1].Start.Truncate(time.Second)
		}
		places[i] = &SourcePlace{
			Pos: at, At: Text{Value: transcript.FormatTime(c.Start), Pos: at}, Says: Text{Value: c.Text, Pos: at},
			locator: Locator{parts: []locatorPart{{time: span, timed: true}}}, cue: c,
		}
	}
	return places
}

// cueAt gives the transcript's place at a time, or the last one before it.
func (s *Source) cueAt(t time.Duration) *SourcePlace {
	var found *SourcePlace
	for _, p := range s.cues {
		if p.cue.Start.Truncate(time.Second) > t {
			break
		}
		found = p
	}
	return found
}

// mended puts what was said in place of what the transcript misheard.
func (s *Source) mended() Problems {
	var problems Problems
	for _, m := range s.Mend {
		span, timed := ParseLocator(m.At.Value).Time()
		p := s.cueAt(span.Start)
		if !timed || p == nil || m.Misheard.Value == "" || !strings.Contains(p.Says.Value, m.Misheard.Value) {
			problems = append(problems, Problem{Check: CheckMalformedTranscript, Pos: m.Pos, Message: fmt.Sprintf("the transcript has no %q at %s", english.Clip(m.Misheard.Value, 60), english.Clip(m.At.Value, 20)), Help: "Copy heard from the transcript to the letter, and at from the time at which that piece begins."})
			continue
		}
		p.Says.Value = strings.ReplaceAll(p.Says.Value, m.Misheard.Value, m.Read.Value)
	}
	return problems
}

// wordsAtPlaces gives the places that the record lists by a time the words of
// the piece at that time, where the record has none; the piece is then no
// place besides.
func (s *Source) wordsAtPlaces() {
	listed := map[*SourcePlace]bool{}
	for _, p := range s.Places {
		span, timed := p.locator.Time()
		if !timed {
			continue
		}
		c := s.cueAt(span.Start)
		if c == nil {
			continue
		}
		listed[c], p.cue = true, c.cue
		if p.Says.Value == "" {
			p.Says = c.Says
		}
	}
	s.cues = slices.DeleteFunc(s.cues, func(c *SourcePlace) bool { return listed[c] })
}
