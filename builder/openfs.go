package builder

import (
	"io/fs"

	"yearmark/checks"
	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
	"yearmark/schema"
)

// OpenFS is Open for a reference at the top of a file system, such as an
// earlier revision held in memory. name is what it is called in messages. Such
// a study answers questions; it is not for publishing, which reads pictures
// from the folder.
func OpenFS(files fs.FS, name string) (*Study, error) {
	ref, problems, err := schema.ReadFS(files, name)
	if err != nil {
		return nil, err
	}
	s := &Study{Folder: name, Ref: ref, Problems: problems}
	s.Timeline = chronology.Build(ref)
	s.Weighing = provenance.Weigh(ref)
	s.Engine = dating.New(ref, s.Timeline, s.Weighing)
	s.Edition = editionOf(ref, files)
	s.Report = checks.Run(checks.Input{
		Ref: ref, Problems: problems, Timeline: s.Timeline, Weighing: s.Weighing, Judge: judge{s.Engine}, Files: files,
	})
	return s, nil
}
