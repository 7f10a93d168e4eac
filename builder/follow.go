package builder

import (
	"context"
	"slices"
	"strings"

	"yearmark/schema"
)

// Followed is a reference that is studied again and again while people write
// in its folder. Each study is what Open would give; what did not change since
// the one before is taken over from it. It is not safe for concurrent use,
// but its studies are, also while it looks again.
type Followed struct {
	folder *schema.Folder
	path   string
	study  *Study
	unseen bool // a look failed at which pictures may have changed
}

// Follow studies the reference in folder for the first time, and fails as Open does.
func Follow(ctx context.Context, folder string) (*Followed, error) {
	f := &Followed{folder: schema.NewFolder(folder), path: folder}
	_, err := f.Renew(ctx, nil, nil)
	return f, err
}

// Study is the newest study.
func (f *Followed) Study() *Study { return f.study }

// Renew studies the folder again. files are those that changed, relative to
// the folder and with forward slashes; nil stands for any. It says whether
// there is anything new. Where it fails the study before stays, and the next
// look is at everything. coming, which may be nil, is called once it is known
// that there is something new and that none of the files is broken, before it
// is studied.
func (f *Followed) Renew(ctx context.Context, files []string, coming func()) (bool, error) {
	read := f.folder.Read
	if files != nil {
		read = func() (*schema.Reference, schema.Problems, error) { return f.folder.Renew(files) }
	}
	ref, problems, err := read()
	pictures := f.unseen || anyPicture(files)
	if f.unseen = err != nil && pictures; err != nil {
		return false, err
	}
	if f.study == nil {
		f.study, err = newStudy(ctx, ref, problems, schema.Files(f.path), sums{})
		return true, err
	}
	if ref == f.study.Ref && !(pictures && f.picturesChanged(files)) {
		return false, nil
	}
	if coming != nil && !concern(problems, files) {
		coming()
	}
	before := f.study.sums
	before.resting = !pictures
	study, err := newStudy(ctx, ref, problems, f.study.files, before)
	if err != nil {
		return false, err
	}
	f.study = study
	return true, nil
}

// concern says that a problem is in one of these files.
func concern(problems schema.Problems, files []string) bool {
	return slices.ContainsFunc(problems, func(p schema.Problem) bool { return slices.Contains(files, p.Pos.File()) })
}

// picturesChanged says that pictures whose names stayed may have changed, where
// one may be among these files.
func (f *Followed) picturesChanged(files []string) bool {
	if files != nil {
		return true
	}
	now, _ := editionOf(f.study.Ref, f.study.files, f.study.sums)
	return now != f.study.Edition
}

// anyPicture says that a picture may be among these files; nil stands for any.
func anyPicture(files []string) bool {
	return files == nil || slices.ContainsFunc(files, func(file string) bool {
		top, _, _ := strings.Cut(file, "/")
		return top == schema.PicturesFolder || top == schema.RecordingsFolder
	})
}
