package tables_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/dating/odds"
	"yearmark/provenance"
	"yearmark/schema"
)

// randomTable makes a table of up to five models and six features.
func randomTable(t testing.TB, r *rand.Rand) *dating.Engine {
	g := dating.Given{Values: map[string][]string{}}
	g.Table.Temper = []float64{1, 1, .5, .33}[r.IntN(4)]
	if r.IntN(3) == 0 {
		g.Sure = map[schema.Sureness]float64{schema.Sure: 1, schema.Fairly: .9, schema.Unsure: .5}
	}
	for m := range 1 + r.IntN(5) {
		start := len(g.Table.Years)
		year := int32(1950)
		for range 1 + r.IntN(12) {
			year += 1 + int32(r.IntN(8)/7)
			g.Table.Years = append(g.Table.Years, year)
			g.Table.Prior = append(g.Table.Prior, float64(r.IntN(5))/7)
		}
		g.Table.Models = append(g.Table.Models, odds.Model{ID: fmt.Sprintf("m%d", m), Start: start, End: len(g.Table.Years)})
	}
	for f := range 1 + r.IntN(6) {
		feature := randomFeature(r, fmt.Sprintf("f%d", f), len(g.Table.Years))
		for v := range feature.Outcomes {
			g.Values[feature.ID] = append(g.Values[feature.ID], fmt.Sprintf("v%d", v))
		}
		g.Table.Features = append(g.Table.Features, feature)
	}
	e, err := dating.FromTable(g)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func randomFeature(r *rand.Rand, id string, pairs int) odds.Feature {
	f := odds.Feature{ID: id, Outcomes: 2 + r.IntN(6)}
	for range 1 + r.IntN(5) {
		f.Rows = append(f.Rows, randomRow(r, f.Outcomes))
	}
	row := uint32(0)
	for range pairs {
		if r.IntN(3) == 0 {
			row = uint32(r.IntN(len(f.Rows)))
		}
		f.RowOf = append(f.RowOf, row)
	}
	return f
}

func randomRow(r *rand.Rand, outcomes int) odds.Row {
	weights, sum := make([]float64, outcomes), 0.0
	for i := range weights {
		weights[i] = float64(max(0, r.IntN(12)-3))
		if r.IntN(4) == 0 {
			weights[i] *= r.Float64()
		}
		sum += weights[i]
	}
	if sum == 0 {
		return odds.Row{Rest: 1 / float64(outcomes), Silent: true}
	}
	rest := slices.Min(weights)
	row := odds.Row{Rest: rest / sum}
	for v, w := range weights {
		if w > rest || r.IntN(5) == 0 {
			row.Cells = append(row.Cells, odds.Cell{From: int32(v), To: int32(v), Chance: w / sum, Possible: r.IntN(3) > 0})
		}
	}
	return row
}

// randomReference makes a reference with a feature of every kind.
func randomReference(t testing.TB, r *rand.Rand) *dating.Engine {
	folder := fstest.MapFS{}
	put := func(name, text string) { folder[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644} }
	put("reference.yaml", fmt.Sprintf("name: Random\nyears: 1930/1985\njudgement: {circa: %d, temper: %v, unrecorded: %v}\n", 1+r.IntN(3), []float64{1, .5, .33}[r.IntN(3)], []float64{0, .1, .4}[r.IntN(3)]))
	put("makers/works.md", randomMaker(r))
	put("makers/others.md", "---\nrecord: maker\nname: The Others\n---\n")
	for _, kind := range []string{"catalogue", "letter", "recollection"} {
		put("sources/"+kind+".md", "---\nrecord: source\nname: A "+kind+"\nkind: "+kind+"\n---\n")
	}
	put("features/wood.md", "---\nrecord: feature\nname: Wood\nkind: choice\nheld: firm\nvalues: [{id: ash, name: White ash}, {id: elm}, {id: yew}, {id: oak}, {id: box}]\n---\n")
	put("features/finish.md", "---\nrecord: feature\nname: Finish\nkind: choice\nheld: loose\naltered: {to: [oil, wax], chance: 0.2}\nvalues: [{id: oil}, {id: wax}, {id: lacquer}]\n---\n")
	put("features/socket.md", "---\nrecord: feature\nname: Socket\nkind: presence\naltered: {to: [present], chance: 0.1}\neffort: measure\n---\n")
	put("features/weight.md", "---\nrecord: feature\nname: Weight\nkind: number\nunit: lb\nplausible: 10..80\nstep: 1\n---\n")
	put("features/brace.md", "---\nrecord: feature\nname: Brace\nkind: number\nunit: in\nplausible: 6..9\nstep: 1/8\n---\n")
	put("features/serial.md", "---\nrecord: feature\nname: Serial\nkind: text\n---\n")
	for m := range 1 + r.IntN(5) {
		put(fmt.Sprintf("models/m%d.md", m), randomModel(r, m))
	}
	ref, problems, err := schema.ReadFS(folder, "random")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		t.Fatalf("%s: %s", p.Pos, p.Message)
	}
	return dating.New(ref, chronology.Build(ref), provenance.Weigh(ref))
}

