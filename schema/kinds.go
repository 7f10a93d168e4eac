package schema

// recordKind is all that reading needs to know of a kind of record.
type recordKind struct {
	kind       Kind
	make       func() Record
	recordList func(*Reference) recordList
	// finish looks at what can be told of a record from itself alone, and
	// names its claims.
	finish func(*decoder, Record)
	link   func(*linker, Record) // ties it to the records that it names
}

// kindTable has a row for each kind of record, in the order in which people
// meet them.
var kindTable = []recordKind{
	row(KindMaker, func(r *Reference) *Collection[*Maker] { return &r.Makers }, (*decoder).maker, (*linker).maker),
	row(KindModel, func(r *Reference) *Collection[*Model] { return &r.Models }, (*decoder).model, (*linker).model),
	row(KindFeature, func(r *Reference) *Collection[*Feature] { return &r.Features }, (*decoder).feature, (*linker).feature),
	row(KindSource, func(r *Reference) *Collection[*Source] { return &r.Sources }, (*decoder).source, (*linker).source),
	row(KindExample, func(r *Reference) *Collection[*Example] { return &r.Examples }, (*decoder).example, (*linker).example),
	row(KindPage, func(r *Reference) *Collection[*Page] { return &r.Pages }, nil, nil),
}

func row[T any, R interface {
	*T
	Record
}](kind Kind, listIn func(*Reference) *Collection[R], finish func(*decoder, R), link func(*linker, R)) recordKind {
	return recordKind{
		kind:       kind,
		make:       func() Record { return R(new(T)) },
		recordList: func(r *Reference) recordList { return listIn(r) },
		finish: func(d *decoder, r Record) {
			if finish != nil {
				finish(d, r.(R))
			}
		},
		link: func(l *linker, r Record) {
			if link != nil {
				link(l, r.(R))
			}
		},
	}
}

// row gives the row of a kind, which must be one of Kinds.
func (k Kind) row() *recordKind {
	for i := range kindTable {
		if kindTable[i].kind == k {
			return &kindTable[i]
		}
	}
	return nil
}

// recordList is a Collection of any kind.
type recordList interface {
	put(Record)
	get(id string) (Record, bool)
	sort()
	appendTo([]Record) []Record
}
