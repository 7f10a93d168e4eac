package edtf_test

import (
	"strings"
	"testing"

	"yearmark/schema/edtf"
)

// TestBounds: by hand from the four years that DESIGN 20 gives them.
func TestBounds(t *testing.T) {
	frame := edtf.Frame{Horizon: edtf.Range{First: 1930, Last: 1985}, Made: edtf.Range{First: 1958, Last: 1971}, Circa: 2}
	for text, want := range map[string][4]int{
		"{from: 1964..1965, to: 1966}":       {1964, 1965, 1966, 1966},
		"{to: 1966..1968, from: 1964}":       {1964, 1964, 1966, 1968},
		"{from: 1964~, to: 1968..1970}":      {1962, 1966, 1968, 1970},
		"{from: 1964~..1965, to: 1970}":      {1962, 1967, 1970, 1970},
		"{from: 1964..1965, to: ..}":         {1964, 1965, 1985, 1985},
		"{from: 1964..1965}":                 {1964, 1965, 1964, 1971},
		"{from: .., to: 1964..1966}":         {1958, 1958, 1964, 1966},
		"{from: 1964-05..1965-02, to: 1966}": {1964, 1965, 1966, 1966},
	} {
		e, err := edtf.Parse(text)
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		y := e.Years(frame)
		if got := [4]int{y.A, y.B, y.C, y.D}; got != want || e.String() != text || e.Shape() != edtf.Interval {
			t.Errorf("%s: %v, want %v", text, got, want)
		}
		if inner, err := edtf.Parse(e.EDTF()); err != nil || strings.Contains(inner.String(), "{") {
			t.Errorf("%s: as EDTF %s: %v", text, e.EDTF(), err)
		}
	}
	if e, _ := edtf.Parse("{from: 1964?..1965, to: 1966}"); !e.Doubted() {
		t.Error("the doubt is lost")
	}
	if e, _ := edtf.Parse("{from: 1964..1965, to: 1966}"); e.Words() != "begun some time from 1964 to 1965, ended 1966" {
		t.Error(e.Words())
	}
	for text, want := range map[string]string{
		"{from: 1967, to: 1966}":           "it ends before it starts",
		"{from: 1966..1964, to: 1970}":     "the first of two years is the later one",
		"{from: .., to: ..}":               "neither the start nor the end has a year",
		"{from: soon, to: 1966}":           "",
		"{from: 1964..1965..1966, to: ..}": "",
		"{1960,1962":                       "",
	} {
		if _, err := edtf.Parse(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// TestLeadsToBounds: what people write for a span whose ends may lie in several years.
func TestLeadsToBounds(t *testing.T) {
	for text, want := range map[string]string{
		"1964..1965/1966":           "{from: 1964..1965, to: 1966}",
		"[1964,1965]/1966":          "{from: 1964..1965, to: 1966}",
		"[1964..1965]/[1968..1970]": "{from: 1964..1965, to: 1968..1970}",
		"1964/1966..1968":           "{from: 1964, to: 1966..1968}",
		"1964..1965/..":             "{from: 1964..1965, to: ..}",
	} {
		_, err := edtf.Parse(text)
		fault, ok := err.(*edtf.SyntaxError)
		if !ok || len(fault.Instead) != 1 || fault.Instead[0] != want {
			t.Errorf("%s: %v", text, err)
		}
	}
}
