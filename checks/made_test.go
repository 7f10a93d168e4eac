package checks

import (
	"testing"

	"yearmark/checks/testdata/made"
)

func TestTheMadeReferenceIsClean(t *testing.T) {
	for seed := range uint64(3) {
		report, _ := reportOn(t, made.New(40, seed).FS())
		for _, f := range report.Findings {
			t.Errorf("seed %d: %s", seed, told(f))
		}
	}
}
