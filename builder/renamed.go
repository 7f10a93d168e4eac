package builder

import (
	"context"

	"yearmark/exchange/compare"
	"yearmark/exchange/journal"
	"yearmark/exchange/rename"
	"yearmark/schema"
)

// renamed gives an earlier state with its records called as they are now: one
// whose old name a record keeps under formerly is the same record, not one that
// is gone and one that is new. What cannot be renamed stays as it was. The
// error is ctx's, or that the state cannot be read again.
func (s *Study) renamed(ctx context.Context, now *schema.Reference) (*Study, []compare.Renaming, error) {
	var list []compare.Renaming
	for _, r := range now.Records() {
		head := r.Header()
		for _, old := range schema.Formerly(r) {
			_, was := s.Ref.Record(head.Kind, old.Value)
			_, taken := s.Ref.Record(head.Kind, head.ID)
			_, still := now.Record(head.Kind, old.Value)
			if !was || taken || still {
				continue
			}
			bare := *s.Ref // without pictures, so that none is moved: those there were are not at hand
			bare.Pictures, bare.Recordings = nil, nil
			changes, err := rename.Prepare(&bare, s.files, head.Kind, old.Value, head.ID)
			if err != nil {
				continue
			}
			next, err := OpenFS(ctx, journal.Over(s.files, changes), s.Ref.Folder)
			if err != nil {
				return nil, nil, err
			}
			next.Ref.Pictures, next.Ref.Recordings, next.Edition = s.Ref.Pictures, s.Ref.Recordings, s.Edition
			s, list = next, append(list, compare.Renaming{Kind: head.Kind, Old: old.Value, New: head.ID})
		}
	}
	return s, list, nil
}
