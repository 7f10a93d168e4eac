package provenance

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"yearmark/schema"
)

// book is a small reference under construction: sources and one model whose
// claims cite them.
type book struct {
	sources map[string]string // the keys of each after record and name
	claims  []string
	judge   string
}

// reference reads the book's records as a folder would be read.
func (b book) reference(t testing.TB) *schema.Reference {
	t.Helper()
	files := fstest.MapFS{}
	put := func(name, text string) { files[name] = &fstest.MapFile{Data: []byte(text)} }
	put("reference.yaml", "name: Test\nyears: 1930/1985\n"+b.judge)
	put("makers/halvane.md", "---\nrecord: maker\nname: Halvane\n---\n")
	put("features/socket.md", "---\nrecord: feature\nname: Socket\nkind: presence\nexclusive: false\n---\n")
	put("examples/0007.md", "---\nrecord: example\nmodel: plover\n---\n")
	for id, keys := range b.sources {
		put("sources/"+id+".md", fmt.Sprintf("---\nrecord: source\nname: The %s\n%s\n---\n", id, keys))
	}
	var model strings.Builder
	model.WriteString("---\nrecord: model\nname: Plover\nmaker: halvane\nmade: {span: 1958/1971, cites: [list]}\nfeatures:\n")
	for i, c := range b.claims {
		fmt.Fprintf(&model, "  - {id: c%d, feature: socket, value: present, %s}\n", i, c)
	}
	model.WriteString("---\n")
	put("models/plover.md", model.String())
	ref, problems, err := schema.ReadFS(files, "book")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		t.Fatalf("%s %s", p.Pos, p.Message)
	}
	return ref
}

func claim(t testing.TB, ref *schema.Reference, id string) *schema.Claim {
	t.Helper()
	m, _ := ref.Models.Get("plover")
	c, ok := m.Claim(id)
	if !ok {
		t.Fatalf("there is no claim %s", id)
	}
	return c
}

// near allows for the rounding of a dozen products.
func near(t testing.TB, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-12 {
		t.Errorf("%s is %.15g, not %.15g", what, got, want)
	}
}
