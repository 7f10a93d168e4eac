package tables_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"strings"
	"testing"

	"yearmark/dating/tables"
	"yearmark/dating/testdata/made"
)

// TestFiles: two engines of the same records give the same bytes; every file
// but the manifest is named by its content, and everything named is there.
func TestFiles(t *testing.T) {
	files, manifest := tables.Build(made.Engine(t, 40), nil)
	again, _ := tables.Build(made.Engine(t, 40), nil)
	byName := map[string][]byte{}
	for i, f := range files {
		if f.Name != again[i].Name || !bytes.Equal(f.Data, again[i].Data) {
			t.Errorf("%s differs from build to build", f.Name)
		}
		byName[f.Name] = f.Data
		sum := sha256.Sum256(f.Data)
		if f.Name != tables.ManifestName && !strings.Contains(f.Name, hex.EncodeToString(sum[:8])) {
			t.Errorf("%s is not named by its content", f.Name)
		}
		if strings.ContainsAny(f.Name, "/\\") {
			t.Errorf("%s has a folder", f.Name)
		}
	}
	if files[len(files)-1].Name != tables.ManifestName || len(files[len(files)-1].Data) > 100 {
		t.Errorf("the manifest is not last or not small: %s", files[len(files)-1].Data)
	}
	var header struct {
		Models   []struct{ ID, Name, Address string }
		Features []struct{ ID, Shard string }
		Claims   []struct {
			File   string
			Models int
		}
	}
	if err := json.Unmarshal(byName[manifest.Header], &header); err != nil {
		t.Fatal(err)
	}
	recorded := 0
	for _, m := range header.Models {
		if m.ID != "" {
			recorded++
		}
	}
	if recorded != 40 || len(header.Features) != len(made.Features) || header.Models[3].Address != "models/model-0003.html" {
		t.Errorf("%d models, %d features, %+v", len(header.Models), len(header.Features), header.Models[3])
	}
	for _, f := range header.Features {
		if byName[f.Shard] == nil {
			t.Errorf("the table of %s is not there", f.ID)
		}
	}
	models := 0
	for _, c := range header.Claims {
		models += c.Models
		if byName[c.File] == nil {
			t.Errorf("%s is not there", c.File)
		}
	}
	if models != len(header.Models) || len(header.Claims) < 2 {
		t.Errorf("%d files of claims hold %d models", len(header.Claims), models)
	}
}
