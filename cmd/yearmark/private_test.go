package main

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"yearmark/builder"
	"yearmark/search"
	"yearmark/testdata/need"
	drawn "yearmark/testdata/secrets"
)

// secret begins every key and value that the tests keep in private.
const secret = "zqsecretqz"

// privateLine finds an example's private part, on one line or on several.
var privateLine = regexp.MustCompile(`(?m)^private:.*\n(?:  .*\n)*`)

// secrets is a copy of the demonstration in which every example keeps its own
// words in private, beside examples drawn at random that are full of secrets.
func secrets(t *testing.T) (folder string) {
	t.Helper()
	folder = filepath.Join(t.TempDir(), "r")
	if err := os.CopyFS(folder, os.DirFS(filepath.Join(need.Root(t), "content"))); err != nil {
		t.Fatal(err)
	}
	examples, err := filepath.Glob(filepath.Join(folder, "examples", "*.md"))
	if err != nil || len(examples) < 40 {
		t.Fatalf("%d examples, %v", len(examples), err)
	}
	for i, name := range examples {
		rewrite(t, name, func(text string) string {
			text = privateLine.ReplaceAllString(text, "")
			kept := fmt.Sprintf("private: {owner: %s-owner-%d, serial: \"%s 65-172 %d\", %s-key-%d: \"%s-value-%d\"}\n", secret, i, secret, i, secret, i, secret, i)
			return strings.Replace(text, "\n---\n", "\n"+kept+"---\n", 1)
		})
	}
	for seed := range 80 {
		file := filepath.Join(folder, "examples", fmt.Sprintf("drawn-%d.md", seed))
		if err := os.WriteFile(file, []byte(drawn.Example(secret).Example(seed)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	keepBack(t, folder)
	return folder
}

// keepBack makes what may not be shown of two cited sources full of secrets:
// the words of one of which nothing is shown, the scans and recordings of both.
func keepBack(t *testing.T, folder string) {
	t.Helper()
	drawing := `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><text>` + secret + `</text></svg>`
	for name, data := range map[string]string{
		"pictures/kept/back.svg": drawing, "pictures/kept/words.svg": drawing,
		"recordings/kept.wav": string(tone(secret)), "recordings/kept.vtt": "WEBVTT\n\n00:00.000 --> 00:01.000\nPadauk of 1965, " + secret + "\n",
	} {
		path := filepath.Join(folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(data), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	rewrite(t, filepath.Join(folder, "sources", "letter-garside-1975.md"), func(text string) string {
		front, body, _ := strings.Cut(text, "\nshown: none\n")
		_, body, _ = strings.Cut(body, "\n---\n")
		return front + "\nshown: none\nrecording: {file: kept.wav}\ntranscript: kept.vtt\nplaces:\n" +
			"  - {at: sheet 1, says: \"" + secret + " in 1961\", scan: kept/back.svg, region: \"xywh=percent:1,1,50,50\"} # " + secret + "\n" +
			"  - at: sheet 2\n    says: |\n      " + secret + "\n      and more " + secret + "\n---\n" + body
	})
	rewrite(t, filepath.Join(folder, "sources", "thornsgill-ledger.md"), func(text string) string {
		return strings.Replace(text, "places:\n", "places:\n  - {at: f. 9, says: \"Shown words\", scan: kept/words.svg, region: \"xywh=percent:1,1,50,50\"}\n", 1)
	})
}

// tone is a WAV of one sample and a note.
func tone(note string) []byte {
	data := []byte("RIFF\x00\x00\x00\x00WAVEfmt \x10\x00\x00\x00\x01\x00\x01\x00\x40\x1f\x00\x00\x40\x1f\x00\x00\x01\x00\x08\x00data\x02\x00\x00\x00\x80\x80")
	data = append(data, "LIST"...)
	data = binary.LittleEndian.AppendUint32(data, uint32(len(note)))
	return append(data, note...)
}

func rewrite(t *testing.T, name string, change func(string) string) {
	t.Helper()
	data, err := os.ReadFile(name)
	if err == nil {
		err = os.WriteFile(name, []byte(change(string(data))), 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// said runs a command line and gives all that it wrote.
func said(args ...string) string {
	var out syncBuffer
	run(args, stdio{in: strings.NewReader(""), out: &out, err: &out})
	return out.String()
}

// syncBuffer may be written by several at once.
type syncBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *syncBuffer) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *syncBuffer) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// hush fails the test where a text holds what is private, with what stands around it.
func hush(t *testing.T, where, text string) {
	t.Helper()
	if at := strings.Index(strings.ToLower(text), secret); at >= 0 {
		t.Errorf("%s tells what is private: …%s…", where, text[max(0, at-80):min(len(text), at+60)])
	}
}

// submissionFile is a submission whose private part and photographs are secret.
func submissionFile(t *testing.T, folder, name, note string) string {
	t.Helper()
	path := filepath.Join(folder, name)
	text := fmt.Sprintf(`{"yearmark":"submission","version":1,"reference":"The Fellside Bow Register","edition":"x","on":"2024-05-01","model":"plover",
 "observed":[{"feature":"riser-wood","values":["padauk"],"sure":"sure"},{"feature":"serial-number","values":["65-172"],"sure":"sure"}],
 "photographs":[{"file":"%[1]s.jpg","shows":"%[1]s"}],"note":%[2]q,"private":{"name":"%[1]s name","contact":"%[1]s contact"}}`, secret, note)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestPrivateNeverLeaves runs every command over records and submissions full
// of secrets and looks for them in every byte written: on the screen, in
// tables, in the site with its data, its search and its pictures. A command
// that is not run here fails the test.
func TestPrivateNeverLeaves(t *testing.T) {
	folder := secrets(t)
	work := t.TempDir()
	site, sheets := filepath.Join(work, "site"), filepath.Join(work, "tables")
	received := submissionFile(t, work, "bow.json", "A note.")
	again := submissionFile(t, work, "again.json", "<script>"+"x")
	calls := map[string][][]string{
		"check":   {{folder}, {folder, "--format", "json"}, {folder, "--format", "sarif"}},
		"date":    {{"--in", folder, "--model", "plover", "riser-wood=padauk", "serial-number=65-172"}, {"--in", folder, "riser-wood=padauk", "--format", "json"}},
		"find":    {{"--in", folder, secret}, {"--in", folder, secret + "-owner-3"}, {"--in", folder, "plover", "--format", "json"}},
		"trial":   {{folder}},
		"tables":  {{folder, "--to", sheets}},
		"publish": {{folder, "--to", site}, {folder, "--to", site, "--since", filepath.Join(need.Root(t), "content")}},
		"receive": {{received, "--in", folder, "--dry-run"}, {received, "--in", folder}, {received, "--in", folder}, {again, "--in", folder}, {work, "--in", folder, "--format", "json"}},
		"compare": {{filepath.Join(need.Root(t), "content"), folder}, {folder, filepath.Join(need.Root(t), "content"), "--format", "json", "--all"}},
		"add":     {{"example", "--in", folder}},
		"begin":   {{filepath.Join(work, "new")}},
		"undo":    {{folder}},
		"rename":  {{"page", "cautions", "cautions", "--in", folder}},
		"preview": nil,                     // runs until it is ended: below
		"desk":    nil,                     // shows records to who edits them; it prints addresses alone
		"import":  nil,                     // needs the tables: below
		"help":    {{}}, "completion": nil, // what cobra itself says
	}
	for _, c := range rootCommand(stdio{}).Commands() {
		if _, known := calls[c.Name()]; !known && c.Runnable() { // a page of help is not run
			t.Errorf("the command %q is not looked at here", c.Name())
		}
	}
	for _, name := range []string{"check", "date", "find", "trial", "tables", "publish", "receive", "compare", "add", "begin", "undo", "rename", "help"} {
		for _, args := range calls[name] {
			text := said(append([]string{name}, args...)...)
			if text == "" {
				t.Errorf("%s %v says nothing", name, args)
			}
			for _, own := range args { // what the caller typed may be repeated
				if strings.Contains(own, secret) {
					text = strings.ReplaceAll(text, own, "")
				}
			}
			hush(t, name, text)
		}
	}
	hushFolder(t, site, 400)
	hushFolder(t, sheets, 4)
	hushFolder(t, filepath.Join(work, "new"), 10)
	hushEditions(t, folder)
	hushImport(t, folder, sheets)
	hushSearch(t, folder)
	if data, err := os.ReadFile(filepath.Join(folder, "examples", "0053.md")); err != nil || strings.Count(string(data), secret) != 4 {
		t.Errorf("the record that was filed keeps the private part like this: %s, %v", data, err)
	}
}

// hushFolder looks through every file of a folder, names too.
func hushFolder(t *testing.T, folder string, least int) {
	t.Helper()
	n := 0
	err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		n++
		data, err := os.ReadFile(path)
		hush(t, path, path[len(folder):]+" "+string(data))
		return err
	})
	if err != nil || n < least {
		t.Errorf("%s has %d files, want %d at the least; %v", folder, n, least, err)
	}
}

// hushEditions looks into the editions that publish remembered.
func hushEditions(t *testing.T, folder string) {
	t.Helper()
	list, _ := filepath.Glob(filepath.Join(folder, "editions", "*.zip"))
	if len(list) == 0 {
		t.Error("no edition is remembered")
	}
	for _, name := range list {
		r, err := zip.OpenReader(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range r.File {
			data, err := fs.ReadFile(r, f.Name)
			if err != nil {
				t.Fatal(err)
			}
			hush(t, name+" "+f.Name, string(data))
		}
		if len(r.File) < 50 {
			t.Errorf("%s holds %d files only", name, len(r.File))
		}
		_ = r.Close()
	}
}

// hushImport changes cells next to what is private, and has the changes shown
// and made.
func hushImport(t *testing.T, folder, sheets string) {
	table := filepath.Join(sheets, "examples.csv")
	rewrite(t, table, func(text string) string {
		return strings.Replace(text, "upper tip", "top tip", 1)
	})
	for _, args := range [][]string{{"import", table, "--in", folder, "--diff"}, {"import", table, "--in", folder, "--write", "--diff"}} {
		text := said(args...)
		if !strings.Contains(text, "top tip") {
			t.Errorf("%v does not show the change:\n%s", args, text)
		}
		hush(t, "import", text)
	}
}

// hushSearch looks at what the search is made from, since its files are packed.
func hushSearch(t *testing.T, folder string) {
	study, err := builder.Open(t.Context(), folder)
	if err != nil {
		t.Fatal(err)
	}
	data, err := json.Marshal(search.Documents(study.Ref, study.Timeline.Years))
	if err != nil || len(data) < 10_000 {
		t.Fatalf("%d bytes, %v", len(data), err)
	}
	hush(t, "the search", string(data))
}

// TestPrivateIsNotQuotedWhenItIsWrong breaks the private part itself in every
// way that the reader knows, and the line on which it stands: the checker, the
// preview and the other commands name the place and not the words.
func TestPrivateIsNotQuotedWhenItIsWrong(t *testing.T) {
	for name, text := range map[string]string{
		"a word":             "private: " + secret,
		"a list":             "private: [" + secret + "]",
		"a list within":      "private: {owner: [" + secret + ", x]}",
		"keys within":        "private: {owner: {" + secret + ": x}}",
		"a key twice":        "private: {owner: " + secret + ", owner: " + secret + "}",
		"a secret key twice": "private: {" + secret + ": x, " + secret + ": y}",
		"and on lines":       "private:\n  " + secret + ": x\n  " + secret + ": y",
		"a secret key null":  "private: {" + secret + "}",
		"a key of keys":      "private: {{" + secret + ": x}: y}",
		"a control sign":     "private: {owner: \"" + secret + " \u202e\"}",
		"an alias":           "private: {owner: &a " + secret + ", paid: *a}",
		"a tag":              "private: {owner: !!str " + secret + "}",
		"an open quote":      "private: {owner: \"" + secret + "}",
		"an open brace":      "private: {owner: " + secret,
		"a tab":              "private:\n\towner: " + secret,
		"a colon":            "private: {owner: x: " + secret + "}",
		"deeper":             "private:\n  owner: x\n    paid: " + secret,
		"without a space":    "private: {owner:" + secret + "}",
		"a key too many":     "private: {owner: " + secret + "}\nowner: x",
		"a misspelt key":     "privat: {owner: " + secret + "}",
		"another case":       "Private: {owner: " + secret + "}",
		"private twice":      "private: {owner: " + secret + "}\nprivate: {owner: " + secret + "}",
		"beside another key": "weight-mark: [\"38\"]\nprivate: {owner: " + secret + "}\nseen: yesterday",
	} {
		t.Run(name, func(t *testing.T) {
			folder := filepath.Join(t.TempDir(), "r")
			said("begin", folder)
			rewrite(t, filepath.Join(folder, "examples", "0001.md"), func(old string) string { return strings.Replace(old, "\n---\n", "\n"+text+"\n---\n", 1) })
			for _, args := range [][]string{
				{"check", folder}, {"check", folder, "--format", "json"}, {"check", folder, "--format", "sarif"},
				{"publish", folder, "--to", folder + "-site"}, {"date", "--in", folder, "riser-wood=ash"}, {"compare", folder, folder}, {"trial", folder},
			} {
				hush(t, strings.Join(args[:1], " "), said(args...))
			}
			hush(t, "preview", previewed(t, folder, nil))
		})
	}
}

// previewed runs the preview for a while and gives all that it wrote.
func previewed(t *testing.T, folder string, meanwhile func()) string {
	t.Helper()
	ctx, stop := context.WithTimeout(context.Background(), 20*time.Second)
	defer stop()
	var out syncBuffer
	ended := make(chan error, 1)
	go func() { ended <- builder.Preview(ctx, folder, builder.PreviewOptions{Out: &out}) }()
	for ctx.Err() == nil && !strings.Contains(out.String(), "serving ") {
		time.Sleep(5 * time.Millisecond)
	}
	if meanwhile != nil {
		meanwhile()
		for ctx.Err() == nil && !strings.Contains(out.String(), "read again") {
			time.Sleep(5 * time.Millisecond)
		}
	}
	stop()
	if err := <-ended; err != nil {
		t.Errorf("the preview ended with %v", err)
	}
	return out.String()
}

// TestPreviewKeepsPrivate edits a secret while the preview looks on.
func TestPreviewKeepsPrivate(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "r")
	said("begin", folder)
	text := previewed(t, folder, func() {
		rewrite(t, filepath.Join(folder, "examples", "0001.md"), func(old string) string {
			return strings.Replace(old, "\n---\n", "\nprivate: {owner: "+secret+"}\n---\n", 1)
		})
	})
	hush(t, "preview", text)
	if !slices.Contains(strings.Fields(text), "serving") {
		t.Errorf("it says %q", text)
	}
}
