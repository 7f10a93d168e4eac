package pages

import _ "embed"

// myBowsPath is the page of the bows that a visitor keeps, and bowsSchemaPath
// what their file may hold.
const (
	myBowsPath     = "my-bows.html"
	bowsSchemaPath = "data/bows.schema.json"
)

//go:embed bows.schema.json
var bowsSchema []byte

// myBowsView is what its script fills with the bows.
type myBowsView struct {
	Base   base
	Tables string // the way to the folder of the engine's tables, or empty
	Schema string
}

func (p *page) myBows() myBowsView {
	v := myBowsView{p.base("My bows", "The bows that you dated and keep on this device.", ""), p.datingTables(), p.to(bowsSchemaPath)}
	v.Base.Class = "one-sheet"
	v.Base.Scripts = scripts("my-bows.js")
	return v
}
