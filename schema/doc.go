// Package schema says what a record is, and reads a reference from its folder.
//
// A newcomer begins with the types, one file each: a [Reference] holds
// [Maker], [Model], [Feature], [Source], [Example] and [Page] records, and
// every dated statement in them is a [Claim] with [Citation]s. Values are kept
// as written, each with its place ([Pos]) in the Markdown file: YAML's guesses
// at numbers and dates are never used.
//
// [Read] reads a folder (read.go). It reports everything it finds as
// [Problems], each with a place, a message and a remedy, and gives whatever
// could be read, so that one broken record hides nothing in the others. The way
// of one file is [ReadRecord] (recordfile.go): readable text between fences
// (front.go, characters.go); YAML nodes (syntax.go; malformed*.go to tell what
// is wrong where the YAML is broken); the types by way of their struct tags (plan.go,
// decode.go, scalar.go, figure.go, fragment.go, citation.go); what a record must satisfy by
// itself (finish.go, sourceplace.go, featurerules.go, claimnames.go). [Assemble] then ties the
// records to each other (link.go). A caller who follows edits reads the changed
// record with ReadRecord and assembles again.
//
// A new check of reading is a constant in problem.go, a report where the fault
// shows, and a pair of cases in testdata.
//
// The struct tags are the only description of the keys: `yaml` names a key,
// `of` and `must` say in which kinds of claim it may or must be written,
// `within` bounds a figure, `jsonschema` holds what is required and the values
// allowed, `jsonschema_description` one sentence for people. The reader and
// [JSONSchema] both follow them.
package schema
