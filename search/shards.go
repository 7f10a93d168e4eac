package search

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"strconv"

	"yearmark/schema/parallel"
	"yearmark/search/bits"
)

// File is one file of the published index.
type File struct {
	Name string // below the folder of the index: "6b1f09c2a4d7/t12.bin"
	Data []byte
}

// How much is put into one file: little, since a visitor loads whole files,
// but not so little that the root's list of them outgrows it.
const (
	termShardSize = 4096 // bytes of postings, before a term that would go beyond begins a file of its own
	wordShardSize = 8192 // bytes of the word list, before it is deflated
	docsPerShard  = 16
	docsPerOrder  = 2048
)

// formatVersion is the first byte of the root file. The module site/assets/js/search reads this version only.
const formatVersion = 1

// Shards reads the finished index back out as the files from which the page
// answers. The first is the root, which names none of the others: they stand
// beside it, in a folder named by the hash of all they hold.
//
// Documents are numbered by the length of their text, then by kind and address. Their
// lengths, which every score needs, then take a few hundred bytes in all.
//
//	root.bin  how many documents and tokens, lengths, years, and where each t and w file begins
//	tN.bin    terms with their postings, and what filters need: see postings.go and filters.go
//	pN.bin    the places of the terms of tN.bin, for phrases
//	wN.bin    words for suggestions, beginnings and misspellings
//	dN.bin    titles and addresses of documents
//	cN.bin    the claims behind the feature values of documents
//	oN.bin    documents in order of kind and address
func (ix *Index) Shards() ([]File, error) {
	x, err := ix.exporter()
	if err != nil {
		return nil, fmt.Errorf("reading the search index back out: %w", err)
	}
	words, err := x.wordEntries()
	if err != nil {
		return nil, fmt.Errorf("reading the search index back out: %w", err)
	}
	return x.write(x.filterEntries(x.filterLists()), words, &shelves{}).packed(), nil
}

// Shards are the files of a search before they are packed, which takes longer
// than to write them.
type Shards struct {
	names []string
	plain map[string][]byte
}

// Names gives the names of the files, the root's first.
func (s *Shards) Names() []string { return s.names }

// Pack gives the bytes of one of the files as they are served.
func (s *Shards) Pack(name string) []byte { return bits.Pack(s.plain[name]) }

// packed gives all files.
func (s *Shards) packed() []File {
	files := make([]File, len(s.names))
	parallel.For(len(files), func(i int) { files[i] = File{s.names[i], s.Pack(s.names[i])} })
	return files
}

// write makes the files from the entries of all filters and terms. What
// documents' files have in common with those on the shelves is taken from there.
func (x *exporter) write(filters, terms []*entry, kept *shelves) *Shards {
	starts := x.termFiles(append(filters, terms...))
	wordStarts := x.wordFiles()
	x.documentFiles(kept)
	x.orderFiles()
	return named(append([]part{partOf("root.bin", x.root(starts, wordStarts))}, x.files...))
}

// part is one of the files, before it is known which folder they go into.
type part struct {
	name string
	data []byte
	sum  [sha256.Size]byte
}

func partOf(name string, data []byte) part { return part{name, data, sha256.Sum256(data)} }

// pair is a file and another that goes with it, which is empty where it has
// nothing to hold. They have no names yet.
type pair [2]part

func pairOf(data, other []byte) pair { return pair{partOf("", data), partOf("", other)} }

// named puts the files into a folder named by the hash of all they hold.
func named(files []part) *Shards {
	var list []byte
	for i := range files {
		list = append(append(list, files[i].name...), ' ')
		list = append(hex.AppendEncode(list, files[i].sum[:]), '\n')
	}
	hash := sha256.Sum256(list)
	folder := hex.EncodeToString(hash[:])[:12]
	s := &Shards{names: make([]string, len(files)), plain: make(map[string][]byte, len(files))}
	for i, f := range files {
		s.names[i] = folder + "/" + f.name
		s.plain[s.names[i]] = f.data
	}
	return s
}

// add adds a file of a family.
func (x *exporter) add(family string, n int, p part) {
	p.name = family + strconv.Itoa(n) + ".bin"
	x.files = append(x.files, p)
}

// addPairs adds the files of a family and of another that goes with it, where
// that has something to hold.
func (x *exporter) addPairs(family, other string, pairs []pair) {
	for n := range pairs {
		x.add(family, n, pairs[n][0])
		if len(pairs[n][1].data) > 0 {
			x.add(other, n, pairs[n][1])
		}
	}
}

// root is what the page must know before anything else.
func (x *exporter) root(terms, words []string) []byte {
	b := []byte{formatVersion}
	put := func(v int) { b = binary.AppendUvarint(b, uint64(v)) }
	put(len(x.order))
	put(x.tokens)
	for _, n := range x.headTokens {
		put(n)
	}
	put(docsPerShard)
	put(docsPerOrder)
	b = x.appendLengths(b)
	b = appendYears(b, x.firsts)
	b = appendYears(b, x.lasts)
	b = appendStarts(b, terms)
	return appendStarts(b, words)
}

// appendLengths appends how many documents there are of each length, shortest first.
func (x *exporter) appendLengths(b []byte) []byte {
	type run struct{ length, count int }
	var runs []run
	for _, place := range x.order {
		if n := x.lengths[place]; len(runs) > 0 && runs[len(runs)-1].length == n {
			runs[len(runs)-1].count++
		} else {
			runs = append(runs, run{n, 1})
		}
	}
	b = binary.AppendUvarint(b, uint64(len(runs)))
	before := 0
	for _, r := range runs {
		b = binary.AppendUvarint(b, uint64(r.length-before))
		b = binary.AppendUvarint(b, uint64(r.count))
		before = r.length
	}
	return b
}

// appendYears appends ascending years.
func appendYears(b []byte, years []int) []byte {
	b = binary.AppendUvarint(b, uint64(len(years)))
	before := 0
	for _, y := range years {
		b = binary.AppendVarint(b, int64(y-before))
		before = y
	}
	return b
}

// appendStarts appends the first term of each file of a family.
func appendStarts(b []byte, starts []string) []byte {
	b = binary.AppendUvarint(b, uint64(len(starts)))
	before := ""
	for _, s := range starts {
		b = bits.AppendFront(b, before, s)
		before = s
	}
	return b
}
