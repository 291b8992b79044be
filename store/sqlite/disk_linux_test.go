package sqlite_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"halves/course"
	"halves/store/sqlite"
)

// TestFullDisk runs TestFullDiskInside in a process that has a small disk of its
// own, in memory. It is skipped where the system does not let it: what it needs
// cannot be installed.
func TestFullDisk(t *testing.T) {
	folder := t.TempDir()
	cmd := child(t, "", "")
	cmd.Args = append(cmd.Args, "-test.run=^TestFullDiskInside$", "-test.v")
	cmd.Env = append(cmd.Env, "HALVES_STORE_DISK="+folder)
	cmd.Stderr = nil
	cmd.SysProcAttr = &syscall.SysProcAttr{
		Cloneflags:  syscall.CLONE_NEWUSER | syscall.CLONE_NEWNS,
		UidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}},
		GidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}},
	}
	out, err := cmd.CombinedOutput()
	if errors.Is(err, syscall.EPERM) || errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOSPC) {
		t.Skipf("no process may have a disk of its own here: %v", err)
	}
	if err != nil {
		t.Errorf("%v\n%s", err, out)
	} else if !strings.Contains(string(out), "--- PASS: TestFullDiskInside") {
		t.Skipf("no process may have a disk of its own here:\n%s", out)
	}
}

func TestFullDiskInside(t *testing.T) {
	folder := os.Getenv("HALVES_STORE_DISK")
	if folder == "" {
		t.Skip("TestFullDisk runs it")
	}
	if err := syscall.Mount("none", folder, "tmpfs", 0, "size=400k"); err != nil {
		t.Skipf("no disk of its own: %v", err)
	}
	ctx := t.Context()
	path := filepath.Join(folder, "course.db")
	s := open(t, path)
	fill(t, s)
	outside := filepath.Join(t.TempDir(), "backup")
	if err := s.Backup(ctx, outside); err != nil {
		t.Fatal(err)
	}
	saved := untilFull(t, s)
	backup := filepath.Join(folder, "backup")
	if err := s.Backup(ctx, backup); !errors.Is(err, course.ErrFull) {
		t.Errorf("Backup on a full disk = %v, want course.ErrFull", err)
	}
	if got, want := names(t, folder), "course.db course.db-shm course.db-wal"; got != want {
		t.Errorf("on the full disk are %s, want %s", got, want)
	}
	hasAll(t, s, saved)
	if err := s.Close(); err != nil { // the log stays: there is no room to fold it in
		t.Error(err)
	}
	if err := sqlite.Restore(outside, path); !errors.Is(err, course.ErrFull) {
		t.Errorf("Restore on a full disk = %v, want course.ErrFull", err)
	}

	// With more room all is there.
	if err := syscall.Mount("none", folder, "tmpfs", syscall.MS_REMOUNT, "size=800k"); err != nil {
		t.Fatal(err)
	}
	s = open(t, path)
	hasAll(t, s, saved)
	if err := s.Close(); err != nil {
		t.Error(err)
	}
	if got := names(t, folder); got != "course.db" {
		t.Errorf("after closing there are %s, want course.db alone", got)
	}

	// A store that cannot be opened for want of room stays as it is.
	filler := filepath.Join(folder, "filler")
	if err := os.WriteFile(filler, make([]byte, 1<<20), 0o600); !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("the disk has room for a megabyte: %v", err)
	}
	if _, err := sqlite.Open(path); !errors.Is(err, course.ErrFull) {
		t.Errorf("Open on a full disk = %v, want course.ErrFull", err)
	}
	if err := sqlite.Restore(outside, path); !errors.Is(err, course.ErrFull) {
		t.Errorf("Restore on a full disk = %v, want course.ErrFull", err)
	}
	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	hasAll(t, open(t, path), saved)
}
