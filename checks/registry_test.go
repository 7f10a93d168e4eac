package checks

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"yearmark/schema"
)

func TestRegistry(t *testing.T) {
	seen := map[string]bool{}
	family := 0
	for _, c := range registry {
		if seen[c.Name] || !regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`).MatchString(c.Name) {
			t.Errorf("the name %q is taken or malformed", c.Name)
		}
		seen[c.Name] = true
		file := strings.ReplaceAll(c.Name, "-", "_") + ".go"
		source, err := os.ReadFile(file)
		if err != nil || !bytes.Contains(source, []byte(`Name: "`+c.Name+`"`)) {
			t.Errorf("%s is not told in %s", c.Name, file)
		}
		if !slices.Contains(Levels, c.Level) || c.Run == nil {
			t.Errorf("%s has no level or nothing to run", c.Name)
		}
		at := slices.Index(Families, c.Family)
		if at < family {
			t.Errorf("%s stands outside its family %s", c.Name, c.Family)
		}
		family = at
		if c.finds != nil && c.Level == Note {
			t.Errorf("%s is a contradiction and only a note", c.Name)
		}
		for what, text := range map[string]string{"meaning": c.Meaning, "remedy": c.Remedy} {
			if first := []rune(text + " ")[0]; !unicode.IsUpper(first) || !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, `"`) {
				t.Errorf("the %s of %s is no sentence: %q", what, c.Name, text)
			}
		}
	}
	if len(registry) < 36 {
		t.Errorf("only %d checks", len(registry))
	}
}

func TestEveryProblemOfTheReaderIsACheck(t *testing.T) {
	for _, name := range schema.ReadingChecks {
		if c, _, ok := Lookup(name); !ok || c.Level == Note {
			t.Errorf("the reader's %s has no row, or one that is only a note", name)
		}
	}
}

func TestLookup(t *testing.T) {
	if c, _, ok := Lookup("two-values"); !ok || c.Name != "two-values" {
		t.Errorf("got %q, %v", c.Name, ok)
	}
	if _, nearest, ok := Lookup("two-valuse"); ok || nearest != "two-values" {
		t.Errorf("got nearest %q, %v", nearest, ok)
	}
	if _, nearest, ok := Lookup("completely-else"); ok || nearest != "" {
		t.Errorf("got nearest %q, %v", nearest, ok)
	}
}

// The worked examples are true: their lines stand in the check's fixture, and
// what they say is said there, to the letter.
func TestWorkedExamples(t *testing.T) {
	comment := regexp.MustCompile(`\s+#.*$`)
	for _, f := range fixtures(t) {
		c, _, _ := Lookup(f.name)
		lines, said, ok := strings.Cut(c.Example, "\n→ ")
		if !ok || strings.Contains(said, "\n") {
			t.Errorf("the example of %s does not end in what is said", c.Name)
			continue
		}
		report, _ := reportOn(t, f.bad)
		if !slices.ContainsFunc(report.Findings, func(got Finding) bool { return got.Check == c.Name && got.Message == said }) {
			t.Errorf("%s never says %q; it says:", c.Name, said)
			for _, got := range report.Findings {
				if got.Check == c.Name {
					t.Logf("  %s", got.Message)
				}
			}
		}
		var bad strings.Builder
		for _, file := range f.bad {
			bad.Write(bytes.ToValidUTF8(file.Data, []byte("\ufffd")))
		}
		for line := range strings.SplitSeq(lines, "\n") {
			line = strings.TrimSpace(comment.ReplaceAllString(line, ""))
			if !strings.HasPrefix(line, "#") && !strings.HasPrefix(line, "<!--") && !strings.Contains(bad.String(), line) {
				t.Errorf("the example of %s has a line that its fixture has not: %s", c.Name, line)
			}
		}
	}
}

// Messages are statements of fact for people: short, without a full stop, and
// begun in small letters.
func TestWording(t *testing.T) {
	var lengths []int
	for _, f := range fixtures(t) {
		report, _ := reportOn(t, f.bad)
		for _, got := range report.Findings {
			words := len(strings.Fields(got.Message))
			lengths = append(lengths, words)
			if words > 25 {
				t.Errorf("%d words: %s", words, told(got))
			}
			first := []rune(got.Message)[0]
			if unicode.IsUpper(first) || strings.HasSuffix(got.Message, ".") || strings.Contains(got.Message, "\n") {
				t.Errorf("no statement in our manner: %s", told(got))
			}
			if got.Help == "" || !unicode.IsUpper([]rune(got.Help)[0]) {
				t.Errorf("%s has no remedy that is a sentence: %q", told(got), got.Help)
			}
		}
	}
	slices.Sort(lengths)
	if median := lengths[len(lengths)/2]; median < 5 || median > 12 {
		t.Errorf("the median message has %d words, about nine are wanted", median)
	}
}

// A contradiction names both sides with their citations.
func TestContradictionsTellBothSides(t *testing.T) {
	for _, f := range fixtures(t) {
		if c, _, _ := Lookup(f.name); c.Family != Contradiction {
			continue
		}
		report, _ := reportOn(t, f.bad)
		for _, got := range report.Findings {
			if got.Check != f.name {
				continue
			}
			if len(got.Why) < 2 || len(got.Claims) < 1 {
				t.Errorf("one-sided: %s", told(got))
			}
			if got.Pos.File() == "" || !strings.HasSuffix(got.Pos.File(), filepath.Ext("x.md")) {
				t.Errorf("nowhere: %s", told(got))
			}
			for _, place := range got.Why {
				if !strings.Contains(place.Message, "list 19") && !strings.Contains(place.Message, "Letter") && !strings.Contains(place.Message, "letter") &&
					!strings.Contains(place.Message, "bulletin") && !strings.Contains(place.Message, "Example") && !strings.Contains(place.Message, "derived") && !strings.Contains(place.Message, "ulletin") {
					t.Errorf("no citation in %q of %s", place.Message, told(got))
				}
			}
		}
	}
}
