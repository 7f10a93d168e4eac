package checks

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"time"

	"yearmark/schema"
	"yearmark/schema/sound"
)

// recording is one kept recording, looked into.
type recording struct {
	source     *schema.Source
	length     time.Duration // 0 where it is not known
	unmeasured bool          // of a kind whose length is not known
	fault      string
}

// openRecordings looks into the recordings that are kept.
func (s *shared) openRecordings() []recording {
	var all []recording
	for _, source := range s.Ref.Sources.All() {
		if source.Recording == nil {
			continue
		}
		name := source.Recording.File.Value
		if _, there := slices.BinarySearch(s.Ref.Recordings, name); there && s.Looked(schema.RecordingsFolder+"/"+name) {
			all = append(all, recording{source: source})
		}
	}
	s.share(len(all), func(i int) { all[i].look(s) })
	return all
}

func (r *recording) look(s *shared) {
	name := r.source.Recording.File.Value
	if !sound.Playable(name) {
		r.fault = "is neither WAV, MP3, Ogg nor FLAC by its name"
		return
	}
	f, err := s.Files.Open(schema.RecordingsFolder + "/" + name)
	if err != nil {
		r.fault = "cannot be opened"
		return
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, sound.MaxBytes+1))
	switch {
	case err != nil:
		r.fault = "cannot be read"
		return
	case len(data) > sound.MaxBytes:
		r.fault = fmt.Sprintf("is larger than %d MB", sound.MaxBytes>>20)
		return
	}
	r.length, err = sound.Length(name, data)
	if r.unmeasured = errors.Is(err, sound.ErrUnknownLength); err != nil && !r.unmeasured {
		r.fault = err.Error()
	} else if sound.Clean(name, data) == nil {
		r.fault = "is not built as its kind is"
	}
}
