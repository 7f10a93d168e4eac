package pages_test

import (
	"regexp"
	"testing"
)

// TestLastingFilesAreNamedByWhatTheyHold: a browser is told to keep a file for
// ever only where its path holds a sum of what it holds, and of pages never.
func TestLastingFilesAreNamedByWhatTheyHold(t *testing.T) {
	site := demonstration(t)
	sum := regexp.MustCompile(`[-/][0-9a-f]{10,16}[./]`)
	lasting := 0
	for _, path := range site.Paths() {
		if !site.Lasting(path) {
			continue
		}
		lasting++
		if !sum.MatchString(path) {
			t.Errorf("%s may be kept for ever, and has no sum in its name", path)
		}
	}
	if lasting < 40 {
		t.Errorf("%d files may be kept for ever", lasting)
	}
}
