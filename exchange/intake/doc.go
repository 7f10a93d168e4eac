// Package intake takes in what visitors of the site send: a submission is one
// JSON file that the dating form saves, with what was seen on a bow, its
// condition, where its marks stand, and a note. Taken in, it becomes the
// record of an example, ready for the editor to look over.
//
// # The file
//
// A submission is JSON of at most 256 KB, version 1, held to the JSON Schema
// that [Schema] gives and the site publishes. No key is admitted that the
// schema does not name. Beyond the schema:
//
//   - text is plain: no control or invisible characters, nothing that reads as
//     markup or as an address that runs a script; only the note has lines;
//   - photographs are named by file name alone, without a folder;
//   - model, features and values are those of the reference;
//   - a feature is observed once.
//
// Everything in a submission is a stranger's word. What stands under private
// goes under private in the record, the names of photographs as well, and is
// in no message, whatever is wrong with it.
//
// # The record
//
// The visitor's note becomes submitted.note, which is shown as plain text, and
// no prose: a submission cannot write Markdown. The place of a mark becomes
// the remark on the feature of that name, or a line of the condition. A
// checksum over what was sent keeps a second reading of the same file from
// filing it again.
package intake
