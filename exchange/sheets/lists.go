package sheets

import (
	"fmt"
	"iter"
	"strconv"

	"yearmark/schema"
)

// list is a table of what records hold as lists below one key, a row an item.
type list[T any] struct {
	name, about string // of the table
	item        string // the column that names the item
	kind        schema.Kind
	key         string // under which records hold it
	single      bool   // below the key stands one item, not a list
	// items gives a record's items that may be shown.
	items func(schema.Record) []T
	// own are the columns that an item fills, of the record and its number aside.
	own  []field[listed[T]]
	more []derived[listed[T]]
}

// listed is one item and where it stands.
type listed[T any] struct {
	home  schema.Record
	index int // in the record's list, from 0; -1 where there is one item only
	it    T
}

// name is what the row is known by: the record and, in a list, the item's
// number there, from 1.
func (l listed[T]) name() string {
	if l.index < 0 {
		return l.home.Header().ID
	}
	return l.home.Header().ID + "/" + strconv.Itoa(l.index+1)
}

// of makes a column's get of one of the item's own.
func of[T any](get func(T) string) func(listed[T]) string {
	return func(l listed[T]) string { return get(l.it) }
}

// fields are the columns that are read in.
func (l *list[T]) fields() []field[listed[T]] {
	home := string(l.kind)
	known := fmt.Sprintf("The %s and the number in its record. Leave it empty for a new row.", home)
	if l.single {
		known = fmt.Sprintf("The %s. Leave it empty for a new row.", home)
	}
	return append([]field[listed[T]]{
		{column: l.item, about: known, get: listed[T].name},
		{column: home, about: fmt.Sprintf("The name of the %s's record.", home), get: func(x listed[T]) string { return x.home.Header().ID }},
	}, l.own...)
}

// derived are the columns that follow from the records.
func (l *list[T]) derived() []derived[listed[T]] {
	if l.more != nil {
		return l.more
	}
	return []derived[listed[T]]{{"address", "Its page on the site.", func(f Facts, x listed[T]) string { return address(f, x.home.Address()) }}}
}

// all yields every item that may be shown.
func (l *list[T]) all(ref *schema.Reference) iter.Seq[listed[T]] {
	return func(yield func(listed[T]) bool) {
		for _, r := range ref.RecordsOf(l.kind) {
			for i, it := range l.items(r) {
				if l.single {
					i = -1
				}
				if !yield(listed[T]{r, i, it}) {
					return
				}
			}
		}
	}
}

func (l *list[T]) table(f Facts) Table {
	fields, more := l.fields(), l.derived()
	return Table{
		Name: l.name, About: l.about, Columns: withChecksum(columnsOf(fields, more)),
		Rows: rowsOf(l.all(f.Ref), func(cells []string, x listed[T]) []string {
			return rowOf(cells, f, fields, more, x)
		}),
	}
}

// listTable is a list of any kind of item.
type listTable interface {
	table(Facts) Table
	// isThat says whether a table that comes in is this one, by its columns.
	isThat(*intake) bool
	takeIn(*intake)
}

// listTables are the tables of lists, in the order in which they are written.
var listTables = []listTable{places, attributions, events, sales, people, specialOrders, mutes, neverSeenOnModels, neverSeenOfMakers, countedOnModels, countedOfMakers}

// Lists gives the tables of what records hold as lists: the places of sources;
// opinions, history and sales of bows; people, special orders and features that
// say nothing of makers; what was never seen, and on how many something was.
func Lists(f Facts) []Table {
	tables := make([]Table, len(listTables))
	for i, l := range listTables {
		tables[i] = l.table(f)
	}
	return tables
}
