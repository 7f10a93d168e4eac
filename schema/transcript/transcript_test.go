package transcript

import (
	"bytes"
	"encoding/json"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"yearmark/testdata/need"
)

func cue(start, end time.Duration, speaker, text string, line int) Cue {
	return Cue{Start: start, End: end, Speaker: speaker, Text: text, Line: line}
}

const s, ms = time.Second, time.Millisecond

// The first three are examples of the W3C's WebVTT recommendation, sections 1.1
// to 1.5, written from memory; the rest are shapes that its section 6.1 rules on.
var webVTT = []struct {
	name, text string
	want       []Cue
}{
	{"speakers", "WEBVTT\n\n00:11.000 --> 00:13.000\n<v Roger Bingham>We are in New York City\n\n00:16.000 --> 00:18.000 align:left\n<v.loud Roger Bingham>We're actually at the <i>Lucern</i> Hotel\n",
		[]Cue{cue(11*s, 13*s, "Roger Bingham", "We are in New York City", 3), cue(16*s, 18*s, "Roger Bingham", "We're actually at the Lucern Hotel", 6)}},
	{"region", "WEBVTT\n\nREGION\nid:fred\nwidth:40%\nlines:3\n\n00:00:00.000 --> 00:00:20.000 region:fred align:left\n<v Fred>Hi, my name is Fred\n",
		[]Cue{cue(0, 20*s, "Fred", "Hi, my name is Fred", 8)}},
	{"comments", "WEBVTT - Translation of that film I like\n\nNOTE\nThis translation was done by Kyle so that\nsome friends can watch it.\n\n1\n00:02:15.000 --> 00:02:20.000\n- Ta en kopp varmt te.\n- Det är inte varmt.\n\nNOTE check next cue\n\n2\n00:02:20.000 --> 00:02:25.000\n- Har en kopp te.\n",
		[]Cue{cue(135*s, 140*s, "", "- Ta en kopp varmt te. - Det är inte varmt.", 8), cue(140*s, 145*s, "", "- Har en kopp te.", 15)}},
	{"a mark, old line ends and a tab", "\uFEFFWEBVTT\tx\r\rcue id\r01:00:00.500 --> 01:00:01.000\rone<00:00:00.700> two\r", []Cue{cue(time.Hour+500*ms, time.Hour+1*s, "", "one two", 4)}},
	{"an arrow ends the words", "WEBVTT\n\n00:01.000 --> 00:02.000\na\n00:02.000 --> 00:03.000\nb\n", []Cue{cue(1*s, 2*s, "", "a", 3), cue(2*s, 3*s, "", "b", 5)}},
	{"no blank line after the signature", "WEBVTT\n00:01.000 --> 00:02.000\na\n", []Cue{cue(1*s, 2*s, "", "a", 2)}},
	{"a style", "WEBVTT\n\nSTYLE\n::cue { color: red }\n\n00:01.000 --> 00:02.000\na\n", []Cue{cue(1*s, 2*s, "", "a", 6)}},
	{"no words", "WEBVTT\n\n00:01.000 --> 00:02.000\n\n00:02.000 --> 00:03.000\nb", []Cue{cue(1*s, 2*s, "", "", 3), cue(2*s, 3*s, "", "b", 5)}},
	{"entities", "WEBVTT\n\n00:01.000 --> 00:02.000\n5 &lt; 6 &amp; 7\n", []Cue{cue(1*s, 2*s, "", "5 < 6 & 7", 3)}},
}

func TestWebVTT(t *testing.T) {
	for _, c := range webVTT {
		cues, problems := Read("talk.vtt", []byte(c.text))
		if diff := cmp.Diff(c.want, cues); diff != "" || len(problems) > 0 {
			t.Errorf("%s: %v\n%s", c.name, problems, diff)
		}
	}
}

// disagreements are where the npm library departs from the recommendation,
// which wins: it takes "&amp" for the whole of "&amp;".
var disagreements = map[string]string{"entities": "5 <; 6 &; 7"}

// TestAgainstTheReference holds times and words to the npm library webvtt-parser.
func TestAgainstTheReference(t *testing.T) {
	folder := need.Npm(t, "webvtt-parser")
	var texts []string
	for _, c := range webVTT {
		texts = append(texts, c.text)
	}
	input, err := json.Marshal(texts)
	if err != nil {
		t.Fatal(err)
	}
	node := exec.Command(need.Node(t), "-e", `
const { WebVTTParser } = require("webvtt-parser");
const words = (node) => node.type === "text" ? node.value : (node.children ?? []).map(words).join("");
const texts = JSON.parse(require("fs").readFileSync(0, "utf8"));
console.log(JSON.stringify(texts.map((text) => new WebVTTParser().parse(text).cues.map((c) => ({ start: c.startTime, end: c.endTime, text: words(c.tree) })))));`)
	node.Dir, node.Stdin = folder, bytes.NewReader(input)
	out, err := node.Output()
	if err != nil {
		t.Fatal(err)
	}
	var got [][]struct {
		Start, End float64
		Text       string
	}
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	for i, c := range webVTT {
		if len(got[i]) != len(c.want) {
			t.Errorf("%s: the library has %d cues, the recommendation %d", c.name, len(got[i]), len(c.want))
			continue
		}
		for k, want := range c.want {
			words := want.Text
			if theirs, known := disagreements[c.name]; known {
				words = theirs
			}
			if is := got[i][k]; is.Start != want.Start.Seconds() || is.End != want.End.Seconds() || oneLine(is.Text) != words {
				t.Errorf("%s: the library reads %+v, we %+v", c.name, is, want)
			}
		}
	}
}

