package search

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/blevesearch/bleve/v2/search"

	"yearmark/search/bits"
)

// File is one file of the published index.
type File struct {
	Name  string // below the folder of the index: "6b1f09c2a4d7/t12.bin"
	plain []byte
}

// Data gives the bytes of the file as they are served. Packing takes longer
// than reading the index out, so it is left until it is asked for.
func (f File) Data() []byte { return bits.Pack(f.plain) }

// How much is put into one file: little, since a visitor loads whole files,
// but not so little that the root's list of them outgrows it.
const (
	termShardSize = 4096 // bytes of postings, before a term that would go beyond begins a file of its own
	wordShardSize = 8192 // bytes of the word list, before it is deflated
	docsPerOrder  = 2048
)

// docsPerFile is how many documents stand in one file: of a small index more,
// so that the ten hits of a first page, which lie anywhere, are few requests.
func (x *exporter) docsPerFile() int {
	const few, many, small = 16, 256, 2048
	if len(x.docs) <= small {
		return many
	}
	return few
}

// formatVersion is the first byte of the root file. The module site/assets/js/search reads this version only.
const formatVersion = 3

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
func (ix *Index) Shards(ctx context.Context) ([]File, error) {
	x, err := ix.exporter()
	if err != nil {
		return nil, fmt.Errorf("reading the search index back out: %w", err)
	}
	terms, err := x.wordEntries(ctx)
	if err != nil {
		return nil, fmt.Errorf("reading the search index back out: %w", err)
	}
	entries := slices.Concat(x.filterEntries(), terms, x.heldEntries())
	slices.SortFunc(entries, func(a, b *entry) int { return strings.Compare(a.key, b.key) })
	starts := x.termFiles(entries)
	wordStarts := x.wordFiles()
	x.documentFiles()
	x.orderFiles()
	return named(append([]File{{"root.bin", x.root(starts, wordStarts)}}, x.files...)), nil
}

// named puts the files into a folder named by the hash of all they hold.
func named(files []File) []File {
	var list []byte
	for _, f := range files {
		sum := sha256.Sum256(f.plain)
		list = fmt.Appendf(list, "%s %x\n", f.Name, sum)
	}
	hash := sha256.Sum256(list)
	folder := hex.EncodeToString(hash[:])[:12]
	for i := range files {
		files[i].Name = folder + "/" + files[i].Name
	}
	return files
}

// add adds a file of a family.
func (x *exporter) add(family string, n int, data []byte) {
	x.files = append(x.files, File{family + strconv.Itoa(n) + ".bin", data})
}

// addPairs adds the files of a family and of another that goes with it, where
// that has something to hold.
func (x *exporter) addPairs(family, other string, pairs [][2][]byte) {
	for n, data := range pairs {
		x.add(family, n, data[0])
		if len(data[1]) > 0 {
			x.add(other, n, data[1])
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
	put(x.docsPerFile())
	put(docsPerOrder)
	for _, weight := range [...]float64{search.BM25_k1, search.BM25_b, headings[0].boost, headings[1].boost, exactBoost, heldBoost} {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(weight))
	}
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
		if n := x.ix.lengths[place]; len(runs) > 0 && runs[len(runs)-1].length == n {
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
