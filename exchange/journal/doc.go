// Package journal changes the records of a reference's folder for every command
// that writes them.
//
// One writer at a time holds the folder ([Open]). What it writes ([Journal.Write])
// is exchanged file by file, each whole; a file that is not what the writer read
// is never overwritten, and then nothing is. What is about to happen stands in
// the journal before the first file is touched, old bytes and new, so that after
// a crash the next writer finishes it, or takes it back where somebody has
// changed one of the files since. [Journal.Undo] takes the last entry back.
//
// All of this lies in the folder .yearmark, which git ignores and nothing
// publishes: old bytes hold what is private.
package journal
