package edtf

import "testing"

// FuzzParse: no text makes the reader panic; a refusal is whole and offers only
// what can be read; what is read comes back as written, with its bounds in order.
func FuzzParse(f *testing.F) {
	for _, row := range table(f, "valid.tsv") {
		f.Add(row["expression"])
	}
	for _, row := range table(f, "refused.tsv") {
		f.Add(refusedString(row["string"]))
	}
	for _, row := range table(f, "habits.tsv") {
		f.Add(row["text"])
	}
	for _, row := range table(f, "reference-faults.tsv") {
		f.Add(row["example"])
	}
	f.Fuzz(func(t *testing.T, text string) {
		e, err := Parse(text)
		if err != nil {
			checkFaultLaw(t, text, err)
			return
		}
		if e.String() != text || e.IsZero() || e.Words() == "" {
			t.Fatalf("%q comes back as %q, in words %q", text, e, e.Words())
		}
		first, okFirst := e.Earliest()
		last, okLast := e.Latest()
		if okFirst && okLast && first > last {
			t.Fatalf("%q goes from %d to %d", text, first, last)
		}
		for _, frame := range []Frame{{}, testFrame(2), {Horizon: Range{2000, 1900}, Circa: 1 << 40}} {
			y := e.Years(frame)
			checkOrder(t, y)
			for _, year := range []int{y.A, y.B, y.C, y.D, first, last} {
				if m := y.Membership(year); m < 0 || m > 1 {
					t.Fatalf("%q in %d: membership %v", text, year, m)
				}
			}
			if y.String() == "" {
				t.Fatalf("%q has years without words", text)
			}
		}
	})
}
