// Package tables writes what the browser needs to date a bow: the same table
// that package dating works on, run-length coded, in files that are fetched
// only when they are asked for.
//
//	manifest.json       {version, header}: small, never cached
//	header-….json       models with their years and priors, features with their
//	                    questions and values, the names of the other files
//	FEATURE-….json      one a feature: the chance of every outcome under every pair
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
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"sync"

	"yearmark/dating"
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
}

// Build writes the engine's tables. The manifest is the last of the files, and
// given apart as well.
func Build(e *dating.Engine) ([]File, Manifest) {
	return (&Succession{Once: true}).Build(e)
}

// Succession writes the tables of one engine after another: those that Build
// writes, at less cost where the engines have much in common. The zero
// Succession is ready. It is safe for concurrent use, and may be asked for
// engines in any order.
type Succession struct {
	// Once says that no other engine will follow: nothing is kept.
	Once bool

	mu   sync.Mutex
	last *builder
}

// Build writes an engine's tables as the function of that name does.
func (s *Succession) Build(e *dating.Engine) ([]File, Manifest) {
	s.mu.Lock()
	defer s.mu.Unlock()
	b := &builder{engine: e, before: s.last, once: s.Once}
	files, m := b.build()
	if b.before = nil; !s.Once {
		s.last = b
	}
	return files, m
}

// builder gathers the files of one engine.
type builder struct {
	engine *dating.Engine
	before *builder // of another engine, whose files may be taken over; nil where there is none
	once   bool     // no other engine will follow: nothing is kept
	files  []File

	shards []File       // of each feature
	models []*keptModel // as in the engine's table
	filed  []keptClaims // by the first of their models
}

func (b *builder) build() ([]File, Manifest) {
	var header header
	var parts sync.WaitGroup
	parts.Go(func() { header = b.header() })
	b.shards = make([]File, len(b.engine.Features()))
	parallel.For(len(b.shards), func(i int) { b.shards[i] = b.shardFile(i) })
	b.files = append(b.files, b.shards...)
	claims := b.claims()
	parts.Wait()
	for i := range b.shards {
		header.Features[i].Shard = b.shards[i].Name
	}
	header.Claims = claims
	m := Manifest{Version: Version, Header: b.add("header", header)}
	b.files = append(b.files, File{ManifestName, encode(m)})
	return b.files, m
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
