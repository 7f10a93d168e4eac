package chronology

import (
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"yearmark/schema"
)

// BenchmarkExplain measures, in a reference of 10,000 models, what one
// contradiction costs: the group that holds it worked out anew beside the same
// group without it, the whole timeline built anew after the edit that makes it, and
// the contradictions and the reasons for one derived year asked for alone.
func BenchmarkExplain(b *testing.B) {
	ref, tree := madeReference(b, 10_000)
	const name = "models/model-5000.md"
	text := string(tree.(fstest.MapFS)[name].Data)
	_, rest, _ := strings.Cut(text, "id: script, feature: mark, value: script, attested: [{year: ")
	year := rest[:4]
	broken, _ := schema.Assemble("made", ref.Settings, edited(b, ref, name, "attested: [{year: "+year, "attested: [{year: 1946"), schema.Media{})
	clean := Build(ref)
	var working, explaining, building, asking, reasons shortest
	for b.Loop() {
		i := componentOf(b, clean, "model-5000")
		working.time(func() { clean.work(&clean.components[i], nil) })
		var later *Timeline
		building.time(func() { later = Build(broken) })
		j := componentOf(b, later, "model-5000")
		explaining.time(func() { later.work(&later.components[j], nil) })
		asking.time(func() {
			if list := later.Conflicts(); len(list) != 1 || list[0].String() == "" {
				b.Fatalf("%d contradictions, want 1", len(list))
			}
		})
		model, _ := broken.Models.Get("model-4999")
		reasons.time(func() {
			for _, c := range model.Claims() {
				later.Why(c)
			}
		})
	}
	b.ReportMetric(working.ms(), "ms-group-without")
	b.ReportMetric(explaining.ms(), "ms-group-with")
	b.ReportMetric(building.ms(), "ms-built")
	b.ReportMetric(asking.ms(), "ms-conflicts")
	b.ReportMetric(reasons.ms(), "ms-why")
	b.ReportMetric(0, "ns/op")
}

// BenchmarkManyConflicts reports how much longer ten times the models take in
// one group, where every one of them contradicts itself.
func BenchmarkManyConflicts(b *testing.B) {
	var times [2]shortest
	var refs [2]*schema.Reference
	for k, models := range []int{100, 1000} {
		_, tree := madeReference(b, models)
		for name, file := range tree.(fstest.MapFS) {
			if strings.HasPrefix(name, "models/") {
				text := string(file.Data)
				start := strings.Index(text, "maker: ")
				text = text[:start] + "maker: maker-0" + text[start+strings.Index(text[start:], "\n"):]
				before, after, _ := strings.Cut(text, "id: script, feature: mark, value: script, attested: [{year: ")
				file.Data = []byte(before + "id: script, feature: mark, value: script, attested: [{year: 1946" + after[4:])
			}
		}
		ref, _, err := schema.ReadFS(tree, "made")
		if err != nil {
			b.Fatal(err)
		}
		refs[k] = ref
	}
	for b.Loop() {
		for k, ref := range refs {
			times[k].time(func() {
				if got := len(Build(ref).Conflicts()); got != 100+900*k {
					b.Fatalf("%d contradictions", got)
				}
			})
		}
	}
	b.ReportMetric(times[1].ms()/times[0].ms(), "x10")
	b.ReportMetric(times[1].ms(), "ms-of-1000")
	b.ReportMetric(0, "ns/op")
}

// shortest is the shortest of several times.
type shortest time.Duration

func (s *shortest) time(do func()) {
	begin := time.Now()
	do()
	if took := shortest(time.Since(begin)); *s == 0 || took < *s {
		*s = took
	}
}

func (s shortest) ms() float64 { return float64(s) / float64(time.Millisecond) }

// edited gives the records of a reference with one of them written anew.
func edited(t testing.TB, ref *schema.Reference, name, old, fresh string) []schema.Record {
	t.Helper()
	all := ref.Records()
	for i, r := range all {
		if source := string(r.Header().Source); r.Header().File == name && strings.Contains(source, old) {
			record, problems := schema.ReadRecord(name, []byte(strings.Replace(source, old, fresh, 1)))
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			all[i] = record
			return all
		}
	}
	t.Fatalf("%s does not say %q", name, old)
	return nil
}

// componentOf gives the number of the component that a model belongs to.
func componentOf(t testing.TB, of *Timeline, model string) int {
	m, ok := of.ref.Models.Get(model)
	if !ok {
		t.Fatalf("no model %s", model)
	}
	return int(of.ofModel[m].component)
}
