package english_test

import (
	"testing"

	"yearmark/schema/english"
)

func TestWords(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{english.Count(0, "claim"), "0 claims"},
		{english.Count(1, "claim"), "1 claim"},
		{english.Count(2, "claim"), "2 claims"},
		{english.Count(2, "witness", "witnesses"), "2 witnesses"},
		{english.Plural(1, "bow is", "bows are"), "bow is"},
		{english.And(nil), ""},
		{english.And([]string{"a"}), "a"},
		{english.And([]string{"a", "b"}), "a and b"},
		{english.Or([]string{"a", "b", "c"}), "a, b or c"},
		{english.Clip("déjà vu", 7), "déjà vu"},
		{english.Clip("déjà vu", 5), "déjà …"},
		{english.Clip("", 3), ""},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
