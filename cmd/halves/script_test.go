package main

import (
	"errors"
	"os"
	"os/exec"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"halves": main})
}

// TestScripts runs the files of testdata/script: what is typed, what comes out.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		// To take the new output for wanted, after reading it.
		UpdateScripts: os.Getenv("HALVES_UPDATE_SCRIPTS") != "",
		Cmds:          map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

// exits runs a program and checks its exit status itself, since "! exec" would
// accept a crash too:
//
//	exits 2 halves work 'Cu ->'
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits STATUS PROGRAM ARGUMENTS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var exit *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &exit) {
		got = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}
