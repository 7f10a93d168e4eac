package edtf

import (
	"strings"
	"testing"
	"unicode"
)

func TestHabits(t *testing.T) {
	for _, row := range table(t, "habits.tsv") {
		_, err := Parse(row["text"])
		f, ok := err.(*SyntaxError)
		if !ok {
			t.Errorf("%q is read", row["text"])
			continue
		}
		var want []string
		if row["instead"] != "-" {
			want = strings.Split(row["instead"], " | ")
		}
		for i := range max(len(want), min(1, len(f.Instead))) {
			if i >= len(want) || i >= len(f.Instead) || want[i] != f.Instead[i] {
				t.Errorf("%q offers %q, want %q", row["text"], f.Instead, want)
				break
			}
		}
		checkFault(t, row["text"], f)
	}
}

// checkFault holds a refusal to what it promises.
func checkFault(t testing.TB, text string, f *SyntaxError) {
	t.Helper()
	if f.Text != text || f.Offset < 0 || f.Offset > len(text) || f.Reason == "" || f.Remedy == "" {
		t.Errorf("%q: incomplete: %#v", text, f)
	}
	for _, instead := range f.Instead {
		if _, err := Parse(instead); err != nil {
			t.Errorf("%q: offers what cannot be read: %v", text, err)
		}
		if !strings.Contains(f.Remedy, instead) && !strings.Contains(text, "/") && !strings.ContainsAny(text, "[{") {
			t.Errorf("%q: the remedy does not say %s: %s", text, instead, f.Remedy)
		}
	}
	if strings.HasSuffix(f.Error(), ".") && !strings.HasSuffix(f.Remedy, "..") {
		t.Errorf("%q: ends with a full stop: %v", text, f)
	}
	for _, jargon := range []string{"EDTF", "ISO", "token", "parse", "syntax"} {
		if strings.Contains(f.Reason+f.Remedy, jargon) {
			t.Errorf("%q: speaks of %s: %v", text, jargon, f)
		}
	}
	if first := []rune(f.Reason)[0]; unicode.IsUpper(first) && !strings.HasPrefix(f.Reason, "Y ") && !strings.HasPrefix(f.Reason, "S ") && !strings.HasPrefix(f.Reason, "P ") {
		t.Errorf("%q: the reason begins with a capital: %v", text, f)
	}
}

// TestReasonsAreShort: a message of at most twenty words, as every problem has, leaves fourteen
// for the reason after `"…" cannot be read as years:`.
func TestReasonsAreShort(t *testing.T) {
	for _, h := range habits {
		if n := len(strings.Fields(h.reason)); n > 14 {
			t.Errorf("%d words: %s", n, h.reason)
		}
	}
}

// TestWordsAloneNameNoYear: what says in words that a year is not known, or names
// an order, leads to what can be written.
func TestWordsAloneNameNoYear(t *testing.T) {
	for _, text := range []string{"not known", "after the round mark", "before the fire"} {
		_, err := Parse(text)
		f, ok := err.(*SyntaxError)
		if !ok || f.Reason != "it names no year" || !strings.Contains(f.Remedy, "leave the key away") {
			t.Errorf("%q: %v", text, err)
		}
	}
}
