package sheets

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"yearmark/schema"
)

// made is a register of so many models with 40 claims each.
func made(models int) map[string]string {
	files := map[string]string{
		"reference.yaml":       "name: Made\nyears: 1930/1985\n",
		"makers/m.md":          "---\nrecord: maker\nname: M\n---\n",
		"features/riser.md":    "---\nrecord: feature\nname: Riser\nkind: choice\nexclusive: false\nvalues: [{id: ash}, {id: elm}]\n---\n",
		"sources/list-1955.md": "---\nrecord: source\nname: List\nkind: price-list\nissued: 1955\n---\n",
	}
	for i := range models {
		var b strings.Builder
		fmt.Fprintf(&b, "---\nrecord: model\nname: Model %d\nmaker: m\nmade: {span: 1940/1980, cites: [\"list-1955, p. %d\"]}\nfeatures:\n", i, i)
		for j := range 39 {
			fmt.Fprintf(&b, "  - {id: c%d, feature: riser, value: %s, span: %d/%d, cites: [\"list-1955, p. %d\"]} # remark\n", j, []string{"ash", "elm"}[j%2], 1940+j%20, 1961+j%10, j)
		}
		b.WriteString("---\n\nText.\n")
		files[fmt.Sprintf("models/m%05d.md", i)] = b.String()
	}
	return files
}

// BenchmarkPrepare takes in a table of 20,000 claims of which a tenth were
// changed, and reports how long that takes against reading the records and the table alone.
func BenchmarkPrepare(b *testing.B) {
	files := made(500)
	fsys := fstest.MapFS{}
	for name, data := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(data)}
	}
	table := Claims(Facts{Ref: load(b, files)})
	var rows [][]string
	for row := range table.Rows {
		rows = append(rows, slices.Clone(row))
	}
	for i, row := range rows {
		if i%10 == 3 {
			row[8] = "1945/1965"
		}
	}
	table.Rows = slices.Values(rows)
	var text bytes.Buffer
	if _, err := table.Write(&text, false); err != nil {
		b.Fatal(err)
	}
	var bare, whole time.Duration
	for b.Loop() {
		start := time.Now()
		ref, _, err := schema.ReadFS(fsys, "made")
		if err != nil {
			b.Fatal(err)
		}
		if _, err := csv.NewReader(bytes.NewReader(text.Bytes())).ReadAll(); err != nil {
			b.Fatal(err)
		}
		bare += time.Since(start)
		start = time.Now()
		p, err := Prepare(ref, "claims.csv", text.Bytes())
		if err != nil || p.Edited != 2000 {
			b.Fatal(err, p.Edited)
		}
		whole += time.Since(start)
	}
	b.ReportMetric(whole.Seconds()/bare.Seconds(), "x-reading-alone")
}
