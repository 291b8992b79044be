// Command halves works redox equations by half-reactions.
//
// It reads the command line, files and standard input, hands what was asked to
// the engine, writes what comes back, and turns kinds of errors into exit
// statuses. All the chemistry, and how a solution is laid out, is in the
// packages below it.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"
)

// On Windows the library of commands would send away who starts the program by a
// double click: the desk is for just that.
func init() { cobra.MousetrapHelpText = "" }

func main() {
	// The first signal lets the program tidy up; the second ends it at once.
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)
	status := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(status)
}

// An app is one run of the command: where it reads and writes.
type app struct {
	stdin          io.Reader
	stdout, stderr io.Writer
}

// run runs the command with these arguments, the name of the program left out,
// and returns its exit status.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	a := &app{stdin: stdin, stdout: stdout, stderr: stderr}
	root := a.command()
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	_, err := root.ExecuteContextC(ctx)
	if err == nil {
		return statusWorked
	}
	showError(stderr, err)
	return statusOf(err)
}
