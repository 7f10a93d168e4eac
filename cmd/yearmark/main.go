// Command yearmark keeps a reference of dated claims: it checks the records,
// publishes them as a site, and dates a bow by them.
package main

import (
	"os"
)

func main() {
	os.Exit(run(os.Args[1:], stdio{in: os.Stdin, out: os.Stdout, err: os.Stderr}))
}
