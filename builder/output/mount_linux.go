package output

import "golang.org/x/sys/unix"

// mountPoint says whether a folder is one, also where the same disk is mounted
// once more.
func mountPoint(folder string) bool {
	var s unix.Statx_t
	if err := unix.Statx(unix.AT_FDCWD, folder, unix.AT_SYMLINK_NOFOLLOW, unix.STATX_BASIC_STATS, &s); err != nil {
		return false
	}
	return s.Attributes_mask&unix.STATX_ATTR_MOUNT_ROOT != 0 && s.Attributes&unix.STATX_ATTR_MOUNT_ROOT != 0
}
