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

// Since notes what changed from an earlier state of the records to this one.
// The states go by their editions, since what is published names no folder.
func (s *Study) Since(ctx context.Context, earlier *Study) error {
	old, err := earlier.State(ctx, "the earlier edition")
	if err != nil {
		return err
	}
	now, err := s.State(ctx, "this edition")
	if err != nil {
		return err
	}
	s.Changes, err = compare.Between(ctx, old, now)
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
