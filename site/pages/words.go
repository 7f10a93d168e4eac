package pages

import (
	"strconv"
	"strings"

	"yearmark/schema"
)

// aboutWords names what kind of statement a claim is.
var aboutWords = map[schema.About]string{
	schema.AboutMade: "Made", schema.AboutEra: "Era", schema.AboutFeature: "Feature",
	schema.AboutSpec: "Published figure", schema.AboutTrading: "Trading", schema.AboutOwner: "Owner",
}

// kindWords names a source kind in the singular.
var kindWords = map[schema.SourceKind]string{
	schema.Catalogue: "catalogue", schema.PriceList: "price list", schema.Advertisement: "advertisement",
	schema.FactoryPaper: "factory paper", schema.Patent: "patent", schema.Article: "article", schema.Book: "book",
	schema.Web: "web page", schema.Letter: "letter", schema.Recollection: "recollection", schema.ExaminedExample: "examined example",
	schema.Recorded: "recording", schema.Photograph: "photograph", schema.SaleListing: "sale listing",
}

// kindPlurals heads the groups of the list of sources.
var kindPlurals = map[schema.SourceKind]string{
	schema.Catalogue: "Catalogues", schema.PriceList: "Price lists", schema.Advertisement: "Advertisements",
	schema.FactoryPaper: "Factory papers", schema.Patent: "Patents", schema.Article: "Articles", schema.Book: "Books",
	schema.Web: "Web pages", schema.Letter: "Letters", schema.Recollection: "Recollections", schema.ExaminedExample: "Examined examples",
	schema.Recorded: "Recordings", schema.Photograph: "Photographs", schema.SaleListing: "Sale listings",
}

// relationWords puts Allen's relations into a clause between two names.
var relationWords = map[schema.Relation]string{
	schema.Before: "ended, with a gap, before", schema.Meets: "gave way without a gap to", schema.Overlaps: "began first and overlapped",
	schema.FinishedBy: "began first and ended with", schema.Contains: "began before and outlasted", schema.Starts: "began with and ended before",
	schema.Equals: "came and went with", schema.StartedBy: "began with and outlasted", schema.During: "lay within the years of",
	schema.Finishes: "began after and ended with", schema.OverlappedBy: "began during and outlasted", schema.MetBy: "followed without a gap on",
	schema.After: "came, after a gap, after",
}

// tieWords says how a model is tied to another.
var tieWords = map[string]string{
	"succeeded-by": "succeeded by", "successor-of": "successor of", "variant-of": "variant of", "made-beside": "made beside",
	"above": "above, in the range, the", "below": "below, in the range, the", "same-line": "of one line with", schema.LookAlike: "easily taken for",
}

// effortWords says what a look costs.
var effortWords = map[schema.Effort]string{
	schema.Glance: "a glance", schema.Measure: "a measurement", schema.Unstring: "unstringing the bow", schema.Remove: "removing a part",
}

// sureWords says how sure an observer was; the default is silence.
var sureWords = map[schema.Sureness]string{schema.Fairly: "fairly sure", schema.Unsure: "not sure"}

// heldWords says how strictly makers kept to a habit.
var heldWords = map[string]string{"firm": "makers kept to it strictly", "usual": "makers usually kept to it", "loose": "makers kept to it loosely"}

// capital raises the first letter.
func capital(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}

// share writes a credence or a chance as a decimal fraction of two figures.
func share(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) }

// belief writes how far something is believed; nothing but a round figure is 1.
func belief(x float64) string {
	if x > .99 && x < 1 {
		return "over 0.99"
	}
	return share(x)
}

// plainNumber prints a number without trailing zeros.
func plainNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
