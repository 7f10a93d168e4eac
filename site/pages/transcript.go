package pages

import "yearmark/schema"

// cueView is one piece of a transcript.
type cueView struct {
	Anchor      string // empty where a place above it has the address
	At          string
	Place, Play string // the place above, where something rests on it; the recording from that second on
	Speaker     string // where another one speaks than before
	Words       string
	Misheard    string // as the transcript has it, where the record mends it
}

// transcript gives all that was said in a recording, as far as it may be shown.
// places are those that stand on the page already.
func (p *page) transcript(r *schema.Source, places []placeView) []cueView {
	if r.TranscriptText() == nil || r.MayShow() == schema.ShowsNone {
		return nil
	}
	standing := map[string]bool{}
	for _, v := range places {
		standing[v.Anchor] = true
		for _, also := range v.Also {
			standing[also] = true
		}
	}
	var list []cueView
	speaking := ""
	for _, place := range r.ByTime() {
		cue := place.Cue()
		v := cueView{At: place.At.Value, Anchor: schema.Citation{Place: place.At.Value}.Anchor(), Words: place.Says.Value}
		if standing[v.Anchor] {
			v.Place, v.Anchor = "#"+v.Anchor, ""
		}
		if by := place.SaidBy(); by != speaking {
			v.Speaker, speaking = by, by
		}
		sound := p.sound(r, place)
		v.Play = sound.Src + sound.Link
		if cue.Text != v.Words {
			v.Misheard = cue.Text
		}
		list = append(list, v)
	}
	return list
}
