package search

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"yearmark/schema/edtf"
)

// featureKeys gives the values that a feature asked for stands for: itself, or,
// for a figure, every range of that feature that holds it.
func (ix *Index) featureKeys(asked string) []string {
	name, value, _ := strings.Cut(asked, "=")
	ranges, ok := ix.figures[name]
	if !ok {
		return []string{asked}
	}
	figure, ok := figureOf(value)
	if !ok {
		return []string{asked}
	}
	var keys []string
	for _, h := range ranges {
		if h.Low <= figure && figure <= h.High {
			keys = append(keys, h.Key())
		}
	}
	return keys
}

var plainFigure = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)

// figureOf reads a plain figure: "45", "7.25".
func figureOf(s string) (float64, bool) {
	if !plainFigure.MatchString(s) {
		return 0, false
	}
	f, err := strconv.ParseFloat(s, 64)
	return f, err == nil
}

// wanted gives, for each feature asked for, the values that it stands for.
func (ix *Index) wanted(features []string) [][]string {
	list := make([][]string, len(features))
	for i, f := range features {
		list[i] = ix.featureKeys(f)
	}
	return list
}

// inOneYear says whether there is a year within the range in which the document
// has all that is wanted. The zero range bounds nothing.
func inOneYear(d *Document, wanted [][]string, within edtf.Range) bool {
	spans := make([][]edtf.Range, len(wanted))
	for i, keys := range wanted {
		spans[i] = spansOf(d, keys)
		if len(spans[i]) == 0 {
			return false
		}
	}
	if within == (edtf.Range{}) {
		within = always
	}
	candidates := []int{within.First}
	for _, list := range spans {
		for _, s := range list {
			candidates = append(candidates, s.First)
		}
	}
	return slices.ContainsFunc(candidates, func(year int) bool {
		return within.Has(year) && !slices.ContainsFunc(spans, func(list []edtf.Range) bool {
			return !slices.ContainsFunc(list, func(s edtf.Range) bool { return s.Has(year) })
		})
	})
}

// always bounds nothing.
var always = edtf.Range{First: -1 << 40, Last: 1 << 40}

// spansOf gives the years in which the document can have one of the values.
func spansOf(d *Document, keys []string) []edtf.Range {
	var list []edtf.Range
	for _, h := range d.Holds {
		if slices.Contains(keys, h.Key()) {
			list = append(list, h.years())
		}
	}
	return list
}

// years gives the years of a value, all of them where nobody says.
func (h Held) years() edtf.Range {
	if h.First == 0 && h.Last == 0 {
		return always
	}
	return edtf.Range{First: h.First, Last: h.Last}
}

// claims gives the claims by which a document has the features asked for.
func (ix *Index) claims(d *Document, q Query) []HitClaim {
	var list []HitClaim
	for _, f := range q.Features {
		keys := ix.featureKeys(f)
		for _, h := range d.Holds {
			c := HitClaim{Feature: h.Key(), Address: h.Claim, When: h.When}
			if h.Claim != "" && slices.Contains(keys, h.Key()) && meets(h.years(), q.Years) && !slices.Contains(list, c) {
				list = append(list, c)
			}
		}
	}
	return list
}

// meets says whether two ranges share a year; the zero range meets all.
func meets(r, asked edtf.Range) bool {
	return asked == (edtf.Range{}) || r.First <= asked.Last && asked.First <= r.Last
}
