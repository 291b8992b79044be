package sqlite

import "syscall"

// noRoom are the errors of the system for a disk, or a share of one, that is
// full: ERROR_HANDLE_DISK_FULL, ERROR_DISK_FULL, ERROR_DISK_QUOTA_EXCEEDED
// (Microsoft, "System Error Codes").
var noRoom = []syscall.Errno{39, 112, 1295}
