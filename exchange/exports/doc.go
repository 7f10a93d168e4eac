// Package exports makes the files by which others reuse a reference's data:
// one documented JSON file with its schema, tables, linked data, sources for
// reference managers, a sitemap and a feed. The same facts give the same
// bytes. What is private is in none of them.
//
// Each file is made when it is asked for, and written as it is made, so that a
// large reference need not be held twice.
package exports
