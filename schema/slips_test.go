package schema

import (
	"bytes"
	"math/rand/v2"
	"os"
	"testing"
	"unicode/utf8"
)

// TestSlips makes one slip of the pen at a time in records of the
// demonstration: a character left out, put in, or doubled. Where the YAML can
// no longer be read, the line named is to be the one with the slip, and the
// slip is to be told by name, not by the library's guess.
func TestSlips(t *testing.T) {
	ref, _, err := Read("../content")
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(1, 2))
	refused, unnamed, elsewhere := 0, 0, 0
	records := ref.Records()
	for range 6000 {
		r := records[random.IntN(len(records))].Header()
		front := frontOf(r.Source)
		at := random.IntN(len(front))
		if front[at] == '\n' || bytes.HasPrefix(front, []byte("---")) {
			continue
		}
		slipped := slip(random, front, at)
		_, err := parseYAML(slipped)
		if err == nil || !utf8.Valid(slipped) {
			continue
		}
		if _, err = parseQuestions(slipped, err); err == nil {
			continue
		}
		refused++
		line := placeOf("", front, at).Line()
		d := &decoder{file: r.File}
		d.malformed(slipped, err)
		p := d.problems[0]
		switch {
		case diagnose(slipped) == nil:
			unnamed++
			if os.Getenv("YEARMARK_SHOW") != "" {
				t.Logf("unnamed: %v: %s", err, bytes.Split(slipped, []byte("\n"))[line-1])
			}
		case p.Pos.Line() != line:
			elsewhere++
			if os.Getenv("YEARMARK_SHOW") != "" {
				t.Logf("at %d, told at %d: %s: %s", line, p.Pos.Line(), p.Message, bytes.Split(slipped, []byte("\n"))[line-1])
			}
		}
	}
	t.Logf("of %d slips that could not be read, %d were not named and %d were told at another line", refused, unnamed, elsewhere)
	if refused < 500 {
		t.Fatalf("only %d slips could not be read", refused)
	}
	if unnamed*100 > refused || elsewhere*25 > refused {
		t.Errorf("of %d slips %d were not named, %d told at another line", refused, unnamed, elsewhere)
	}
}

// slip makes one slip at a place.
func slip(random *rand.Rand, text []byte, at int) []byte {
	var put []byte
	skip := 0
	switch random.IntN(4) {
	case 0:
		skip = 1
	case 1:
		put = []byte{text[at]}
	case 2:
		const slips = "\"'[]{}:,-\t |>@*&!%#?"
		put = []byte{slips[random.IntN(len(slips))]}
	case 3:
		const slips = "\"'[]{}:,"
		put, skip = []byte{slips[random.IntN(len(slips))]}, 1
	}
	return append(append(bytes.Clone(text[:at]), put...), text[at+skip:]...)
}
