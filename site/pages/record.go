package pages

import (
	"bytes"
	"strconv"
	"strings"

	"yearmark/schema"
	"yearmark/site/listing"
)

// recordView is the record that a page is made from, as it was written.
type recordView struct {
	File    string
	Lines   int
	Listing []listing.Line // nil where the record is too long to be shown
	OwnPage string         // the way to the page of its own that a long record has
}

// A record longer than mostBeside bytes stands on a page of its own, so that no
// page becomes heavy by it; one longer than mostRecord is not shown.
const (
	mostBeside = 10 << 10
	mostRecord = 64 << 10
)

// recordEnding ends the path of a long record's own page.
const recordEnding = ".record.html"

// recordPath gives the page of a long record; it is empty of one that stands on
// the page made from it.
func recordPath(r schema.Record) string {
	_, isExample := r.(*schema.Example) // see recordWithheld
	if size := len(r.Header().Source); isExample || size <= mostBeside || size > mostRecord {
		return ""
	}
	return strings.TrimSuffix(r.Address(), ".html") + recordEnding
}

// recordPageView is the page of a long record.
type recordPageView struct {
	Base   base
	Of     anchor
	Record *recordView
}

func (p *page) recordPageOf(r schema.Record) recordPageView {
	v := recordPageView{Base: p.base("The record of "+r.Title(), "The record that the page is made from, as its keeper wrote it.", ""), Of: anchor{p.to(r.Address()), r.Title()}, Record: recordOf(r)}
	v.Base.Trail = []anchor{v.Of}
	return v
}

// ownRecord gives the listing of a record, or the way to it where it is long.
func (p *page) ownRecord(r schema.Record) *recordView {
	v := recordOf(r)
	if path := recordPath(r); v != nil && path != "" {
		v.Listing, v.OwnPage = nil, p.to(path)
	}
	return v
}

// recordOf gives nil where the record's keys cannot be read.
func recordOf(r schema.Record) *recordView {
	head := r.Header()
	v := &recordView{File: head.File, Lines: bytes.Count(head.Source, []byte("\n"))}
	if len(head.Source) > mostRecord {
		return v
	}
	lines, err := listing.Of(r)
	if err != nil {
		return nil
	}
	v.Listing = lines
	return v
}

// lineOf leads from a claim's own page to the line of the record that states it; it is empty on other pages.
func (p *page) lineOf(c *schema.Claim) anchor {
	var home schema.Record = c.Maker
	if c.Model != nil {
		home = c.Model
	} else if c.Maker == nil {
		return anchor{}
	}
	if p.path != home.Address() || c.Pos.IsZero() || len(home.Header().Source) > mostRecord {
		return anchor{}
	}
	line, page := strconv.Itoa(c.Pos.Line()), ""
	if path := recordPath(home); path != "" {
		page = path[strings.LastIndexByte(path, '/')+1:] // beside the claim's own page
	}
	return anchor{page + "#" + listing.LinePrefix + line, "line " + line + " of the record"}
}
