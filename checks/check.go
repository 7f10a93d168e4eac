package checks

import (
	"cmp"

	"yearmark/schema"
)

// Level says how much a finding matters.
type Level string

// The levels, gravest first.
const (
	Error   Level = "error"   // must be mended before the reference is published
	Warning Level = "warning" // is most likely a slip
	Note    Level = "note"    // is worth knowing; nothing need be wrong
)

// Levels lists the levels, gravest first.
var Levels = []Level{Error, Warning, Note}

// Family groups checks by what they look at.
type Family string

// The families, in the order of the registry.
const (
	Reading       Family = "reading"
	Provenance    Family = "provenance"
	Spans         Family = "spans"
	Contradiction Family = "contradiction"
	Settling      Family = "settling"
	Specs         Family = "specs"
	Examples      Family = "examples"
	Prose         Family = "prose"
	Pictures      Family = "pictures"
	Recordings    Family = "recordings"
)

// Families lists the families in the order of the registry.
var Families = []Family{Reading, Provenance, Spans, Contradiction, Settling, Specs, Examples, Prose, Pictures, Recordings}

// Check is one thing that is looked for in every reference.
type Check struct {
	Name    string // small letters and hyphens; never changes once released
	Family  Family
	Level   Level
	Meaning string // what a finding means, in one sentence
	Example string // record lines, then "→ " and what is said about them
	Remedy  string // what to do about it
	// Run reports what it finds to the pass. It changes nothing it is given.
	Run func(*Pass)

	// finds gives the contradictions of this kind, settled or not. Run is
	// then reportUnsettled.
	finds func(*Pass) []contradiction
	// absence says that the check concludes from what is not there, so that it
	// has nothing to say while a record could not be read.
	absence bool
	// needsJudge says that the check asks what dating makes of an example.
	needsDater bool
	// needsFiles says that the check opens the files of the folder.
	needsFiles bool
}

// Finding is one thing found.
type Finding struct {
	Check   string
	Level   Level
	Pos     schema.Pos
	Width   int             // characters in question from Pos on; 0 stands for the word that begins there
	Message string          // a statement of fact: lower case, no full stop
	Why     []Place         // the other places that made it so, and what the sources on each side say
	Help    string          // what to do, in a sentence
	Claims  []*schema.Claim // the claims in question, that at Pos first; often empty
	Missing string          // the file in which what is not there would stand, as in "models/dunlin.md"; or ""
	// Follows is the file or folder that could not be read as records, or not
	// whole, where the finding would most likely go once it can; or "".
	Follows string
	// Remedies are ways to end it that a program can carry out once a person
	// wants it, likeliest first.
	Remedies []schema.Remedy
}

// Place is a further place that made a finding so.
type Place struct {
	Pos     schema.Pos
	Message string
	// Credence of the claim that stands there, from 0 to 1 (package
	// provenance), or nil where no claim is meant.
	Credence *float64
}

func compareFindings(a, b Finding) int {
	return cmp.Or(a.Pos.Compare(b.Pos), cmp.Compare(a.Message, b.Message), cmp.Compare(a.Check, b.Check))
}

func sameFinding(a, b Finding) bool {
	return a.Pos == b.Pos && a.Message == b.Message && a.Check == b.Check
}
