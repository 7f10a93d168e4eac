package pages_test

import (
	"strings"
	"testing"
)

// TestAFaultOnRecordComesFirst holds the page of a bow with a recorded fault to
// its caution, above all else that is told of it, and to no offer of a set-up
// sheet; a sound bow has neither.
func TestAFaultOnRecordComesFirst(t *testing.T) {
	site := demonstration(t)
	for file, faulty := range map[string]bool{"examples/0005.html": true, "examples/0007.html": true, "examples/0009.html": true, "examples/0011.html": false} {
		page, err := site.Render(file)
		if err != nil {
			t.Fatal(err)
		}
		html := string(page)
		caution, dated := strings.Index(html, "Not to be strung"), strings.Index(html, "Dated from its features")
		if caution >= 0 != faulty || faulty && caution > dated {
			t.Errorf("%s: the caution stands at %d, the dating at %d", file, caution, dated)
		}
		if strings.Contains(html, "with its set-up sheet") == faulty {
			t.Errorf("%s offers its set-up sheet: %v", file, !faulty)
		}
	}
}
