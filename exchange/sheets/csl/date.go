package csl

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"yearmark/schema/edtf"
)

// Date is a date as CSL-JSON has it: one or two of [year, month, day], or words.
type Date struct {
	Parts   [][]int `json:"date-parts,omitempty"`
	Season  int     `json:"season,omitempty"` // 1 to 4, spring to winter
	Circa   bool    `json:"circa,omitempty"`
	Literal string  `json:"literal,omitempty"`
}

// single is a plain date: year, month or part of the year, day, mark.
var single = regexp.MustCompile(`^([0-9]{4})(?:-([0-9]{2})(?:-([0-9]{2}))?)?([?~%]?)$`)

// DateOf gives a date in CSL's terms; nil for none. A date in doubt is marked
// as about, the one mark that there is. What is neither one date nor from one
// to another (a decade, a set of years, an open end) is put into words.
func DateOf(e edtf.Expr) *Date {
	if e.IsZero() {
		return nil
	}
	text := e.String()
	d := &Date{Circa: strings.ContainsAny(text, "?~%")}
	for part := range strings.SplitSeq(text, "/") {
		m := single.FindStringSubmatch(part)
		if m == nil {
			return &Date{Literal: e.Words()}
		}
		month, _ := strconv.Atoi(m[2])
		year, _ := strconv.Atoi(m[1])
		parts := []int{year}
		switch {
		case m[2] == "":
		case month >= 21 && month <= 24 && text == part:
			d.Season = month - 20
		case month > 12:
			return &Date{Literal: e.Words()}
		default:
			parts = append(parts, month)
		}
		if day, err := strconv.Atoi(m[3]); err == nil {
			parts = append(parts, day)
		}
		d.Parts = append(d.Parts, parts)
	}
	return d
}

// readDate reads a date into EDTF. It answers false where there is one that it
// cannot read.
func readDate(v any) (string, bool) {
	m, ok := v.(map[string]any)
	if !ok {
		return "", v == nil
	}
	mark := ""
	if c, there := m["circa"]; there && c != false && c != "" && c != "false" {
		mark = "~"
	}
	list, _ := m["date-parts"].([]any)
	var ends []string
	for _, item := range list {
		end, ok := readParts(item, m["season"], len(list) == 1)
		if !ok {
			return "", false
		}
		ends = append(ends, end+mark)
	}
	if len(ends) > 0 && len(ends) <= 2 {
		text := strings.Join(ends, "/")
		_, err := edtf.Parse(text)
		return text, err == nil
	}
	for _, key := range []string{"raw", "literal"} {
		if text, ok := m[key].(string); ok {
			if _, err := edtf.Parse(text); err == nil {
				return text, true
			}
		}
	}
	return "", false
}

// readParts reads [year, month, day].
func readParts(v, season any, alone bool) (string, bool) {
	parts, ok := v.([]any)
	if !ok || len(parts) == 0 || len(parts) > 3 {
		return "", false
	}
	text := ""
	for i, p := range parts {
		n, ok := number(p)
		switch {
		case !ok || n < 0 || n > 9999:
			return "", false
		case i == 0:
			text = fmt.Sprintf("%04d", n)
		case n > 0:
			text += fmt.Sprintf("-%02d", n)
		}
	}
	if s, ok := number(season); ok && alone && len(parts) == 1 && s >= 1 && s <= 4 {
		text += fmt.Sprintf("-%02d", 20+s)
	}
	return text, true
}
