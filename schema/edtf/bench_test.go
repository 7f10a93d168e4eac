package edtf

import (
	"strconv"
	"testing"
)

// Ratios of reading and weighing against the least that either could cost,
// measured in one run: two numbers read, and two divisions.
func BenchmarkRatios(b *testing.B) {
	e, err := Parse("1964~/1967")
	if err != nil {
		b.Fatal(err)
	}
	years := e.Years(testFrame(2))
	var sink float64
	bareRead := each(b, func() {
		first, _ := strconv.Atoi("1964"[:4])
		last, _ := strconv.Atoi("1967"[:4])
		sink += float64(first + last)
	})
	bareWeigh := each(b, func() { sink += (float64(1964-years.A) / 5) * (float64(years.D-1964) / 5) })
	read := each(b, func() { e, _ := Parse("1964~/1967"); sink += float64(e.level) })
	weigh := each(b, func() { sink += years.Membership(1964) })
	if sink == 0 {
		b.Fatal("nothing was computed")
	}
	b.ReportMetric(read/bareRead, "parse/atoi")
	b.ReportMetric(weigh/bareWeigh, "membership/bare")
	b.ReportMetric(read, "ns/parse")
	b.ReportMetric(weigh, "ns/membership")
	b.ReportMetric(0, "ns/op")
}

// each gives the nanoseconds that one call takes.
func each(b *testing.B, f func()) float64 {
	const calls = 200_000
	before := b.Elapsed()
	for range calls {
		f()
	}
	return float64((b.Elapsed() - before).Nanoseconds()) / calls
}
