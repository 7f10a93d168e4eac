package sheets

import (
	"testing"

	"yearmark/exchange/editing"
	"yearmark/schema"
)

// TestConditionsKeepTheirFaults writes conditions as cells and reads them
// back: a fault is never lost by way of a spreadsheet.
func TestConditionsKeepTheirFaults(t *testing.T) {
	text := func(s string) schema.Text { return schema.Text{Value: s} }
	for _, c := range []struct {
		condition schema.Condition
		cell      string
	}{
		{schema.Condition{Part: text("limb"), State: text("sound")}, "limb: sound"},
		{schema.Condition{Part: text("limb"), State: text("a slight one"), Fault: text("twist"), Found: text("strung")}, "limb: a slight one [twist, found strung]"},
		{schema.Condition{Part: text("riser"), State: text("old, filled"), Fault: text("crack")}, "riser: old, filled [crack]"},
		{schema.Condition{Part: text("bow"), State: text("whole"), Found: text("unstrung")}, "bow: whole [found unstrung]"},
		{schema.Condition{Part: text("mark"), State: text("reads [H]")}, "mark: reads [H]"},
		{schema.Condition{Part: text("mark"), State: text("reads []")}, "mark: reads []"},
		{schema.Condition{Part: text("label"), State: text("reads [crack]")}, "label: reads [crack] [no fault]"},
		{schema.Condition{Part: text("label"), State: text("reads [no fault]")}, "label: reads [no fault] [no fault]"},
		{schema.Condition{Part: text("label"), State: text("reads [crack]"), Fault: text("worn")}, "label: reads [crack] [worn]"},
		{schema.Condition{Part: text("limb"), Fault: text("crack")}, "limb: [crack]"},
		{schema.Condition{Part: text("limb"), Fault: text("crack"), Found: text("strung")}, "limb: [crack, found strung]"},
	} {
		if got := conditionCell(&c.condition); got != c.cell {
			t.Errorf("written as %q, want %q", got, c.cell)
		}
		want := editing.Mapping().With("part", editing.Word(c.condition.Part.Value))
		if c.condition.State.Value != "" {
			want.With("state", editing.Word(c.condition.State.Value))
		}
		if c.condition.Fault.Value != "" {
			want.With("fault", editing.Word(c.condition.Fault.Value))
		}
		if c.condition.Found.Value != "" {
			want.With("found", editing.Word(c.condition.Found.Value))
		}
		list := editing.List()
		list.Append(want)
		if got := readConditions(c.cell); !got.Equal(list) {
			t.Errorf("%q is read as %s", c.cell, got)
		}
	}
}
