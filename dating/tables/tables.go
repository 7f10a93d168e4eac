// Package tables writes what the browser needs to date a bow: the same table
// that package dating works on, run-length coded, in files that are fetched
// only when they are asked for.
//
//	manifest.json       {version, header, edition}: small, never cached
//	header-….json       models with their years and priors, features with their
//	                    questions and values, the names of the other files
//	features-….json     a list of features, those that tell most in the first file:
//	                    the chance of every outcome under every pair
//	numbers-….json      what is recorded of serial and model numbers, for looking one up
//	dependences-….json  which features are tied by conditions under which pairs, if any
//	claims-….json       the claims behind them, some models a file
//
// Every file but the manifest is named by its content, so it may be kept for
// ever. The same engine gives the same bytes. Figures are written so that
// reading them gives the same bits.
//
// A feature's file holds each different row once, as [rest, silent, from, to,
// chance, possible, from, …], and which row each pair has, as [row, count, …].
package tables

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"slices"
	"sync"

	"yearmark/dating"
	"yearmark/schema"
	"yearmark/schema/parallel"
)

// Version is the version of the files' format.
const Version = 1

// ManifestName is the one file that is not named by its content.
const ManifestName = "manifest.json"

// File is one file to publish; Name has no folder.
type File struct {
	Name string
	Data []byte
}

// Manifest says where to begin.
type Manifest struct {
	Version int    `json:"version"`
	Header  string `json:"header"`
	Numbers string `json:"numbers,omitempty"`
	// Edition is what a page must be of that asks for it: the manifest has the
	// same name in all editions. Empty where that is not checked.
	Edition string `json:"edition,omitempty"`
}

// File gives the manifest as the file to publish.
func (m Manifest) File() File { return File{ManifestName, encode(m)} }

// Build writes the engine's tables. The manifest is the last of the files, and
// given beside them as well. quotes gives what may be shown of a place cited and
// is called by several goroutines at once; nil where nothing is.
func Build(e *dating.Engine, quotes func(schema.Citation) []Quote) ([]File, Manifest) {
	b := &builder{engine: e, quotes: quotes}
	return b.build()
}

// builder gathers the files of one engine.
type builder struct {
	engine *dating.Engine
	quotes func(schema.Citation) []Quote
	files  []File
}

func (b *builder) build() ([]File, Manifest) {
	var header header
	var parts sync.WaitGroup
	parts.Go(func() { header = b.header() })
	shards := make([][]byte, len(b.engine.Features()))
	parallel.For(len(shards), func(i int) { shards[i] = encode(b.shard(i)) })
	claims := b.claims()
	parts.Wait()
	b.pack(header.Features, shards)
	header.Claims, header.Dependences = claims, b.dependences()
	m := Manifest{Version: Version, Header: b.add("header", header)}
	if n := b.numbers(); n != nil {
		m.Numbers = b.add("numbers", n)
	}
	b.files = append(b.files, m.File())
	return b.files, m
}

// packSize is how many bytes of features' tables a file holds, or one table
// that is larger: few requests for a small reference, little that is not
// needed from a large one.
const packSize = 24 << 10

// pack puts the features' tables into files, those with the greatest
// information gain first, and tells each feature its file.
func (b *builder) pack(features []feature, shards [][]byte) {
	order := make([]int, len(features))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(features[j].Bits, features[i].Bits) })
	for len(order) > 0 {
		n, size := 0, 0
		for n < len(order) && (n == 0 || size+len(shards[order[n]]) <= packSize) {
			size += len(shards[order[n]])
			n++
		}
		list := make([]json.RawMessage, n)
		for k, i := range order[:n] {
			list[k] = shards[i]
		}
		name := b.add("features", list)
		for _, i := range order[:n] {
			features[i].Shard = name
		}
		order = order[n:]
	}
}

// add encodes a file, names it by its content and gives the name.
func (b *builder) add(name string, v any) string {
	f := named(name, v)
	b.files = append(b.files, f)
	return f.Name
}

// named encodes a file and names it by its content.
func named(name string, v any) File {
	data := encode(v)
	sum := sha256.Sum256(data)
	return File{name + "-" + hex.EncodeToString(sum[:8]) + ".json", data}
}

// encode gives JSON. What is encoded here has no type or value that JSON lacks.
func encode(v any) []byte {
	data, err := json.Marshal(v)
	if err != nil {
		panic("dating/tables: a file cannot be encoded: " + err.Error())
	}
	return append(data, '\n')
}
