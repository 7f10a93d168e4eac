//go:build !unix

package output

import (
	"errors"
	"io/fs"
	"syscall"
)

// This system does not tell what these ask by numbers of users and disks.

func owners(fs.FileInfo) (owner, me string)  { return "", "" }
func mayEmpty(string, fs.FileInfo) bool      { return true }
func keepOwner(string, fs.FileInfo)          {}
func isMounted(site, thing fs.FileInfo) bool { return false }
func isAcross(error) bool                    { return false }
func isNoFolder(err error) bool              { return errors.Is(err, syscall.ENOTDIR) }
