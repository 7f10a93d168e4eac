package schema

import (
	"bytes"
	"maps"
	"os"
	"slices"

	"yearmark/schema/files"
)

// With gives what Read would if these files were other ones: records by their
// paths, and the settings; nil stands for a file that is gone. Nothing of it is
// kept. ok is false where that cannot be said without looking at all files,
// as before the first Read.
func (f *Folder) With(changed map[string][]byte) (ref *Reference, problems Problems, ok bool) {
	if f.ref == nil || f.behind {
		return nil, nil, false
	}
	root, err := os.OpenRoot(f.path)
	if err != nil {
		return nil, nil, false
	}
	defer root.Close()
	would := *f
	listed := *f.listing
	listed.records = slices.Clone(listed.records)
	would.listing = &listed
	records := maps.Clone(f.records)
	for file, source := range changed {
		at, there := listed.find(file)
		switch {
		case file == SettingsFile && source != nil:
			would.settings = &keptFile{source: source}
			would.of, would.settings.problems = ReadSettings(source)
		case !isRecordFile(file) || f.refused(file):
			return nil, nil, false
		case source == nil:
			if there {
				listed.records = slices.Delete(listed.records, at, at+1)
			}
			delete(records, file)
		default:
			if !there {
				listed.records = slices.Insert(listed.records, at, file)
			}
			if old := records[file]; old == nil || !bytes.Equal(old.source, source) {
				records[file] = &keptFile{source: source}
				records[file].record, records[file].problems = readWith(files.In(root), file, source)
			}
		}
	}
	if len(listed.records) > listed.most {
		return nil, nil, false
	}
	ref, problems, err = would.assemble(records)
	return ref, problems, err == nil
}
