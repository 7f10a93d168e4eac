// Package editing changes single values in a record's file and keeps every
// other byte: comments, order of keys, layout, line ends, the byte-order mark,
// the text below the front matter.
//
// A value is named by its path: the keys that lead to it from the top of the
// front matter, an item of a list by its number from 0, as a JSON Pointer
// (RFC 6901) has it. [Set], [Add] and [Remove] make one change and hold the
// outcome against what was asked; a [File] gathers many.
package editing
