package search

import (
	"encoding/binary"
	mathbits "math/bits"
	"slices"
	"strings"

	"yearmark/search/bits"
)

// wordFiles writes the w files, words in order with how often each was met,
// and gives the first word of each.
func (x *exporter) wordFiles() []string {
	var starts []string
	var body []byte
	count, before := 0, ""
	flush := func() {
		if count > 0 {
			x.add("w", len(starts)-1, append(binary.AppendUvarint(nil, uint64(count)), body...))
		}
		body, count, before = body[:0], 0, ""
	}
	for _, e := range x.dict.words {
		if len(body) > wordShardSize {
			flush()
		}
		if count == 0 {
			starts = append(starts, e.word)
		}
		body = bits.AppendFront(body, before, e.word)
		body = binary.AppendUvarint(body, uint64(e.met))
		before = e.word
		count++
	}
	flush()
	return starts
}

// documentFiles writes the d files and, beside those whose documents have
// claims to show, the c files.
func (x *exporter) documentFiles() {
	var files [][2][]byte
	for places := range slices.Chunk(x.order, x.docsPerFile()) {
		var body, claims []byte
		some := false
		for _, place := range places {
			d := x.docs[place]
			body = appendDocument(body, d)
			claims = appendClaims(claims, d)
			some = some || len(d.Holds) > 0
		}
		if !some {
			claims = nil
		}
		files = append(files, [2][]byte{body, claims})
	}
	x.addPairs("d", "c", files)
}

// appendDocument appends kind, identifier, title, line about it, and address, which is empty where it
// follows from kind and identifier.
func appendDocument(b []byte, d *Document) []byte {
	b = binary.AppendUvarint(b, uint64(slices.Index(Kinds, d.Kind)+1))
	for _, s := range []string{d.ID, d.Title, d.About} {
		b = bits.AppendString(b, s)
	}
	address := d.Address
	if address == usualAddress(d.Kind, d.ID) {
		address = ""
	}
	return bits.AppendString(b, address)
}

// usualAddress is where a document of that kind and identifier stands as a rule.
func usualAddress(kind, id string) string {
	record, part, _ := strings.Cut(id, "/")
	switch kind {
	case KindEra:
		return "models/" + record + ".html#era-" + part
	case KindValue:
		return "features/" + record + ".html#value-" + part
	}
	return kind + "s/" + id + ".html"
}

// appendClaims appends the values that a document has, with their claims,
// conditions and years. An address that begins with the document's page is shortened to what follows.
func appendClaims(b []byte, d *Document) []byte {
	page, _, _ := strings.Cut(d.Address, "#")
	b = binary.AppendUvarint(b, uint64(len(d.Holds)))
	for i := range d.Holds {
		h := &d.Holds[i]
		b = binary.AppendUvarint(b, uint64(len(h.Feature)+1+len(h.Value)))
		b = append(append(append(b, h.Feature...), '='), h.Value...)
		b = bits.AppendString(b, strings.TrimPrefix(h.Claim, page))
		b = bits.AppendString(b, h.When)
		b = binary.AppendVarint(b, int64(h.First))
		b = binary.AppendVarint(b, int64(h.Last))
	}
	return b
}

// orderFiles writes the o files: document numbers in order of kind and address, each in
// as many bits as the greatest takes.
func (x *exporter) orderFiles() {
	width := mathbits.Len(uint(max(len(x.number)-1, 0)))
	for n := 0; n*docsPerOrder < len(x.number); n++ {
		var w bits.Writer
		for _, number := range x.number[n*docsPerOrder : min((n+1)*docsPerOrder, len(x.number))] {
			w.Bits(uint64(number), width)
		}
		x.add("o", n, w.Bytes())
	}
}
