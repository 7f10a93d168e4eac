package pages

import (
	"bytes"
	"strconv"

	"yearmark/schema"
	"yearmark/site/listing"
)

// recordView is the record that a page is made from, as it was written.
type recordView struct {
	File    string
	Lines   int
	Listing []listing.Line // nil where the record is too long for its page
}

// mostRecord bounds the bytes of a record that stand on its page, so that no
// page becomes heavy by it.
const mostRecord = 64 << 10

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

// lineOf leads to the line of the record that states a claim, on the claim's
// own page; it is empty on other pages.
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
	line := strconv.Itoa(c.Pos.Line())
	return anchor{"#" + listing.LinePrefix + line, "line " + line + " of the record"}
}
