package intake

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
)

// What the page makes of what a visitor writes is taken in here, to the letter,
// and the letter says the same but for what the file is made of.
func TestThePageMakesWhatIsTakenIn(t *testing.T) {
	said := map[string]any{
		"about": " models/plover.html#script-mark ", "stance": "disagrees", "knows": "Two lines.\r\nThe second.", "sourceName": "Works diary", "sourcePlace": "p. 3",
		"sourceWords": "as it stands", "pictures": []string{"diary.jpg"}, "by": "P. Sorrel", "name": "Pat", "contact": "pat@example.org",
	}
	program := fmt.Sprintf(`
		import { addressed, fileOf, letterOf, makeKnowledge } from %q;
		let text = ""; for await (const part of process.stdin) text += part;
		const seen = { reference: "The Fellside Bow Register", edition: "2026-11-14 0123", on: "2026-11-20" };
		const { knowledge, problems } = makeKnowledge(seen, JSON.parse(text));
		const bare = makeKnowledge(seen, { about: "", stance: "adds", knows: "<script>" });
		console.log(JSON.stringify({ ...fileOf(knowledge), letter: letterOf(knowledge), problems, bare: bare.problems, about: addressed("#about=models%%2Fplover.html%%23made") }));`,
		"file://"+filepath.ToSlash(filepath.Join(scripts(t), "submission", "knowledge.js")))
	var made struct {
		Name, Text, Letter, About string
		Problems, Bare            []string
	}
	node(t, program, said, &made)
	k, err := ReadKnowledge([]byte(made.Text))
	if err != nil || len(made.Problems) > 0 {
		t.Fatalf("%v, %v", err, made.Problems)
	}
	if k.About != "models/plover.html#script-mark" || k.Knows != "Two lines.\nThe second." || k.Source.Place != "p. 3" || k.Pictures[0].File != "diary.jpg" || k.Private.Contact != "pat@example.org" {
		t.Errorf("taken in as %+v", k)
	}
	for _, part := range []string{"models/plover.html#script-mark", "I disagree", "Works diary, p. 3", "as it stands", "diary.jpg", "The site may name me: P. Sorrel", "pat@example.org"} {
		if !strings.Contains(made.Letter, part) {
			t.Errorf("the letter does not say %q:\n%s", part, made.Letter)
		}
	}
	if made.About != "models/plover.html#made" || len(made.Bare) != 2 || made.Name != "known-models-plover-html-script-mark-2026-11-20.json" {
		t.Errorf("%q, %q, %q", made.About, made.Bare, made.Name)
	}
	if text := k.Text(); strings.Contains(text, "pat@example.org") || strings.Contains(text, "Pat\n") {
		t.Errorf("what is private is shown:\n%s", text)
	}
}

// Hostile files are refused as those of bows are, and none makes it panic.
func TestHostileKnowledge(t *testing.T) {
	const good = `{"yearmark":"knowledge","version":1,"reference":"r","edition":"e","on":"2026-04-02","about":"models/a.html","stance":"adds","knows":"KNOWS"}`
	if _, err := ReadKnowledge([]byte(good)); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"markup": strings.Replace(good, "KNOWS", "<img src=x>", 1), "turned": strings.Replace(good, "KNOWS", "a\u202eb", 1),
		"bell": strings.Replace(good, "KNOWS", `a\u0007b`, 1), "empty": strings.Replace(good, "KNOWS", "  ", 1), "long": strings.Replace(good, "KNOWS", strings.Repeat("a", 4001), 1),
		"stance": strings.Replace(good, "adds", "shouts", 1), "twice": strings.Replace(good, `"version":1`, `"version":1,"version":1`, 1),
		"climbs": strings.Replace(good, `"knows"`, `"pictures":[{"file":"../a.jpg"}],"knows"`, 1), "more": strings.Replace(good, `"knows"`, `"x":1,"knows"`, 1),
		"day": strings.Replace(good, "2026-04-02", "2026-13-02", 1), "cut": good[:40], "no JSON": "\xff\xd8\xff", "lines": strings.Replace(good, "models/a.html", `models/a.html\nb`, 1),
	} {
		_, err := ReadKnowledge([]byte(text))
		var why Problems
		if !errors.As(err, &why) {
			t.Errorf("%s: %v", name, err)
		} else if strings.Contains(why.Error(), "something unknown") {
			t.Errorf("%s: the place is not named: %v", name, err)
		}
	}
	for i := range good {
		_, _ = ReadKnowledge([]byte(good[:i]))
	}
}