// SubRip has no standard; the shapes are those that players and transcribing
// programs write (common practice, no source).
func TestSubRipAndPlainText(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []Cue
	}{
		{"a.srt", "1\r\n00:00:01,000 --> 00:00:02,500\r\n<i>Here</i> is {\\an8}the stamp\r\n\r\n2\r\n00:00:03,000 --> 00:00:04,000\r\nwith the walnut\r\n",
			[]Cue{cue(1*s, 2*s+500*ms, "", "Here is the stamp", 2), cue(3*s, 4*s, "", "with the walnut", 6)}},
		{"b.txt", "The talk\n\n[00:07:12] Here is the stamp\nwith the walnut\n09:40 - sixty-six, I think\n(1:02:03): the end\n",
			[]Cue{cue(432*s, 580*s, "", "Here is the stamp with the walnut", 3), cue(580*s, 3723*s, "", "sixty-six, I think", 5), cue(3723*s, 0, "", "the end", 6)}},
	} {
		cues, problems := Read(c.name, []byte(c.text))
		if diff := cmp.Diff(c.want, cues); diff != "" || len(problems) > 0 {
			t.Errorf("%s: %v\n%s", c.name, problems, diff)
		}
	}
}

func TestProblems(t *testing.T) {
	for _, c := range []struct {
		name, text, want string
		line, cues       int
	}{
		{"a.vtt", "hello\n", `does not begin with "WEBVTT"`, 1, 0},
		{"a.vtt", "WEBVTTx\n", `does not begin with "WEBVTT"`, 1, 0},
		{"a.vtt", "WEBVTT\n\n00:00 -->\nx\n\n00:01.000 --> 00:02.000\ny\n", "cannot be read", 3, 1},
		{"a.vtt", "WEBVTT\n\n00:03.000 --> 00:02.000\nx\n", "ends before it begins", 3, 0},
		{"a.vtt", "WEBVTT\n", "no line with a time", 1, 0},
		{"a.srt", "1\n00:00 -->\n", "cannot be read", 2, 0},
		{"a.txt", "no times here\n", "no line with a time", 1, 0},
		{"a.txt", "1:99:00 x\n", "is no time", 1, 0},
		{"a.docx", "PK", "not known", 1, 0},
	} {
		cues, problems := Read(c.name, []byte(c.text))
		if len(problems) != 1 || problems[0].Line != c.line || !strings.Contains(problems[0].Message, c.want) || problems[0].Help == "" || len(cues) != c.cues {
			t.Errorf("%s %q: %d cues, %+v; want line %d: %s", c.name, c.text, len(cues), problems, c.line, c.want)
		}
	}
}

func TestTimes(t *testing.T) {
	for text, want := range map[string]time.Duration{"12:34": 754 * s, "07:12": 432 * s, "1:02:03": 3723 * s, "75:00": 4500 * s, "0:05": 5 * s} {
		if d, ok := ParseTime(text); !ok || d != want {
			t.Errorf("%q: %v, %v; want %v", text, d, ok, want)
		}
	}
	for _, text := range []string{"", "12", "12:3", "12:60", "1:60:00", "a:00", "1:2:3:4", "-1:00", "+1:00", "12:345", "1234:00"} {
		if d, ok := ParseTime(text); ok {
			t.Errorf("%q was read as %v", text, d)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		d := time.Duration(rapid.IntRange(0, 100*3600).Draw(t, "seconds")) * s
		if back, ok := ParseTime(FormatTime(d)); !ok || back != d {
			t.Fatalf("%v is written %q and read as %v", d, FormatTime(d), back)
		}
	})
}

func FuzzRead(f *testing.F) {
	for _, c := range webVTT {
		f.Add(byte(0), c.text)
	}
	f.Add(byte(1), "1\n00:00:01,000 --> 00:00:02,500\nx\n")
	f.Add(byte(2), "[00:07:12] x\n1:99:00\n")
	f.Fuzz(func(t *testing.T, kind byte, text string) {
		cues, problems := Read("x"+Endings[int(kind)%len(Endings)], []byte(text))
		for _, c := range cues {
			if c.Start < 0 || c.Line < 1 || c.Line > strings.Count(text, "\n")+strings.Count(text, "\r")+1 || strings.ContainsAny(c.Text, "\n\r") {
				t.Errorf("%+v", c)
			}
		}
		if len(cues)+len(problems) == 0 {
			t.Errorf("%q: neither read nor refused", text)
		}
	})
}
