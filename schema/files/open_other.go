//go:build !unix

package files

// withoutWaiting is nothing where folders hold no pipes.
const withoutWaiting = 0
