package schema

// PublicFile is a record's file as anyone may see it, as MaskPrivate gives it, and
// the keys and values that stand in its front matter, in order.
type PublicFile struct {
	Text  []byte
	Words []Word
}

// Word is a key or a value, by its bytes in a PublicFile text.
type Word struct {
	Start, End int32
	Key        bool
}

// PublicFileOf reads a file as it may be shown. The error is as that of Locate; what
// is private in such a file only MaskPrivate hides.
func PublicFileOf(file string, source []byte) (PublicFile, error) {
	top, err := Locate(file, source)
	if err != nil {
		return PublicFile{}, err
	}
	return publicFileOf(top, source), nil
}

func publicFileOf(top *Located, source []byte) PublicFile {
	m := walkMasks(top, source)
	return PublicFile{m.masked(), m.words}
}

// PublicFile is the record's file as it may be shown; see PublicFileOf. The caller must
// not change it.
func (h *Head) PublicFile() (PublicFile, error) {
	if h.public.Text != nil {
		return h.public, nil
	}
	return PublicFileOf(h.File, h.Source)
}

// PublicSource is the text of PublicFile or, of a file whose keys cannot be told from
// each other, what MaskPrivate leaves of it.
func (h *Head) PublicSource() []byte {
	if h.public.Text != nil {
		return h.public.Text
	}
	return MaskPrivate(h.File, h.Source)
}
