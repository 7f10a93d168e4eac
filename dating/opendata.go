package dating

import (
	_ "embed"
	"encoding/json"
)

// OpenTrial is how the default teaching did on one set of open data that is not
// kept here: on rows held back, in bits of surprise a row. TestOpenData works
// it out anew.
type OpenTrial struct {
	Set     string             `json:"set"`
	Source  string             `json:"source"`
	Trained int                `json:"trained"` // rows with their year
	Held    int                `json:"held"`    // rows dated
	Temper  float64            `json:"temper"`  // best on the trained rows
	Bits    float64            `json:"bits"`
	Rivals  map[string]float64 `json:"rivals"`
	// Sets is how often the sets of 50, 90 and 95 % held the year, and how often
	// the odds expected it.
	Sets map[string][2]float64 `json:"sets"`
}

//go:embed opendata.json
var opendata []byte

// OpenData gives the evidence for the default teaching.
func OpenData() []OpenTrial {
	var list []OpenTrial
	if err := json.Unmarshal(opendata, &list); err != nil {
		panic(err) // a test reads it
	}
	return list
}
