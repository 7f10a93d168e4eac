package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"yearmark/builder"
	"yearmark/testdata/need"
)

// TestReceivesFiveHundred takes in a folder of 500 submissions, of which every
// fiftieth is bad, in one call: the bad ones are named, the others filed, each
// under a number of its own; the records hold no new errors.
func TestReceivesFiveHundred(t *testing.T) {
	need.Long(t)
	folder, inbox := filepath.Join(t.TempDir(), "r"), t.TempDir()
	if err := os.CopyFS(folder, os.DirFS(filepath.Join(need.Root(t), "content"))); err != nil {
		t.Fatal(err)
	}
	before, err := builder.Open(t.Context(), folder)
	if err != nil {
		t.Fatal(err)
	}
	woods, glass := []string{"walnut", "beech", "padauk", "sapele"}, []string{"mustard", "grey-green", "black"}
	for i := range 500 {
		text := fmt.Sprintf(`{"yearmark":"submission","version":1,"reference":"The Fellside Bow Register","edition":"x","on":"2024-05-%02d","model":"plover",
			"observed":[{"feature":"riser-wood","values":[%q],"sure":"sure"},{"feature":"limb-glass","values":[%q],"sure":"fairly"},{"feature":"serial-number","values":["66-%03d"],"sure":"sure"}],
			"note":"Bow %d."}`, 1+i%28, woods[i%4], glass[i%3], 100+i, i)
		if i%50 == 7 {
			text = strings.Replace(text, `"plover"`, `"plover<script>"`, 1)
		}
		if err := os.WriteFile(filepath.Join(inbox, fmt.Sprintf("bow-%03d.json", i)), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var out, complaints syncBuffer
	status := run([]string{"receive", inbox, "--in", folder}, stdio{in: strings.NewReader(""), out: &out, err: &complaints})
	if status != exitErrors || !strings.Contains(out.String(), "\n500 submissions: 490 filed, 0 filed before, 10 refused\n") || complaints.String() != "" {
		t.Errorf("status %d, stderr %q, and at the end %q", status, complaints.String(), out.String()[max(0, len(out.String())-200):])
	}
	if refused := regexp.MustCompile(`(?m)^.*bow-\d\d7\.json: not filed$`).FindAllString(out.String(), -1); len(refused) != 10 {
		t.Errorf("refused: %q", refused)
	}
	after, err := builder.Open(t.Context(), folder)
	if err != nil {
		t.Fatal(err)
	}
	if n := after.Ref.Examples.Len() - before.Ref.Examples.Len(); n != 490 {
		t.Errorf("%d examples came in", n)
	}
	was, errWas := before.Report(t.Context())
	is, errIs := after.Report(t.Context())
	if errWas != nil || errIs != nil || is.Counts.Error != was.Counts.Error {
		t.Errorf("%d errors, before %d; %v, %v", is.Counts.Error, was.Counts.Error, errWas, errIs)
	}
	// The second time nothing is filed, and nothing changes.
	if text := said("receive", inbox, "--in", folder); !strings.Contains(text, "0 filed, 490 filed before, 10 refused") {
		t.Errorf("the second time: %q", text[max(0, len(text)-200):])
	}
	if again, err := builder.Open(t.Context(), folder); err != nil || again.Edition != after.Edition {
		t.Errorf("the records changed: %v", err)
	}
}
