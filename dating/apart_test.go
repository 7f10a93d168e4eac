package dating

import (
	"testing"

	"yearmark/chronology"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// TestAnExampleDoesNotDateItself dates every example of the demonstration with
// and without what rests on it: some answers must differ, namely only those of
// examples that something rests on.
func TestAnExampleDoesNotDateItself(t *testing.T) {
	ref, _, err := schema.Read(need.Root(t) + "/content")
	if err != nil {
		t.Fatal(err)
	}
	times, weights := chronology.Build(ref), provenance.Weigh(ref)
	whole := New(ref, times, weights)
	apart := NewApart(whole, times, weights)
	differ := 0
	for _, ex := range ref.Examples.All() {
		with, err := whole.DateExample(ex)
		if err != nil {
			t.Fatalf("example %s: %v", ex.ID, err)
		}
		without, err := apart.Date(ex)
		if err != nil {
			t.Fatalf("example %s apart: %v", ex.ID, err)
		}
		if with.Best != nil && without.Best != nil && with.Best.Chance != without.Best.Chance {
			differ++
			if apart.from.restsOn(ex) == nil {
				t.Errorf("example %s: nothing rests on it, and yet its answer differs", ex.ID)
			}
		}
	}
	if differ == 0 {
		t.Error("leaving out what rests on an example changed no answer")
	}
}
