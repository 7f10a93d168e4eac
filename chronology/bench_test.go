package chronology

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"yearmark/schema"
)

// madeReference makes up a reference of so many models of twelve claims each,
// thirty models a maker, that holds together.
func madeReference(b *testing.B, models int) (*schema.Reference, fs.FS) {
	b.Helper()
	r := rand.New(rand.NewPCG(1, 2))
	_, base := archive(b, "testdata/base.txtar")
	tree := fstest.MapFS{}
	for _, f := range base {
		tree[f.name] = &fstest.MapFile{Data: []byte(f.data)}
	}
	for i := range models {
		maker := fmt.Sprintf("maker-%d", i/30)
		tree["makers/"+maker+".md"] = &fstest.MapFile{Data: []byte("---\nrecord: maker\nname: M\ntrading: {span: 1945/1984, cites: [\"directory, p. 1\"]}\n---\n")}
		tree[fmt.Sprintf("models/model-%d.md", i)] = &fstest.MapFile{Data: []byte(madeModel(r, maker))}
	}
	ref, problems, err := schema.ReadFS(tree, "made")
	if err != nil || len(problems) > 0 {
		b.Fatal(err, problems)
	}
	return ref, tree
}

func madeModel(r *rand.Rand, maker string) string {
	a := 1950 + r.IntN(12)
	var s strings.Builder
	fmt.Fprintf(&s, "---\nrecord: model\nname: Model\nmaker: %s\nmade: {span: %d~/%d, cites: [\"list-1958, p. 2\"]}\n", maker, a, a+12)
	fmt.Fprintf(&s, "eras:\n  - {id: first, name: First, span: %d/%d, cites: [\"list-1958, p. 2\"]}\n  - {id: second, name: Second, span: %d/%d, cites: [\"list-1964, p. 2\"]}\nfeatures:\n", a+2, a+6, a+7, a+12)
	fmt.Fprintf(&s, "  - {id: oval, feature: mark, value: oval, attested: [{year: %d, cites: [\"list-1964, p. 1\"]}, {year: %d, cites: [\"list-1964, p. 1\"]}]}\n", a+3, a+4)
	fmt.Fprintf(&s, "  - {id: script, feature: mark, value: script, attested: [{year: %d, cites: [\"list-1971, p. 1\"]}]}\n", a+6)
	for n := range 4 {
		fmt.Fprintf(&s, "  - {id: wood-%d, feature: riser-wood, value: padauk, span: %d/%d~, cites: [\"list-1971, p. 6\", \"letter, p. 2\"]}\n", n, a+2+n, a+7+r.IntN(3))
		fmt.Fprintf(&s, "  - {id: socket-%d, feature: socket, value: present, era: second, cites: [\"list-1971, p. %d\"]}\n", n, n)
	}
	s.WriteString("specs:\n  - {spec: draw-weight, range: 30..55 lb, era: first, cites: [\"list-1958, p. 6\"]}\n")
	s.WriteString("order:\n  - {first: oval, how: meets, second: script, cites: [\"letter, p. 3\"]}\n  - {of: script, lasts: 2..4, cites: [\"letter, p. 3\"]}\n---\n")
	return s.String()
}

// BenchmarkBuild reports how much longer ten times the models take, what a
// build costs against reading the same records, and what leaving one source
// of one maker out costs against building all anew.
func BenchmarkBuild(b *testing.B) {
	small, _ := madeReference(b, 1_000)
	large, tree := madeReference(b, 10_000)
	var times [4]time.Duration
	took := func(i int, do func()) {
		begin := time.Now()
		do()
		if t := time.Since(begin); times[i] == 0 || t < times[i] {
			times[i] = t // the shortest of all rounds
		}
	}
	one, _ := large.Models.Get("model-5000")
	for b.Loop() {
		var t *Timeline
		took(0, func() { Build(small) })
		took(1, func() { t = Build(large) })
		took(2, func() {
			if _, _, err := schema.ReadFS(tree, "made"); err != nil {
				b.Fatal(err)
			}
		})
		took(3, func() {
			t.Without(func(c schema.Citation) bool { return c.Pos == one.Made.Cites[0].Pos }).Made(one)
		})
		if len(t.Conflicts()) > 0 {
			b.Fatal(t.Conflicts()[0])
		}
	}
	b.ReportMetric(float64(times[1])/float64(times[0]), "x10")
	b.ReportMetric(float64(times[1])/float64(times[2]), "of_reading")
	b.ReportMetric(float64(times[3])/float64(times[1]), "without_of_build")
	b.ReportMetric(0, "ns/op")
}
