package sheets

import (
	"cmp"
	"fmt"
	"strings"

	"yearmark/exchange/editing"
	"yearmark/exchange/sheets/csl"
	"yearmark/schema"
	"yearmark/schema/english"
)

// PrepareCSL works out which source records a file of CSL-JSON would make. A
// source that is there already is left as it is. The error is a Problems. As
// with Prepare, the reference must not be used afterwards.
func PrepareCSL(ref *schema.Reference, name string, data []byte) (*Plan, error) {
	items, err := csl.Read(data)
	if err != nil {
		return nil, Problems{{File: name, Message: err.Error(), Help: "Export the sources again as CSL-JSON."}}
	}
	in := newIntake(ref, name)
	in.result.Table = "sources"
	first := map[string]int{}
	for i, item := range items {
		in.item(i+1, item, first)
	}
	return in.plan()
}

// item makes a source's record of an item.
func (in *intake) item(number int, s csl.Source, first map[string]int) {
	fault := func(message, help string) {
		in.faults = append(in.faults, Problem{File: in.name, Line: s.Line, Message: fmt.Sprintf("item %d %q: %s", number, english.Clip(s.Called, maxShown), message), Help: help})
	}
	for _, f := range s.Faults {
		fault(f, "Add it in the program that the file comes from, or in the file.")
	}
	if len(s.Faults) > 0 {
		return
	}
	if at := first[s.ID]; at > 0 {
		fault(fmt.Sprintf("its name %q is that of item %d", s.ID, at), "Give one of them another id.")
		return
	}
	first[s.ID] = number
	if _, there := in.ref.Sources.Get(s.ID); there {
		in.result.Same++
		in.note("the source %q is there already and is left as it is", s.ID)
		return
	}
	d := newDraft(schema.KindSource, s.ID, itemKeys(s))
	d.line = s.Line
	if wrong, ok := schema.NameFault(schema.KindSource, s.ID); !ok {
		fault(wrong.Message, wrong.Help)
		return
	}
	in.drafts[d.file] = d
	in.result.Added++
	if s.ID != s.Called {
		in.note("item %q becomes the source %q", english.Clip(s.Called, maxShown), s.ID)
	}
	if len(s.LeftOut) > 0 {
		in.note("of item %q these are not taken over: %s", english.Clip(s.Called, maxShown), strings.Join(s.LeftOut, ", "))
	}
}

// itemKeys gives the keys of a source's record in their order.
func itemKeys(s csl.Source) *editing.Value {
	var edits []editing.Edit
	put := func(value string, way ...string) {
		if value != "" {
			edits = append(edits, editing.Edit{Keys: way, New: editing.Word(oneLineEnd(value))})
		}
	}
	put(s.Name, "name")
	put(s.Kind, "kind")
	put(s.By, "by")
	put(s.Issued, "issued")
	put(s.Kept, "kept")
	put(s.Link, "link")
	own := cmp.Or(s.Own, &csl.Kept{})
	if len(own.ReliesOn) > 0 {
		edits = append(edits, editing.Edit{Keys: []string{"relies-on"}, New: editing.Words(own.ReliesOn)})
	}
	put(own.CopiedOn, "copied", "on")
	put(own.SHA256, "copied", "sha256")
	if own.Consulted != nil {
		edits = append(edits, editing.Edit{Keys: []string{"consulted"}, New: editing.Literal(fmt.Sprint(*own.Consulted))})
	}
	return editing.MappingOf(edits, editing.KeyOrder(&schema.Source{}))
}
