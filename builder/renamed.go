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
	ref, files := s.Ref, s.files
	var list []compare.Renaming
	for _, r := range now.Records() {
		head := r.Header()
		for _, old := range schema.Formerly(r) {
			_, was := ref.Record(head.Kind, old.Value)
			_, taken := ref.Record(head.Kind, head.ID)
			_, still := now.Record(head.Kind, old.Value)
			if !was || taken || still {
				continue
			}
			bare := *ref // without pictures, so that none is moved: those there were are not at hand
			bare.Pictures, bare.Recordings = nil, nil
			changes, err := rename.Prepare(&bare, files, head.Kind, old.Value, head.ID)
			if err != nil {
				continue
			}
			files = journal.Over(files, changes)
			if ref, _, err = schema.ReadFS(files, s.Ref.Folder); err != nil {
				return nil, nil, err
			}
			list = append(list, compare.Renaming{Kind: head.Kind, Old: old.Value, New: head.ID})
		}
	}
	if list == nil {
		return s, nil, nil
	}
	made, err := OpenFS(ctx, files, s.Ref.Folder)
	if err != nil {
		return nil, nil, err
	}
	made.Ref.Pictures, made.Ref.Recordings, made.Edition = s.Ref.Pictures, s.Ref.Recordings, s.Edition
	return made, list, nil
}
