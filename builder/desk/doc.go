// Package desk lets people who never open an editor change the records of a
// reference in a browser on the same machine. Forms follow the description of
// each kind of record that the reader follows too (schema.Describe); what they
// save is written into the record's file by exchange/editing, value by value,
// and through exchange/journal, so that every change can be taken back.
//
// A page shows the values of a record's file (values.go) as a form (form.go,
// form.templ). What comes back is held against the file as it is now, and only
// values that differ become edits (apply.go). Who may ask at all is decided in
// access.go.
package desk
