package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"yearmark/builder"
	"yearmark/builder/starter"
	"yearmark/checks"
	"yearmark/schema/edtf"
	"yearmark/site/guide"
)

var fenced = regexp.MustCompile("(?ms)^```([a-z]*)\n(.*?)^```$")

// Every example of the guide is tried: records are laid into the small register
// that begin writes, and nothing may be wrong with them; years are read, and
// years in words give what is said of them.
func TestTheGuideIsTrue(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "r")
	if _, err := starter.Write(folder); err != nil {
		t.Fatal(err)
	}
	records, years, words := 0, 0, 0
	for _, topic := range guide.Topics {
		for _, m := range fenced.FindAllStringSubmatch(topic.Text, -1) {
			switch m[1] {
			case "":
				records++
				file, text, _ := strings.Cut(m[2], "\n")
				if err := os.WriteFile(filepath.Join(folder, filepath.FromSlash(file)), []byte(text), 0o600); err != nil {
					t.Fatal(err)
				}
			case "years":
				for line := range strings.Lines(m[2]) {
					years++
					expression, _, _ := strings.Cut(line, " → ")
					if _, err := edtf.Parse(expression); err != nil {
						t.Error(err)
					}
				}
			case "words":
				for line := range strings.Lines(strings.TrimSpace(m[2])) {
					words++
					said, want, _ := strings.Cut(strings.TrimSpace(line), " → ")
					if offers := edtf.FromWords(said, 19); len(offers) == 0 || offers[0].Write != want {
						t.Errorf("%q gives %v, want %q", said, offers, want)
					}
				}
			}
		}
	}
	if records < 6 || years < 10 || words < 4 {
		t.Errorf("%d records, %d years, %d words: the examples are not found", records, years, words)
	}
	study, err := builder.Open(t.Context(), folder)
	if err != nil {
		t.Fatal(err)
	}
	report, err := study.Report(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range report.Findings {
		if f.Level != checks.Note {
			t.Errorf("%s: %s: %s", f.Pos, f.Check, f.Message)
		}
	}
	for _, topic := range guide.Topics {
		if text := said("help", topic.Name); !strings.Contains(text, strings.TrimSpace(topic.Text)[:60]) {
			t.Errorf("help %s says %q", topic.Name, text)
		}
	}
}
