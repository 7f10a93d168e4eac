// Package checks proves that the records of a reference hold together, and
// says where they do not.
//
// A check is a value: a name, a level, its text and a function. Each lives in
// the file of its name and has one row in the registry (registry.go). The
// same text feeds `check --explain`, the site's page of checks and the tests.
// What a check finds has a place, a message, and the other places that made it
// so, each with its citations in words.
//
// Contradictions (family Contradiction) are errors until the editor settles
// or opens them as disputes; see contradiction.go.
package checks
