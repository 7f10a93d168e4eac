package sheets

import (
	"bytes"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"yearmark/exchange/editing"
	"yearmark/exchange/journal"
	"yearmark/schema"
	"yearmark/schema/english"
	"yearmark/schema/transcript"
)

// IsTranscript says that a file's name is that of a transcript.
func IsTranscript(name string) bool {
	return slices.Contains(transcript.Endings, strings.ToLower(filepath.Ext(name)))
}

// PrepareTranscript works out what taking a transcript in would change: the
// file is kept below the folder recordings, and there is a source of its name
// whose places are its pieces. A source that is there already keeps what it
// says. The error is a Problems. As with Prepare, the reference must not be
// used afterwards.
func PrepareTranscript(ref *schema.Reference, name string, data []byte) (*Plan, error) {
	cues, faults := transcript.Read(name, data)
	if len(cues) == 0 {
		var list Problems
		for _, f := range faults {
			list = append(list, Problem{File: name, Line: f.Line, Message: f.Message, Help: f.Help})
		}
		return nil, list
	}
	in := newIntake(ref, name)
	in.result.Table = "sources"
	base := filepath.Base(name)
	id := schema.Slug(strings.TrimSuffix(base, filepath.Ext(base)))
	kept := id + strings.ToLower(filepath.Ext(base))
	if s, there := ref.Sources.Get(id); there {
		if s.Transcript.Value != "" {
			kept = s.Transcript.Value
		} else if d := in.draft(s, 0, ""); d != nil {
			in.result.Edited++
			if err := d.edit.Change(nil, nil, []editing.Edit{{Keys: []string{"transcript"}, New: editing.Word(kept)}}); err != nil {
				in.faults = append(in.faults, Problem{File: d.file, Message: err.Error(), Help: "Write transcript: " + kept + " into the record itself."})
			}
		}
	} else if d := in.newTranscript(id, kept, cues); d != nil {
		in.drafts[d.file] = d
		in.result.Added++
	}
	plan, err := in.plan()
	if err != nil {
		return nil, err
	}
	file := path.Join(schema.RecordingsFolder, kept)
	before := keptTranscript(ref, kept)
	if !bytes.Equal(before, data) {
		plan.Changes = append(plan.Changes, journal.Change{File: file, Before: before, After: data})
	}
	last := cues[len(cues)-1]
	in.note("%s holds %d pieces, to %s; cite one as \"%s, %s\"", file, len(cues), transcript.FormatTime(max(last.Start, last.End)), id, transcript.FormatTime(cues[0].Start))
	if s, there := ref.Sources.Get(id); !there || s.Speakers == nil {
		if names := transcript.Names(cues); len(names) > 0 {
			in.note("pieces begin with %s and a colon: if those are the speakers, write speakers: [%s] into %s", english.And(names), strings.Join(names, ", "), schema.KindSource.FileOf(id))
		}
	}
	for _, f := range faults {
		in.note("line %d of %s is left out: %s", f.Line, name, f.Message)
	}
	plan.Notes = in.result.Notes
	return plan, nil
}

// newTranscript makes the source's record.
func (in *intake) newTranscript(id, kept string, cues []transcript.Cue) *draft {
	title := strings.ReplaceAll(id, "-", " ")
	if id != "" {
		title = strings.ToUpper(title[:1]) + title[1:]
	}
	keys := editing.Mapping().With("name", editing.Quoted(title)).With("kind", editing.Word(string(schema.Recorded)))
	if by := speakers(cues); by != "" {
		keys.With("by", editing.Quoted(by))
	}
	keys.With("transcript", editing.Word(kept))
	d := newDraft(schema.KindSource, id, keys)
	if _, problems := schema.ReadRecord(d.file, d.after); len(problems) > 0 {
		in.faults = append(in.faults, Problem{File: in.name, Message: problems[0].Message, Help: "Give the file a plain name first, as in talk-2019.vtt: it becomes the source's."})
		return nil
	}
	return d
}

// speakers names those who speak, in order, two at most.
func speakers(cues []transcript.Cue) string {
	var names []string
	for _, c := range cues {
		if c.Speaker != "" && !slices.Contains(names, c.Speaker) {
			names = append(names, c.Speaker)
		}
	}
	if len(names) > 2 {
		return fmt.Sprintf("%s, %s and others", names[0], names[1])
	}
	return strings.Join(names, " and ")
}

// keptTranscript is the transcript of that name as the reference has it; nil
// where there is none.
func keptTranscript(ref *schema.Reference, name string) []byte {
	for _, s := range ref.Sources.All() {
		if s.Transcript.Value == name && s.TranscriptText() != nil {
			return s.TranscriptText()
		}
	}
	return nil
}