// randomMaker makes a maker who says of all its models, or of all but the first,
// what their wood, their finish and their weight are.
func randomMaker(r *rand.Rand) string {
	text := "---\nrecord: maker\nname: The Works\n"
	if r.IntN(2) == 0 {
		text += "trading: {span: 1938~/1975, cites: [catalogue]}\n"
	}
	span := func() string { return fmt.Sprintf("%d/%d", 1940+r.IntN(15), 1956+r.IntN(15)) }
	text += "features:\n"
	for _, claim := range []string{"feature: wood, value: box", "feature: wood, value: ash, only: true", "feature: finish, value: oil, held: firm", "feature: serial, value: \"[AB][0-9]{3}\""}[:1+r.IntN(4)] {
		text += "  - {" + claim + ", span: " + span() + ", cites: [letter]" + []string{"", ", except: [m0]"}[r.IntN(2)] + "}\n"
	}
	return text + "specs: [{spec: weight, range: 30..50 lb, span: " + span() + ", cites: [catalogue]}]\n---\n"
}

func randomModel(r *rand.Rand, m int) string {
	first := 1940 + r.IntN(20)
	last := first + 2 + r.IntN(14)
	source := func() string { return []string{"catalogue, p. 1", "letter", "recollection"}[r.IntN(3)] }
	span := func() string {
		a := first + r.IntN(last-first+1)
		b := a + r.IntN(last-a+1)
		return []string{fmt.Sprintf("%d/%d", a, b), fmt.Sprintf("%d~/%d", a, b), fmt.Sprint(a), fmt.Sprintf("%d?", a), fmt.Sprintf("[%d,%d]", a, b), fmt.Sprintf("%d/..", a)}[r.IntN(6)]
	}
	var b strings.Builder
	fmt.Fprintf(&b, "---\nrecord: model\nname: Model %d\nmaker: works\nmade: {span: %d/%d, cites: [\"catalogue, p. 2\"]}\n", m, first, last)
	if r.IntN(3) == 0 {
		fmt.Fprintf(&b, "output: [{span: %d/%d, made: %d}]\n", first, first+1, r.IntN(100))
	}
	b.WriteString("features:\n")
	claim := func(feature, value string) {
		fmt.Fprintf(&b, "  - {feature: %s, value: %q, span: %q, cites: [%q]", feature, value, span(), source())
		if (feature == "finish" || feature == "socket") && r.IntN(2) == 0 {
			fmt.Fprintf(&b, ", when: {%s}", []string{"wood: ash", "wood: [elm, yew]", "weight: ..39 lb", "weight: 40.. lb", "weight: 30..45, wood: [ash, oak]"}[r.IntN(5)])
		}
		if r.IntN(4) == 0 {
			fmt.Fprintf(&b, ", against: [%q]", source())
		}
		if r.IntN(4) == 0 {
			fmt.Fprintf(&b, ", held: %s", []string{"firm", "usual", "loose"}[r.IntN(3)])
		}
		b.WriteString("}\n")
	}
	for _, wood := range []string{"ash", "elm", "yew", "oak"}[:r.IntN(5)] {
		claim("wood", wood)
	}
	for _, finish := range []string{"oil", "wax", "lacquer"}[:r.IntN(4)] {
		claim("finish", finish)
	}
	for _, socket := range []string{"absent", "present"}[:r.IntN(3)] {
		claim("socket", socket)
	}
	for _, serial := range []string{"H-24", "No. 24", "[AB][0-9]{3}", `k\d+|\pL{2}`, "Ünder (old)"}[:r.IntN(6)] {
		claim("serial", serial)
	}
	b.WriteString("  - {feature: wood, value: box, attested: [{year: " + fmt.Sprint(first+r.IntN(last-first+1)) + ", cites: [letter]}]}\nspecs:\n")
	fmt.Fprintf(&b, "  - {spec: weight, range: %d..%d lb, span: %d/%d, cites: [letter]}\n", 20+r.IntN(10), 30+r.IntN(30), first, first+1)
	fmt.Fprintf(&b, "  - {spec: weight, range: %d..%d lb, span: %d, cites: [letter]}\n", 20+r.IntN(10), 30+r.IntN(30), last)
	fmt.Fprintf(&b, "  - {spec: brace, range: 7 1/4..%d 3/4 in, span: %d/%d, cites: [recollection]}\n---\n", 7+r.IntN(2), first, last)
	return b.String()
}

// seenValues are what may be seen of the features of a random reference.
var seenValues = map[string][]string{
	"wood": {"ash", "elm", "yew", "oak", "box", "something-else"}, "finish": {"oil", "wax", "lacquer"}, "socket": {"present", "absent"},
	"weight": {"10", "35", "36 lb", "15.8 kg", "30..34", "80", "7,5", "200 lb"}, "brace": {"7 1/4", "7¾ in", "7.3", "190 mm", "7-1/2", "8..8 1/8 in"},
	"serial": {"h-24", "no. 24", "NO  24", "a123", "B999", "c123", "K77", "éà", "ünder (OLD)", "", "K123", "something-else"},
}

// randomQuestion asks about some features of an engine.
func randomQuestion(r *rand.Rand, e *dating.Engine) dating.Question {
	var q dating.Question
	for _, m := range e.Table().Models {
		if r.IntN(2*len(e.Table().Models)) == 0 {
			q.Models = append(q.Models, m.ID)
		}
	}
	for _, f := range e.Features() {
		if r.IntN(2) == 0 {
			continue
		}
		values := seenValues[f.ID]
		if v, ok := f.Domain.(*dating.Values); ok && values == nil {
			values = v.IDs
		}
		o := dating.Observation{Feature: f.ID, Sure: schema.Surenesses[r.IntN(3)]}
		for range 1 + r.IntN(4)/2 {
			o.Values = append(o.Values, values[r.IntN(len(values))])
		}
		q.Observed = append(q.Observed, o)
	}
	r.Shuffle(len(q.Observed), func(i, j int) { q.Observed[i], q.Observed[j] = q.Observed[j], q.Observed[i] })
	return q
}
