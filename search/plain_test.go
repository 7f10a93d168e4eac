package search

import "testing"

func TestPlain(t *testing.T) {
	for _, c := range []struct{ markdown, want string }{
		{"Look for the *collar*,\nor [its hole](claim:socket).\n\n## Marks\n\n- oval\n- script", "Look for the collar, or its hole.\nMarks\noval\nscript"},
		{"`H-24` and <b>bold</b> ![an oval mark](mark.jpg)", "H-24 and <b>bold</b> an oval mark"},
		{"```\nx < y\n```\n\n<div>\nraw\n</div>", "x < y\n<div>\nraw\n</div>"},
		{"| a | b |\n|---|---|\n| 1 | 2 |", "a\nb\n1\n2"},
		{"<https://example.org/>", "https://example.org/"},
		{"", ""},
	} {
		if got := Plain(c.markdown); got != c.want {
			t.Errorf("%q:\n got %q\nwant %q", c.markdown, got, c.want)
		}
	}
}
