package schema

import (
	"slices"
	"testing"
	"testing/fstest"
)

// TestCuesArePlaces reads a source with a transcript: each piece is a place by
// its time; a place that the record lists at that time stands for it, with its
// words where it has none of its own; what was misheard is mended.
func TestCuesArePlaces(t *testing.T) {
	const record = "---\nrecord: source\nname: Talk\nkind: recording\ntranscript: talk.vtt\n" +
		"mend: [{at: \"10:08\", heard: sappy lee, read: sapele}]\n" +
		"places:\n  - {at: \"10:02\", hedge: unsure}\n  - {at: \"0:05\", says: \"Evening, all.\"}\n---\n"
	const talk = "WEBVTT\n\n00:05.000 --> 00:07.000\nGood evening.\n\n10:02.200 --> 10:06.000\n<v Ida>Sixty-six, I think.\n\n10:06.500 --> 10:07.000\nEr.\n\n10:06.900 --> 10:08.000\nLet me see.\n\n10:08.000 --> 10:12.000\nIn sappy lee.\n"
	ref, problems, err := ReadFS(fstest.MapFS{
		"reference.yaml":      {Data: []byte("name: R\nyears: 1930/1985\n")},
		"sources/talk.md":     {Data: []byte(record)},
		"recordings/talk.vtt": {Data: []byte(talk)},
	}, "r")
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	s, _ := ref.Sources.Get("talk")
	for place, want := range map[string]string{
		"0:05": "Evening, all.", "00:06": "", "10:02": "Sixty-six, I think.", "t=604": "", "10:06": "Er. Let me see.", "10:07": "Er. Let me see.",
		"10:08": "In sapele.", "10:11.5": "In sapele.", "12:00": "", "p. 6": "", "10:06-10:09": "Er. Let me see.|In sapele.",
	} {
		var got string
		for i, p := range s.PlacesAt(place) {
			if i > 0 {
				got += "|"
			}
			got += p.Says.Value
		}
		if got != want {
			t.Errorf("at %s: %q, want %q", place, got, want)
		}
	}
	if all := s.EveryPlace(); len(all) != 4 || all[0].Hedge.Value != "unsure" || all[0].SaidBy() != "Ida" || all[3].Cue().Text != "In sappy lee." || all[3].Pos.File() != "recordings/talk.vtt" || all[3].Pos.Line() != 15 {
		t.Errorf("places %+v", all)
	}
}

// TestSpeakersAreNamed: a voice tag names who speaks, a name before a colon does
// only where the record says so, and the record's own word counts before both. Two
// who speak within one second are told apart by their names. Whoever made the whole
// source needs no naming.
func TestSpeakersAreNamed(t *testing.T) {
	const record = "---\nrecord: source\nname: Talk\nkind: recording\nby: Ida\nspeakers: [Jos Hale]\ntranscript: talk.vtt\n" +
		"places:\n  - {at: \"0:20\", by: Nell}\n  - {at: cover, says: \"A talk\", by: The printer}\n---\n"
	const talk = "WEBVTT\n\n00:05.000 --> 00:07.000\n<v Ida>Good evening.\n\n00:10.000 --> 00:11.000\nJos Hale: Evening.\n\n" +
		"00:15.100 --> 00:16.000\n<v Ida>Tea?\n\n00:15.500 --> 00:17.000\nJos Hale: Please.\n\n00:20.000 --> 00:22.000\n<v Jos Hale>None for me.\n\n" +
		"00:25.000 --> 00:26.000\nNote: none left.\n\n00:30.000 --> 00:31.000\n<v Ida>Well.</v> <v Nell>Quite.</v>\n"
	ref, problems, err := ReadFS(fstest.MapFS{
		"reference.yaml":      {Data: []byte("name: R\nyears: 1930/1985\n")},
		"sources/talk.md":     {Data: []byte(record)},
		"recordings/talk.vtt": {Data: []byte(talk)},
	}, "r")
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	for place, want := range map[string][]Quote{
		"0:05":  {{"", "Good evening."}},
		"0:10":  {{"Jos Hale", "Evening."}},
		"0:15":  {{"", "Ida: Tea? Jos Hale: Please."}},
		"0:20":  {{"Nell", "None for me."}},
		"0:25":  {{"", "Note: none left."}},
		"0:30":  {{"", "Ida: Well. Nell: Quite."}},
		"cover": {{"The printer", "A talk"}},
	} {
		if got := ref.Words(Citation{Source: "talk", Place: place}); !slices.Equal(got, want) {
			t.Errorf("at %s: %q, want %q", place, got, want)
		}
	}
	if by, words := OneSpeaker(ref.Words(Citation{Source: "talk", Place: "0:05-0:11"})); by != "" || words != "Good evening. Jos Hale: Evening." {
		t.Errorf("%q by %q", words, by)
	}
}
