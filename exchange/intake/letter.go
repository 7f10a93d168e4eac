package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"

	"yearmark/exchange/journal"
	"yearmark/schema"
)

// Folders of the inbox: the pictures that lie with what waits, and where a
// letter goes once the editor has decided about it.
const (
	picturesFolder = schema.InboxFolder + "/pictures"
	acceptedFolder = schema.InboxFolder + "/accepted"
	declinedFolder = schema.InboxFolder + "/declined"
)

// Letter is one file that waits in the inbox: a bow, or what a visitor knows.
type Letter struct {
	Name      string // of its file, without the folder
	Data      []byte
	Bow       *Submission // one of the two; neither where it cannot be read
	Knowledge *Knowledge
	Wrong     Problems // why it cannot be read
	Pictures  []LetterPicture
}

// LetterPicture is a picture that lies with a letter.
type LetterPicture struct {
	File  string // below the reference's folder
	Shows string // in the visitor's words; may be empty
}

// Open reads the file that a visitor sent. What cannot be read is a letter with
// nothing in it but the reasons.
func Open(data []byte) *Letter {
	l := &Letter{Data: data}
	var err error
	if KindOf(data) == KnowledgeKind {
		l.Knowledge, err = ReadKnowledge(data)
	} else {
		l.Bow, err = Read(data)
	}
	if err != nil && !errors.As(err, &l.Wrong) {
		l.Wrong = whole(err.Error(), "")
	}
	return l
}

// Filed gives the file in the inbox that keeps a letter that can be read. The
// same letter has the same name.
func (l *Letter) Filed() journal.Change {
	if l.Knowledge != nil {
		return l.Knowledge.Filed()
	}
	return filed(l.Bow.On, l.Bow)
}

// filed keeps what was read in the inbox, named by its day and what it says.
func filed(on string, read any) journal.Change {
	data, _ := json.MarshalIndent(read, "", "  ") // texts and numbers alone: it cannot fail
	sum := sha256.Sum256(data)
	return journal.Change{File: fmt.Sprintf("%s/%s-%s.json", schema.InboxFolder, on, hex.EncodeToString(sum[:4])), After: append(data, '\n')}
}

// File is its path below the reference's folder.
func (l *Letter) File() string { return schema.InboxFolder + "/" + l.Name }

// Named lists the pictures that the letter says go with it.
func (l *Letter) Named() []Photograph {
	switch {
	case l.Bow != nil:
		return l.Bow.Photographs
	case l.Knowledge != nil:
		return l.Knowledge.Pictures
	}
	return nil
}

// PictureFile gives a path at which a picture with a name of the visitor's lies
// with the letter, without its ending.
func (l *Letter) PictureFile(named string) string {
	return picturesFolder + "/" + l.pictureBegin() + pictureSlug(named)
}

func (l *Letter) pictureBegin() string { return strings.TrimSuffix(l.Name, ".json") + "-" }

func pictureSlug(named string) string {
	if slug := schema.Slug(strings.TrimSuffix(path.Base(named), path.Ext(named))); slug != "" {
		return slug
	}
	return "picture"
}

// Waiting lists the letters in the inbox of a reference's folder, by name, with
// their pictures. An inbox that is not there is empty.
func Waiting(folder fs.FS) ([]*Letter, error) {
	files, err := fs.ReadDir(folder, schema.InboxFolder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("the inbox cannot be opened: %w", err)
	}
	pictures, _ := fs.ReadDir(folder, picturesFolder) // most have none
	var list []*Letter
	for _, f := range files {
		if !f.Type().IsRegular() || path.Ext(f.Name()) != ".json" || strings.HasPrefix(f.Name(), ".") {
			continue
		}
		l, err := waiting(folder, f.Name(), pictures)
		if err != nil {
			return nil, err
		}
		list = append(list, l)
	}
	return list, nil
}

func waiting(folder fs.FS, name string, pictures []fs.DirEntry) (*Letter, error) {
	f, err := folder.Open(schema.InboxFolder + "/" + name)
	if err != nil {
		return nil, fmt.Errorf("%s/%s cannot be opened: %w", schema.InboxFolder, name, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s/%s cannot be read: %w", schema.InboxFolder, name, err)
	}
	l := Open(data)
	l.Name = name
	shows := map[string]string{}
	for _, p := range l.Named() {
		shows[pictureSlug(p.File)] = p.Shows
	}
	for _, e := range pictures {
		slug, ours := strings.CutPrefix(strings.TrimSuffix(e.Name(), path.Ext(e.Name())), l.pictureBegin())
		if ours && e.Type().IsRegular() {
			l.Pictures = append(l.Pictures, LetterPicture{picturesFolder + "/" + e.Name(), shows[slug]})
		}
	}
	return l, nil
}

// Decline gives the changes that put a letter aside. taken says whether a path
// below the reference's folder is that of a file.
func (l *Letter) Decline(taken func(file string) bool) []journal.Change {
	return l.moved(declinedFolder, taken)
}

// moved puts a letter into another folder, where one of its name is the same letter.
func (l *Letter) moved(to string, taken func(file string) bool) []journal.Change {
	changes := []journal.Change{{File: l.File(), Before: l.Data}}
	if to += "/" + l.Name; !taken(to) {
		changes = append(changes, journal.Change{File: to, After: l.Data})
	}
	return changes
}

// Write writes changes of the inbox through the journal, and has git leave the
// inbox out.
func Write(j *journal.Journal, command string, changes []journal.Change) error {
	if err := j.Write(command, changes); err != nil {
		return err
	}
	if !j.Exists(schema.InboxFolder) {
		return nil
	}
	_, err := j.Furnish(map[string][]byte{schema.InboxFolder + "/.gitignore": []byte(journal.IgnoreAll)})
	return err
}

// Past gives the files in which the letter lies once it was accepted or declined.
func (l *Letter) Past() (accepted, declined string) {
	return acceptedFolder + "/" + l.Name, declinedFolder + "/" + l.Name
}
