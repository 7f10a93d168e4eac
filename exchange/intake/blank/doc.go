// Package blank writes blank records: a file of one kind with its keys in
// order, the questions that it answers as comments, and a first line by which
// editors complete keys.
//
// A blank passes the checker but for the blanks themselves: every key that
// must be filled in stands there empty and is reported at its line, and every
// other key stands in a comment. So `check` is the list of what is left to
// write. What can be guessed from the identifier, the name, is filled in.
package blank
