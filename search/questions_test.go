package search

import (
	"math/rand/v2"
	"strconv"
	"strings"

	"yearmark/schema/edtf"
)

// questioner makes questions about a set of documents, as visitors might ask
// them and as they might not.
type questioner struct {
	rng  *rand.Rand
	docs []Document
}

// questions gives n of them. The same documents and n give the same ones.
func questions(docs []Document, n int) []Query {
	q := &questioner{rand.New(rand.NewPCG(1966, uint64(n))), docs}
	list := make([]Query, n)
	for i := range list {
		list[i] = q.question(i)
	}
	return list
}

// question makes the i-th: of every twenty, nine are words, three unfinished, three
// misspelt, two phrases, one of a value had in something, one without words, one odd and one long.
func (q *questioner) question(i int) Query {
	var asked Query
	switch i % 20 {
	case 0, 1, 2:
		asked.Words, asked.Typing = q.words(1+q.rng.IntN(3)), true
		asked.Words = asked.Words[:len(asked.Words)-q.rng.IntN(min(3, len(asked.Words)))]
	case 3, 4, 5:
		asked.Words = q.misspelt(q.words(1 + q.rng.IntN(2)))
	case 6, 7:
		asked.Words = `"` + q.run(2+q.rng.IntN(3)) + `" ` + q.words(q.rng.IntN(2))
	case 8:
		asked = q.filtered(asked)
		asked = q.filtered(asked)
	case 9:
		asked.Words = q.odd()
	case 10:
		asked.Words = q.words(12) + " " + q.run(6)
	case 11:
		asked.Words = q.had()
	default:
		asked.Words = q.words(1 + q.rng.IntN(4))
	}
	if q.rng.IntN(4) == 0 {
		asked = q.filtered(asked)
	}
	if q.rng.IntN(10) == 0 {
		asked.Limit, asked.Offset = 1+q.rng.IntN(20), q.rng.IntN(30)
	}
	return asked
}

func (q *questioner) doc() *Document { return &q.docs[q.rng.IntN(len(q.docs))] }

// words gives n words from one document.
func (q *questioner) words(n int) string {
	d := q.doc()
	all := strings.Fields(d.Title + " " + d.Text)
	var some []string
	for range n {
		some = append(some, all[q.rng.IntN(len(all))])
	}
	return strings.Join(some, " ")
}

// had gives a word of a value and a year or a model in which it is had.
func (q *questioner) had() string {
	d := q.doc()
	if len(d.Holds) == 0 {
		return q.words(2)
	}
	h := d.Holds[q.rng.IntN(len(d.Holds))]
	return strings.Join([]string{h.Name, d.Model, strconv.Itoa(h.First)}[q.rng.IntN(2):], " ")
}

// run gives n words that stand together.
func (q *questioner) run(n int) string {
	all := strings.Fields(q.doc().Text)
	if len(all) <= n {
		return strings.Join(all, " ")
	}
	from := q.rng.IntN(len(all) - n)
	return strings.ReplaceAll(strings.Join(all[from:from+n], " "), `"`, "")
}

// misspelt changes, drops, doubles or swaps a letter of each word.
func (q *questioner) misspelt(text string) string {
	list := strings.Fields(text)
	for i, w := range list {
		letters := []rune(w)
		if len(letters) < 4 {
			continue
		}
		at := 1 + q.rng.IntN(len(letters)-2)
		switch q.rng.IntN(4) {
		case 0:
			letters[at] = rune('a' + q.rng.IntN(26))
		case 1:
			letters = append(letters[:at], letters[at+1:]...)
		case 2:
			letters = append(letters[:at+1], letters[at:]...)
		case 3:
			letters[at], letters[at+1] = letters[at+1], letters[at]
		}
		list[i] = string(letters)
	}
	return strings.Join(list, " ")
}

// odd gives what no visitor means, and must do no harm.
func (q *questioner) odd() string {
	signs := []string{`"`, "*", "+", "-", "~2", ":", "/", "\\", "(", "^3", "½", "é", "\x00", "𝔸", "ﬁ", "'", "title:", "AND", "ß", "\"\"", "7 1/4", "h 24", "..", "�"}
	var b strings.Builder
	for range 1 + q.rng.IntN(6) {
		b.WriteString(signs[q.rng.IntN(len(signs))])
		if q.rng.IntN(2) == 0 {
			b.WriteString(q.words(1))
		}
	}
	return b.String()
}

// filtered adds a filter of some document.
func (q *questioner) filtered(asked Query) Query {
	d := q.doc()
	switch q.rng.IntN(6) {
	case 0:
		asked.Kinds = append(asked.Kinds, d.Kind)
	case 1:
		asked.Maker = d.Maker
	case 2:
		asked.Model = d.Model
	case 3:
		first := 1930 + q.rng.IntN(60)
		asked.Years = edtf.Range{First: first, Last: first + q.rng.IntN(10)}
	default:
		if len(d.Holds) == 0 {
			return asked
		}
		for range 1 + q.rng.IntN(2) {
			h := d.Holds[q.rng.IntN(len(d.Holds))]
			asked.Features = append(asked.Features, h.Key())
		}
	}
	return asked
}
