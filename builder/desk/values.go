package desk

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"yearmark/exchange/editing"
	"yearmark/schema"
)

// values are the texts of a form by the path of each: the keys that lead to it,
// items of lists by number, with slashes between, as in "features/3/cites/0".
type values map[string]string

// bodyPath is where the text below the front matter stands; no key has this name.
const bodyPath = "-text"

// fileValues gives what a record's file says. The error is for a file whose
// keys cannot be changed one by one.
func fileValues(name string, source []byte, of schema.Field) (values, error) {
	source = fenced(name, source)
	top, err := schema.Locate(name, source)
	if err != nil {
		return nil, err
	}
	v := values{bodyPath: bodyOf(source)}
	v.group("", of, top, source)
	return v, nil
}

func (v values) group(path string, of schema.Field, at *schema.Located, source []byte) {
	if at.Kind == schema.LocatedText && at.Text != "" { // one word in place of keys: the year of a sighting
		v[join(path, of.Fields[0].Name)] = at.Text
	}
	for _, f := range of.Fields {
		if value := at.Key(f.Name); value != nil {
			v.field(join(path, f.Name), f, value, source)
		}
	}
}

func (v values) field(path string, f schema.Field, at *schema.Located, source []byte) {
	single := f
	single.List = false
	switch {
	case f.List && at.Kind == schema.LocatedList:
		for i, item := range at.Items {
			v.field(join(path, strconv.Itoa(i)), single, item, source)
		}
	case f.List:
		if at.Kind != schema.LocatedText || at.Text != "" {
			v.field(join(path, "0"), single, at, source)
		}
	case f.Type == schema.FieldGroup:
		v.group(path, f, at, source)
	case f.Type == schema.FieldOther:
		v[path] = linesOf(at)
	case f.Type == schema.FieldDispute:
		v[path] = disputeText(at)
	case f.Type == schema.FieldSpan && at.Kind == schema.LocatedKeys:
		v[path] = editing.Written(at)
	default:
		v[path] = at.Text
	}
}

// postedValues gives what a form holds, without what was left empty.
func postedValues(form url.Values) values {
	v := values{}
	for path, texts := range form {
		text := strings.ReplaceAll(texts[0], "\r\n", "\n")
		if text = strings.TrimSpace(text); path == bodyPath {
			text = strings.Trim(texts[0], "\r\n")
			text = strings.ReplaceAll(text, "\r\n", "\n")
		}
		if text != "" || path == bodyPath {
			v[path] = text
		}
	}
	return v
}

// outline says where in values anything is written. It is made once, where
// every field of a form asks.
type outline struct {
	lists  map[string][]int // the numbers of a list's items that hold anything, rising
	filled map[string]bool  // paths at which or below which anything is written
}

func (v values) outline() outline {
	o := outline{map[string][]int{}, map[string]bool{}}
	for path, text := range v {
		for text != "" && path != "" && !o.filled[path] {
			o.filled[path] = true
			above, step := cutLast(path)
			if n, err := strconv.Atoi(step); err == nil && n >= 0 && n <= schema.MaxClaims && strconv.Itoa(n) == step {
				o.lists[above] = append(o.lists[above], n)
			}
			path = above
		}
	}
	for _, list := range o.lists {
		slices.Sort(list)
	}
	return o
}

// items gives the numbers of a list's items that hold anything, rising. The
// caller must not change it.
func (o outline) items(path string) []int { return o.lists[path] }

// any says whether anything is written at a path or below it.
func (o outline) any(path string) bool { return o.filled[path] }

// outlined are values with their outline.
type outlined struct {
	values
	outline
}

func (v values) outlined() outlined { return outlined{v, v.outline()} }

// remove takes away what is written at a path and below it.
func (v values) remove(path string) {
	for at := range v {
		if at == path || strings.HasPrefix(at, path+"/") {
			delete(v, at)
		}
	}
}

// join puts a step to the end of a path.
func join(path, step string) string {
	if path == "" {
		return step
	}
	return path + "/" + step
}

// bodyOf is the text below the front matter, its lines ended alike, without
// the empty ones before it and after.
func bodyOf(source []byte) string {
	return strings.Trim(strings.ReplaceAll(string(source[bodyStart(source):]), "\r\n", "\n"), "\n")
}

// bodyStart is where the text below the front matter begins, after empty lines.
func bodyStart(source []byte) int {
	at := frontEnd(source)
	for at < len(source) && (source[at] == '\n' || source[at] == '\r') {
		at++
	}
	return at
}

// frontEnd is where the line after the front matter begins.
func frontEnd(source []byte) int {
	text := string(source)
	at := strings.Index(text, "---")
	if at < 0 {
		return len(source)
	}
	for next := at + 3; ; {
		line := strings.Index(text[next:], "\n---")
		if line < 0 {
			return len(source)
		}
		next += line + 4
		end := strings.IndexByte(text[next:], '\n')
		if end < 0 {
			return len(source)
		}
		if strings.TrimSpace(text[next:next+end]) == "" {
			return next + end + 1
		}
	}
}

// fence stands before and after a record's keys; the settings have none.
const fence = "---\n"

// fenced gives the settings as a record has them, so that they are read and
// changed by the same means; a record stays as it is.
func fenced(name string, source []byte) []byte {
	if name != schema.SettingsFile {
		return source
	}
	text := fence + strings.TrimPrefix(string(source), "\ufeff")
	if !strings.HasSuffix(text, "\n") {
		text += "\n"
	}
	return []byte(text + fence)
}

// unfenced takes away again what fenced put there.
func unfenced(name string, source []byte) []byte {
	if name != schema.SettingsFile {
		return source
	}
	return source[len(fence) : len(source)-len(fence)]
}
