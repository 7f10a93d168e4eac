// Command write makes an invented reference in a folder, to try the tool on.
package main

import (
	"flag"
	"fmt"
	"os"

	"yearmark/testdata/made"
)

func main() {
	pages := flag.Int("pages", 1000, "how many records to make")
	seed := flag.Uint64("seed", 1, "another seed makes another reference")
	to := flag.String("to", "", "the folder to make it in")
	flag.Parse()
	if *to == "" {
		fmt.Fprintln(os.Stderr, "write: say where, with -to FOLDER")
		os.Exit(2)
	}
	if err := made.Write(*to, made.Options{Pages: *pages, Seed: *seed}); err != nil {
		fmt.Fprintln(os.Stderr, "write:", err)
		os.Exit(1)
	}
}
