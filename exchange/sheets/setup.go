package sheets

import "yearmark/schema"

// setupFields are the columns of how an owner sets a bow up.
var setupFields = []field[*schema.Example]{
	setupField("brace", "The owner's brace height, as in 7 1/4 in; no evidence of the year.", func(s *schema.Setup) string { return s.Brace.Written }),
	setupField("string", "The length of the owner's string, as in 62 in.", func(s *schema.Setup) string { return s.String.Written }),
	setupField("nocking-point", "Where the owner has the nocking point.", func(s *schema.Setup) string { return s.NockingPoint.Value }),
	setupField("arrow", "The arrow that the owner shoots.", func(s *schema.Setup) string { return s.Arrow.Value }),
	setupField("shot", "How it shoots, and at what draw.", func(s *schema.Setup) string { return s.Shot.Value }),
}

func setupField(key, about string, get func(*schema.Setup) string) field[*schema.Example] {
	return field[*schema.Example]{column: "setup-" + key, about: about, way: []string{"setup", key}, get: func(e *schema.Example) string {
		if e.Setup == nil {
			return ""
		}
		return get(e.Setup)
	}}
}
