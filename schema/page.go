package schema

// Page is a title and prose.
type Page struct {
	Head     `yaml:"-"`
	Name     Text   `yaml:"title" jsonschema:"required" jsonschema_description:"The page's title."`
	About    Text   `yaml:"about" jsonschema_description:"One sentence that says what the page is for."`
	Rank     Whole  `yaml:"rank" within:"0..100000" jsonschema_description:"Its place among the pages; small figures come first."`
	Formerly []Text `yaml:"formerly" jsonschema_description:"Names that this record had: their addresses lead on to it."`
}

// Title is the page's title.
func (p *Page) Title() string { return p.Name.Value }
