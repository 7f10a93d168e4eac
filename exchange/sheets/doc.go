// Package sheets carries a reference's makers, models, claims, sources, examples,
// features, and what its records hold as lists (places of sources; opinions,
// history and sales of bows; people, special orders and mute features of makers),
// out into tables that any spreadsheet opens, and all of them in again.
//
// # The tables
//
// A table is CSV as RFC 4180 has it: a row of column names, commas, quotes
// where needed, CRLF at line ends, UTF-8. Each row of claims.csv is a claim,
// of makers.csv, models.csv and sources.csv a record, of examples.csv a bow, of
// features.csv a value of a feature. A row of a list's table (places.csv, sales.csv)
// is one of its items, known by the record and its number there. What a row of features.csv says of the feature itself
// need be written in one of its rows. Each [Column] says in a sentence what it holds; some are worked out
// from the records (years after tightening, credence …) and are not read in
// again. An empty cell says that the record does not have the key.
//
// A cell that a spreadsheet would take for a formula (it begins with = + - @, a
// full-width form of these, a tab or a line break, white space before it
// aside) has an apostrophe before it, which is taken off again on reading. A
// cell that happens to begin so already gets a second one.
//
// Several things in one cell are parted by " | ": "list-1964, p. 6 | letter-1998".
// A part that holds a bar or a backslash has a backslash before it. Sightings
// read "1964: list-1964, p. 1 | 1966: example-0007", a condition "upper limb:
// slight twist", a picture "0007-mark.jpg: the mark".
//
// In examples.csv every feature has a column of its own, with the value seen or
// several where it is one of them; "riser-wood sure" holds how sure the
// observer was, "riser-wood note" the remark, and "riser-wood 2" a second
// observation of a feature that a bow can show twice. A feature whose name is
// that of another column is written "feature:NAME".
//
// # Reading in
//
// [Prepare] turns a table into changes of records, which package journal writes. Only the cells that say something else than the record lead to an edit,
// and an edit touches the bytes of that value alone: comments, order and layout
// of all else stay. A row whose first cell names nothing that is there makes a
// new claim or record. Rows that a table lacks change nothing, and so do
// columns that it lacks; nothing is ever deleted but what a cell held before.
// Columns whose name begins with # are the writer's own and are not read; others
// that no table has are told and left.
//
// Where a person or a spreadsheet wrote something otherwise than records do, and
// it can only be meant one way, it is taken so and told ([Plan]'s Notes): dashes
// between years, months by their names, decimal commas. A cell that shows what
// the record has in a spreadsheet's own way (7 for 0007, 12:08:00 AM for 0:08) is
// no change.
//
// The last column holds a checksum of the row as it was written. Where it is
// still there, a row that nobody touched never undoes what was changed in the
// records meanwhile, and a row that was changed on both sides is refused.
//
// All that is wrong is told with row and column ([Problems]), and then nothing is
// written. What was edited is read again before anything is written, and must
// say exactly what the table says.
package sheets
