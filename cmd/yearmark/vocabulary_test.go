package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"yearmark/testdata/need"
)

// privateWords are words that this code once used in senses of its own, where
// the field has a term that an engineer would search for. Declared names may
// not hold them as a word: camelCase is split before the match.
var privateWords = regexp.MustCompile(`\b(party|parties|teller|told|court|hearing|heard|spoken|apart|leaned|rests|essay|essays|quarrel|quarrels|tracks|judge|judges|judged|shelf|shelves|shelve|gist|news|room|rooms|succession|voice|voices)\b`)

// tradeWords are names that keep such a word, as it is the trade's own there.
var tradeWords = map[string]bool{"voiceTag": true, "Heard": true} // WebVTT's <v>, the voice span; the key heard of a mishearing

func TestDeclaredNamesAreTheFieldsTerms(t *testing.T) {
	root, words := need.Root(t), regexp.MustCompile(`[A-Z]?[a-z]+|[A-Z]+`)
	seen := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			if d != nil && (d.Name() == "node_modules" || d.Name() == ".git" || d.Name() == "fetched") {
				return filepath.SkipDir
			}
			return err
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasSuffix(path, "_templ.go") {
			return nil
		}
		files := token.NewFileSet()
		file, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, name := range declared(file) {
			seen++
			parts := strings.ToLower(strings.Join(words.FindAllString(name.Name, -1), " "))
			if bad := privateWords.FindString(parts); bad != "" && !tradeWords[name.Name] {
				t.Errorf("%s: %s is named with %q: use the term that an engineer would search for", files.Position(name.Pos()), name.Name, bad)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 5000 {
		t.Fatalf("only %d declared names were looked at", seen)
	}
}

// declared gives the names that a file declares: of types, functions, fields,
// parameters, constants and variables.
func declared(file *ast.File) []*ast.Ident {
	var names []*ast.Ident
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncDecl:
			names = append(names, n.Name)
		case *ast.TypeSpec:
			names = append(names, n.Name)
		case *ast.ValueSpec:
			names = append(names, n.Names...)
		case *ast.Field:
			names = append(names, n.Names...)
		case *ast.AssignStmt:
			if n.Tok != token.DEFINE {
				break
			}
			for _, left := range n.Lhs {
				if name, ok := left.(*ast.Ident); ok {
					names = append(names, name)
				}
			}
		}
		return true
	})
	return names
}
