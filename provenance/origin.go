package provenance

import "yearmark/schema"

// Origin is where facts come from in the end: a source that relies on no
// other, an example, or a ring of sources that rely only on each other.
// Exactly one of the three is set.
type Origin struct {
	Source  *schema.Source
	Example *schema.Example
	Ring    []*schema.Source
}

// ID names the origin as a citation would: a source's identifier, or
// "example-" and an example's. A ring goes by its first member by name.
func (o Origin) ID() string {
	switch {
	case o.Source != nil:
		return o.Source.ID
	case o.Example != nil:
		return examplePrefix + o.Example.ID
	case len(o.Ring) > 0:
		return o.Ring[0].ID
	}
	return ""
}

// Title is the origin's name for people.
func (o Origin) Title() string {
	switch {
	case o.Source != nil:
		return o.Source.Title()
	case o.Example != nil:
		return o.Example.Title()
	case len(o.Ring) > 0:
		return o.Ring[0].Title() + " and the sources in a ring with it"
	}
	return ""
}

// Witness is one origin that speaks for or against a statement. However many
// citations lead to it, it counts once.
type Witness struct {
	Origin   *Origin           // shared: the caller must not change it
	Credence float64           // of 0 to 1, the lowest on the best way there
	Cites    []schema.Citation // the citations that lead to it, in the record's order
	Via      [][]string        // for each of Cites the best way: identifiers from the source cited to the origin; nil where all cite the origin itself
}

// Through gives the best way from what the i-th of Cites names to the origin:
// the identifiers of both and of all between, or nothing where it names the
// origin itself.
func (w *Witness) Through(i int) []string {
	if w.Via == nil || len(w.Via[i]) < 2 {
		return nil
	}
	return w.Via[i]
}
