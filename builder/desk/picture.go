package desk

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"path"
	"slices"
	"strings"

	"yearmark/exchange/journal"
	"yearmark/schema"
	"yearmark/site/pictures"
)

const (
	maxPicture  = 64 << 20 // bytes of a picture that is handed in
	longestSide = 3000     // pixels that are kept of one
)

// pictureKeys are the keys that name a picture.
var pictureKeys = []string{"picture", "file", "scan"}

// takesPicture says that a picture can be dropped on a field.
func takesPicture(f fieldView) bool {
	return f.Field.Type == schema.FieldText && slices.Contains(pictureKeys, f.Name)
}

// picture takes a picture in: upright, without tags, scaled to the bound, under
// a name that is free. It answers the path that the record is to name.
func (d *Desk) picture(w http.ResponseWriter, r *http.Request) error {
	m, err := d.takePicture(r)
	w.Header().Set("Content-Type", "application/json")
	if err != nil {
		m.Error = schema.Sentence(err.Error())
		w.WriteHeader(http.StatusUnprocessableEntity)
	}
	return json.NewEncoder(w).Encode(m)
}

func (d *Desk) takePicture(r *http.Request) (made, error) {
	kind, err := kindOf(r)
	if err != nil {
		return made{}, err
	}
	sent, head, err := r.FormFile("picture")
	if err != nil {
		return made{}, errors.New("no picture was sent, or one of more than 64 MB")
	}
	defer sent.Close()
	data, err := io.ReadAll(sent)
	if err != nil {
		return made{}, errors.New("the picture did not arrive whole; choose it again")
	}
	fitted, ending, err := pictures.Fit(head.Filename, data, longestSide)
	if err != nil {
		return made{}, err
	}
	d.writing.Lock()
	defer d.writing.Unlock()
	j, err := d.journal(r.Context())
	if err != nil {
		return made{}, err
	}
	defer j.Close()
	name := schema.Slug(strings.TrimSuffix(path.Base(head.Filename), path.Ext(head.Filename)))
	if name == "" {
		name = "picture"
	}
	at := path.Join(kind.Folder(), name+ending)
	for n := 2; j.Exists(schema.PicturesFolder + "/" + at); n++ {
		at = path.Join(kind.Folder(), fmt.Sprintf("%s-%d%s", name, n, ending))
	}
	return made{ID: at, Title: at}, j.Write("new picture "+at, []journal.Change{{File: schema.PicturesFolder + "/" + at, After: fitted}})
}
