package editing

import (
	"fmt"
	"slices"
	"strconv"

	"yearmark/schema"
)

// Set makes the value at a path be what is given, and gives the file as it
// becomes. The value may not be there yet where all above its last key, or
// all below a key of the record's own, is new. Nothing else may change: where
// the file does not read afterwards as was asked, the error says so.
func Set(file string, source []byte, path []string, value *Value) ([]byte, error) {
	return changed(file, source, target{path: path}, func(f *File) error {
		last := len(path) - 1
		if last < 0 {
			return fmt.Errorf("no value of %s is named", file)
		}
		// The mapping that the value stands in, or would.
		for above := last; above >= 0; above-- {
			switch node := f.Node(path[:above]...); {
			case node == nil:
			case node.Kind == schema.LocatedKeys:
				return f.Change(path[:above], nil, []Edit{{Keys: path[above:], New: value}})
			case node.Kind == schema.LocatedList && above == last && f.Node(path...) != nil:
				item := f.Node(path...)
				f.splice(item.Start, item.End, written(value, item.Style, node.Flow), len(path))
				return nil
			default:
				return fmt.Errorf("there is no place for the value in %s", file)
			}
		}
		return fmt.Errorf("there is no place for the value in %s", file)
	})
}

// Add puts an item at the end of the list at a path, which may be a key of the
// record's own that is not there yet.
func Add(file string, source []byte, path []string, item *Value) ([]byte, error) {
	f, err := Open(file, source)
	if err != nil {
		return nil, err
	}
	at := 0
	if list := f.Node(path...); list != nil {
		at = len(list.Items)
	}
	return changed(file, source, target{path: append(path[:len(path):len(path)], strconv.Itoa(at))}, func(f *File) error {
		f.Add(path, item)
		return nil
	})
}

// Remove takes away the value at a path: a key with its value or an item of a
// list, and what would be left empty above it.
func Remove(file string, source []byte, path []string) ([]byte, error) {
	f, err := Open(file, source)
	if err != nil {
		return nil, err
	}
	if len(path) == 0 || f.Node(path...) == nil {
		return nil, fmt.Errorf("there is no such value in %s", file)
	}
	for len(path) > 1 {
		parent := f.Node(path[:len(path)-1]...)
		if len(parent.Items)+len(parent.Keys) > 1 {
			break
		}
		path = path[:len(path)-1]
	}
	return changed(file, source, target{path, true}, func(f *File) error {
		above, last := path[:len(path)-1], path[len(path)-1]
		if f.Node(above...).Kind == schema.LocatedKeys {
			return f.Change(above, nil, []Edit{{Keys: []string{last}}})
		}
		at, err := strconv.Atoi(last)
		if err != nil {
			return err
		}
		return f.ChangeList(above, ListChange{Remove: []int{at}})
	})
}

// target is the one value that a change is about.
type target struct {
	path []string
	goes bool
}

// changed makes a change and wants all but its target to read as before.
func changed(file string, source []byte, of target, change func(*File) error) ([]byte, error) {
	f, err := Open(file, source)
	if err != nil {
		return nil, err
	}
	if err := change(f); err != nil {
		return nil, err
	}
	after, err := f.Bytes()
	if err != nil {
		return nil, err
	}
	now, err := schema.Locate(file, after)
	var new *schema.Located
	if err == nil && !of.goes {
		new = Node(now, of.path...)
	}
	if err != nil || !slices.Equal(leaves(nil, "", f.top, f.Node(of.path...)), leaves(nil, "", now, new)) {
		return nil, fmt.Errorf("this cannot be changed without changing more of %s; make the change in the record itself", file)
	}
	return after, nil
}

// leaves lists every text of a file with the keys above it, but for those in one value.
func leaves(list []string, above string, l, but *schema.Located) []string {
	if l == but || l.Kind == schema.LocatedText && l.Text == "" && l.Style == 0 { // a key without a value says nothing
		return list
	}
	if l.Kind == schema.LocatedText {
		return append(list, above+"="+l.Text)
	}
	for _, item := range l.Items {
		list = leaves(list, above+"/-", item, but)
	}
	for _, k := range l.Keys {
		list = leaves(list, above+"/"+k.Name, k.Value, but)
	}
	return list
}
