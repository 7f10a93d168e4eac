package pages

import (
	"yearmark/dating"
	"yearmark/schema"
)

// datings is what dating says of the examples, without what rests on each.
type datings struct{ leaveOneOut func() *dating.LeaveOneOut }

// of dates an example by its features; nil where the engine cannot, as when
// it has observations that no feature knows.
func (d *datings) of(e *schema.Example) *dating.Account {
	account, err := d.leaveOneOut().Account(e)
	if err != nil {
		return nil
	}
	return account
}

// brief is of without reasons, for lists; nil also where nothing was seen.
func (d *datings) brief(e *schema.Example) *dating.Brief {
	known, err := d.leaveOneOut().Brief(e)
	if err != nil || known.Observed == 0 {
		return nil
	}
	return known
}

// reviewed counts the bows that were looked over: those that count.
func reviewed(list []*schema.Example) int {
	n := 0
	for _, e := range list {
		if !e.Unreviewed() {
			n++
		}
	}
	return n
}

// examplesByModel sorts examples by the model that they are known to be.
func examplesByModel(ref *schema.Reference) map[string][]*schema.Example {
	by := map[string][]*schema.Example{}
	for _, e := range ref.Examples.All() {
		if e.Model.Value != "" {
			by[e.Model.Value] = append(by[e.Model.Value], e)
		}
	}
	return by
}
