package checks

import (
	"fmt"

	"yearmark/schema"
	"yearmark/schema/english"
	"yearmark/schema/transcript"
)

var unnamedSpeaker = Check{
	Name: "unnamed-speaker", Family: Provenance, Level: Note,
	Meaning: "Pieces of a transcript begin with what may be the name of a speaker and a colon. Nobody has said so, and the name counts as words.",
	Example: `00:00:09,000 --> 00:00:12,000
Ida Crake: I was asked to bring a chair.
→ 2 pieces of the transcript begin with "Ida Crake:", which may be a speaker`,
	Remedy: "Add speakers: with the name to the source, so that it stands with the words as who said them; or leave it, where it is none.",
	Run: func(p *Pass) {
		for _, s := range p.Ref.Sources.All() {
			var cues []transcript.Cue
			for _, place := range s.EveryPlace() {
				if c := place.Cue(); c != nil {
					cues = append(cues, *c)
				}
			}
			counts := map[string]int{}
			for i := range cues {
				if name, _, ok := cues[i].Named(); ok {
					counts[name]++
				}
			}
			for _, name := range transcript.Names(cues) {
				p.Report(Finding{
					Pos: s.Transcript.Pos, Message: fmt.Sprintf("%s of the transcript begin with %q, which may be a speaker", english.Count(counts[name], "piece"), name+":"),
					Remedies: []schema.Remedy{{Title: fmt.Sprintf("Add %q as a speaker", name), Edits: []schema.Edit{{Pos: schema.At(s.File, 0, 0), Keys: []string{"speakers", "-"}, New: name}}}},
				})
			}
		}
	},
}
