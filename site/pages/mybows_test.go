package pages_test

import (
	"encoding/json"
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"yearmark/testdata/need"
)

// readBows has the page's own module read files of bows: each is refused with
// words, or comes out as it is written again.
const readBows = `
import { readFileSync } from "node:fs";
const { readFile, fileOf, Refused } = await import(process.argv[1]);
console.log(JSON.stringify(JSON.parse(readFileSync(0, "utf8")).map((text) => {
  try {
    const { register, bows } = readFile(text);
    return { written: fileOf(register, bows) };
  } catch (e) {
    if (!(e instanceof Refused)) throw e;
    return { refused: e.message };
  }
})));`

// TestAFileOfBowsIsReadOrRefusedWithWords holds what the page takes in against
// the published schema, by an independent validator: the same files pass.
func TestAFileOfBowsIsReadOrRefusedWithWords(t *testing.T) {
	text, err := demonstration(t).Render("data/bows.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	document, err := jsonschema.UnmarshalJSON(strings.NewReader(string(text)))
	if err != nil {
		t.Fatal(err)
	}
	compiler := jsonschema.NewCompiler()
	if err := compiler.AddResource("bows.json", document); err != nil {
		t.Fatal(err)
	}
	schema, err := compiler.Compile("bows.json")
	if err != nil {
		t.Fatal(err)
	}
	const bow = `{"name": "N", "remark": "<b>&", "on": "2026-11-20", "edition": "2026-11-14 0123456789ab", "answers": "model=plover&a=b~unsure", "then": {"says": "1965", "first": 1965, "last": 1965, "best": 1965}}`
	file := func(bows string) string {
		return `{"yearmark": "bows", "version": 1, "register": "R", "bows": [` + bows + `]}`
	}
	in := func(from, to string) string { return file(strings.Replace(bow, from, to, 1)) }
	good := []string{file(""), file(bow), file(bow + "," + bow), in(`"remark": "<b>&", `, ""), in(`, "first": 1965, "last": 1965, "best": 1965`, ""), in(`"N"`, `"`+strings.Repeat("ü", 120)+`"`)}
	bad := []string{
		`[]`, `null`, `1`, `{}`, `{"yearmark": "submission", "version": 1}`, strings.Replace(file(bow), `"version": 1`, `"version": 2`, 1),
		strings.Replace(file(bow), `"bows": [`, `"more": 1, "bows": [`, 1), `{"yearmark": "bows", "version": 1, "register": "R"}`, `{"yearmark": "bows", "version": 1, "register": "R", "bows": {}}`,
		`{"yearmark": "bows", "version": 1, "register": 7, "bows": []}`, file("null"), file("[]"), file(`"x"`), file("{}"),
		in(`"N"`, `""`), in(`"N"`, `"`+strings.Repeat("n", 121)+`"`), in(`"N"`, `{"toString": 1}`), in(`"name"`, `"__proto__"`), in(`"on": "2026-11-20"`, `"on": "yesterday"`),
		in(`"then": {`, `"then": {"html": "<script>", `), in(`"says": "1965"`, `"says": ["1965"]`), in(`"first": 1965`, `"first": 19.5`), in(`"last": 1965`, `"last": -1`), in(`"best": 1965`, `"best": "1965"`),
		in(`"answers": "`, `"answers": "`+strings.Repeat("x", 8001)), in(`"edition": "`, `"edition": "`+strings.Repeat("x", 81)), file(strings.Repeat(bow+",", 2000) + bow),
	}
	notJSON := []string{"", "bows", file(bow)[:100], "\x00\x01"}
	input, err := json.Marshal(append(append(append([]string{}, good...), bad...), notJSON...))
	if err != nil {
		t.Fatal(err)
	}
	run := exec.Command(need.Node(t), "--input-type=module", "-e", readBows, filepath.Join(need.Root(t), "site", "assets", "js", "bows", "list.js"))
	run.Stdin = strings.NewReader(string(input))
	out, err := run.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	var read []struct{ Written, Refused string }
	if err := json.Unmarshal(out, &read); err != nil {
		t.Fatal(err)
	}
	for i, text := range append(append([]string{}, good...), bad...) {
		value, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if valid := schema.Validate(value) == nil; valid != (i < len(good)) || valid != (read[i].Refused == "") {
			t.Errorf("%.200s: by the schema %v, the page says %q", text, valid, read[i].Refused)
		}
		if i < len(good) {
			var before, after any
			_ = json.Unmarshal([]byte(text), &before)
			_ = json.Unmarshal([]byte(read[i].Written), &after)
			if fmt.Sprint(before) != fmt.Sprint(after) {
				t.Errorf("%.200s came out as %.200s", text, read[i].Written)
			}
		}
	}
	for i := range notJSON {
		if !strings.Contains(read[len(good)+len(bad)+i].Refused, "not JSON") {
			t.Errorf("%q is refused with %q", notJSON[i], read[len(good)+len(bad)+i].Refused)
		}
	}
}
