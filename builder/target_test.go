package builder

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestATargetAmongTheRecordsIsRefused reaches a folder of records by every
// spelling, and by links to it, above it and below it.
func TestATargetAmongTheRecordsIsRefused(t *testing.T) {
	top := t.TempDir()
	reference := filepath.Join(top, "register")
	err := errors.Join(
		os.MkdirAll(filepath.Join(reference, "models"), 0o755), os.MkdirAll(filepath.Join(reference, "site"), 0o755),
		os.Symlink(reference, filepath.Join(top, "same")), os.Symlink(filepath.Join(reference, "models"), filepath.Join(top, "in-models")),
		os.Symlink("models", filepath.Join(reference, "stock")), os.Symlink(filepath.Join(top, "elsewhere"), filepath.Join(top, "pictures")),
	)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(top)
	for _, to := range []string{
		"register", "register/models", "register/models/site", "register/./models/../models/a/b", "register/../register/pictures/x", "same", "same/models",
		"same/site/../models/x", "in-models", "in-models/site", "register/stock/site", "register/Models/site", "register/PICTURES", "register/inbox",
		"register/.yearmark/site", "register/editions", "register/.git/x", filepath.Join(top, "same", "examples", "new", "site"),
	} {
		if err := amongRecords("register", to); err == nil || !strings.Contains(err.Error(), "name a folder outside") {
			t.Errorf("%s: %v", to, err)
		}
		if err := amongRecords("same", to); err == nil {
			t.Errorf("%s, of the reference by its link: no error", to)
		}
	}
	for _, to := range []string{"site", "register/site", "register/public/models", "same/site", "pictures/site", "registers/models", "."} {
		if err := amongRecords("register", to); err != nil {
			t.Errorf("%s: %v", to, err)
		}
	}
}
