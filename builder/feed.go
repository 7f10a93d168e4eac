package builder

import (
	"context"

	"yearmark/exchange/compare"
	"yearmark/exchange/exports"
	"yearmark/schema"
)

// State is the study as one side of a comparison.
// The error is ctx's.
func (s *Study) State(ctx context.Context, name string) (compare.State, error) {
	report, err := s.Report(ctx)
	return compare.State{
		Name: name, Edition: s.Edition.String(), Ref: s.Ref, Timeline: s.Timeline, Weighing: s.Weighing, Engine: s.Engine(), Report: report,
	}, err
}

// Compare says what changed from an earlier state, each called by a name. A
// record that was renamed is the same record. The error is ctx's, or that the
// earlier state cannot be read.
func Compare(ctx context.Context, earlier *Study, called string, now *Study, nowCalled string) (*compare.Changes, error) {
	earlier, renamings, err := earlier.renamed(ctx, now.Ref)
	if err != nil {
		return nil, err
	}
	before, err := earlier.State(ctx, called)
	if err != nil {
		return nil, err
	}
	after, err := now.State(ctx, nowCalled)
	if err != nil {
		return nil, err
	}
	before.Renamed = renamings
	return compare.Between(ctx, before, after)
}

// Since notes what changed from an earlier state of the records to this one.
// The states go by their editions, since what is published names no folder.
func (s *Study) Since(ctx context.Context, earlier *Study) (err error) {
	s.Changes, err = Compare(ctx, earlier, "the earlier edition", s, "this edition")
	return err
}

// feedParts are the parts of an account of changes that the feed tells, each
// with what its entries' titles begin with.
var feedParts = map[string]string{
	compare.PartClaims: "", compare.PartSources: "", compare.PartRecords: "",
	compare.PartExamples: "Dates otherwise: ", compare.PartKeys: "Answers otherwise: ",
}

// feedChanges gives the changes since the earlier edition as entries of the feed,
// each named for the edition, the part and what changed.
func (s *Study) feedChanges() []exports.Change {
	if s.Changes == nil {
		return nil
	}
	const home = "editions.html"
	claims := map[string]*schema.Claim{}
	for c := range s.Ref.Claims() {
		claims[c.Key()] = c
	}
	var list []exports.Change
	for _, part := range s.Changes.Published() {
		begins, published := feedParts[part.Name]
		if !published {
			continue
		}
		for _, e := range part.Entries {
			c := exports.Change{
				Key: "change " + s.Edition.Hash + " " + part.Name + " " + e.ID, Date: s.Edition.Date,
				Title: begins + e.Title, Summary: e.Words, Address: e.Address,
			}
			if part.Name == compare.PartClaims {
				c.Claim = claims[e.ID]
			}
			if c.Address == "" {
				c.Address = home
			}
			list = append(list, c)
		}
	}
	return list
}
