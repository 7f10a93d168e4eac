package schema_test

import (
	"slices"
	"testing"
	"testing/fstest"

	"yearmark/schema"
)

// TestYearsOfTwoDigits takes them for years of the register, and asks where they
// may be of two centuries or are of none.
func TestYearsOfTwoDigits(t *testing.T) {
	for _, c := range []struct {
		years, said string
		want        []string
	}{
		{"1930/1985", "'65", []string{"1965"}}, {"1930/2005", "'65", []string{"1965"}}, {"1930/2005", "'03", []string{"2003"}}, {"1930/2005", "early 60s", []string{"1960/1964"}},
		{"1920/2030", "'25", []string{"1925", "2025"}}, {"1930/1985", "Nov-16", []string{"1916-11", "2016-11"}}, {"1930/2005", "1885", []string{"1885"}}, {"1930/2005", "after the war", nil},
	} {
		ref, problems, err := schema.ReadFS(fstest.MapFS{"reference.yaml": {Data: []byte("name: R\nyears: " + c.years + "\n")}}, "r")
		if err != nil || len(problems) > 0 {
			t.Fatal(err, problems)
		}
		var got []string
		for _, o := range ref.YearsInWords(c.said) {
			got = append(got, o.Write)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("of %s, %q is %q, want %q", c.years, c.said, got, c.want)
		}
	}
}
