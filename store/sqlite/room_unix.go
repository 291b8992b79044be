//go:build !windows

package sqlite

import "syscall"

// noRoom are the errors of the system for a disk, or a share of one, that is full.
var noRoom = []syscall.Errno{syscall.ENOSPC, syscall.EDQUOT}
