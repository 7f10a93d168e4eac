package desk

import (
	"fmt"
	"net/url"
	"testing"
	"time"

	"yearmark/schema"
)

// BenchmarkLongRecord takes in the form of a model with ten times the claims:
// ten times the work would be a ratio of 10.
func BenchmarkLongRecord(b *testing.B) {
	ref, of := &schema.Reference{}, schema.Describe(schema.KindModel)
	forms := []url.Values{claimsForm(200), claimsForm(2000)}
	var took [2]time.Duration
	for b.Loop() {
		for i, form := range forms {
			began := time.Now()
			now, _ := typed(form, of, ref)
			if _, err := newRecord(schema.KindModel, of, now); err != nil {
				b.Fatal(err)
			}
			took[i] += time.Since(began)
		}
	}
	b.ReportMetric(float64(took[1])/float64(took[0]), "ratio")
}

// claimsForm is the form of a model with so many claims.
func claimsForm(n int) url.Values {
	form := url.Values{"name": {"Plover"}, "maker": {"halvane"}}
	for i := range n {
		at := fmt.Sprintf("features/%d/", i)
		form.Set(at+"feature", "riser-wood")
		form.Set(at+"value", "padauk")
		form.Set(at+"span", "1965")
		form.Set(at+"cites/0", "list-1965")
		form.Set(at+"cites/0"+placeSuffix, "p. 6")
	}
	return form
}
