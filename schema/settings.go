package schema

import (
	"fmt"
	"reflect"
	"regexp"

	"go.yaml.in/yaml/v3"

	"yearmark/schema/english"
)

// SettingsFile is the file that makes a folder a reference.
const SettingsFile = "reference.yaml"

// maxHorizon is the greatest number of years that a reference can span.
const maxHorizon = 1000

// ReadSettings reads reference.yaml, given as its bytes, which must not be
// changed afterwards. Judgement that the file does not state is filled in from
// DefaultJudgement.
func ReadSettings(source []byte) (Settings, Problems) {
	d := &decoder{file: SettingsFile}
	s := Settings{Pos: At(SettingsFile, 1, 1), Source: source}
	if text, ok := d.readable(source); ok {
		if top := d.parse(d.oddCharacters(text, 1, true)); top != nil {
			d.settings(top, &s)
		}
	}
	s.Judgement.fill(DefaultJudgement())
	return s, d.problems.sorted()
}

func (d *decoder) settings(top *yaml.Node, s *Settings) {
	v := reflect.ValueOf(s).Elem()
	if !d.structure(top, v, "") {
		return
	}
	if !d.address(s.PublicURL) {
		s.PublicURL.Value = "" // or the feed would lead there
	}
	if tag := s.Language; tag.Value != "" && !languageTag.MatchString(tag.Value) {
		d.report(CheckUnknownValue, tag.Pos, fmt.Sprintf("%q is not the tag of a language", english.Clip(tag.Value, 60)), "Write the tag of the language of your prose, such as en, en-GB or de.")
	}
	if s.Years.Pos.IsZero() {
		return
	}
	first, okFirst := s.Years.Earliest()
	last, okLast := s.Years.Latest()
	switch {
	case !okFirst || !okLast:
		d.report(CheckOutOfBounds, s.Years.Pos, fmt.Sprintf("the years %q have no end", s.Years), "Write the first and the last year within which anything can fall, as in 1930/1985.")
	case first < 1 || last > 9999 || last-first >= maxHorizon:
		d.report(CheckOutOfBounds, s.Years.Pos, fmt.Sprintf("the years %q are too many", s.Years), fmt.Sprintf("Write at most %d years between 1 and 9999, as in 1930/1985.", maxHorizon))
	}
}

// languageTag is the form of a tag of BCP 47, extensions left out.
var languageTag = regexp.MustCompile(`^[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8}){0,3}$`)

// fill takes from the defaults what the file does not state.
func (j *Judgement) fill(by Judgement) {
	if j.Circa.Pos.IsZero() {
		j.Circa = by.Circa
	}
	if j.Changeover.Pos.IsZero() {
		j.Changeover = by.Changeover
	}
	if j.Temper.Pos.IsZero() {
		j.Temper = by.Temper
	}
	if j.Unrecorded.Pos.IsZero() {
		j.Unrecorded = by.Unrecorded
	}
	if j.Teach.Weight.Pos.IsZero() {
		j.Teach.Weight = by.Teach.Weight
	}
	if j.Teach.Years.Pos.IsZero() {
		j.Teach.Years = by.Teach.Years
	}
	if j.Teach.Steps.Pos.IsZero() {
		j.Teach.Steps = by.Teach.Steps
	}
	j.Credence = filled(j.Credence, by.Credence)
	j.Looseness = filled(j.Looseness, by.Looseness)
}

// filled completes a map from another and gives it.
func filled[K comparable](m, by map[K]Number) map[K]Number {
	for k, v := range m {
		by[k] = v
	}
	return by
}
