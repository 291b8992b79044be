package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"

	"github.com/gofrs/flock"
	"github.com/spf13/cobra"

	"halves/energetics"
	"halves/question"
	"halves/web"
)

// Names within the data folder.
const (
	dataFile    = "halves.db"
	lockFile    = "desk.lock"
	addressFile = "desk.address"
)

// defaultAddress is asked for first; where it is taken any free port is.
const defaultAddress = "127.0.0.1:4680"

type deskOptions struct {
	data, listen, tables string
	open                 bool
	gallery              bool
}

func (a *app) serveCommand() *cobra.Command {
	o := &deskOptions{}
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "Serve the desk, the app in the browser, without opening one",
		Long: `Serve the desk: the instructor's app in the browser. halves without arguments does
the same and opens the browser.

The desk answers on this machine alone, unless --listen names another address; it
has no passwords, so name one only where everyone who reaches it may use it. What it
keeps stands in one folder: halves in your data folder, or that of --data.

` + statuses("ended", ""),
		Example: `  halves serve
  halves serve --data ~/courses/spring --listen 127.0.0.1:9000`,
		GroupID: groupMore,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return &usageError{msg: "serve takes no arguments", hint: "halves serve --data FOLDER"}
			}
			return a.desk(cmd.Context(), o)
		},
	}
	o.addFlags(cmd)
	cmd.Flags().BoolVar(&o.gallery, "gallery", false, "for development: add the page that shows each state of each page, /gallery")
	return cmd
}

func (o *deskOptions) addFlags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.data, "data", "", "keep what the desk holds in `FOLDER` (default: halves in your data folder)")
	f.StringVar(&o.listen, "listen", "", "answer at `ADDRESS`, host and port (default: "+defaultAddress+", or a free port)")
	addTablesFlag(cmd, &o.tables)
}

// desk serves until it is told to end, by a signal or by ctx.
func (a *app) desk(ctx context.Context, o *deskOptions) error {
	folder, err := dataFolder(o.data)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return &fileError{folder, err}
	}
	lock := flock.New(filepath.Join(folder, lockFile))
	held, err := lock.TryLock()
	if err != nil {
		return &fileError{folder, err}
	}
	if !held {
		return a.alreadyRunning(folder, o.open)
	}
	defer lock.Unlock() //nolint:errcheck // the program ends
	tables, err := a.tables(o.tables)
	if err != nil {
		return err
	}
	path := filepath.Join(folder, dataFile)
	_, missing := os.Stat(path)
	store, err := openStore(path)
	if err != nil {
		return &fileError{path, err}
	}
	defer store.Close()
	if errors.Is(missing, fs.ErrNotExist) {
		if err := web.SeedDemo(ctx, store, question.NewPool(tables), time.Now()); err != nil {
			return &fileError{path, err}
		}
	}
	listener, err := listen(o.listen)
	if err != nil {
		return &fileError{o.listen, err}
	}
	return a.serve(ctx, o, folder, store, tables, listener)
}

func (a *app) serve(ctx context.Context, o *deskOptions, folder string, store *openedStore, tables energetics.Tables, listener net.Listener) error {
	log := slog.New(slog.NewTextHandler(a.stderr, nil))
	hosts := hostsOf(o.listen)
	server, err := web.New(web.Options{
		Store: store, Tables: tables, Log: log, Hosts: hosts, Data: folder, Gallery: o.gallery, Restore: store.restore,
	})
	if err != nil {
		listener.Close()
		return err
	}
	address := "http://" + listener.Addr().String() + "/"
	note := filepath.Join(folder, addressFile)
	if err := writeFile(note, func(w io.Writer) error { return json.NewEncoder(w).Encode(address) }); err != nil {
		listener.Close()
		return err
	}
	defer os.Remove(note)
	fmt.Fprintf(a.stdout, "The desk is at %s\nIt keeps its data in %s\nEnd it with Ctrl-C.\n", address, folder)
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	h := &http.Server{Handler: server.Handler(), ReadHeaderTimeout: 10 * time.Second, IdleTimeout: 2 * time.Minute, ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelWarn)}
	ended := make(chan error, 1)
	go func() { ended <- h.Serve(listener) }()
	if o.open {
		openBrowser(address)
	}
	select {
	case err := <-ended:
		return &fileError{address, err}
	case <-ctx.Done():
	}
	// What is being written is finished; who only waits is cut off.
	ending, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
	defer cancel()
	if err := h.Shutdown(ending); err != nil {
		h.Close()
	}
	fmt.Fprintln(a.stdout, "The desk has ended; everything is kept.")
	return nil
}

// alreadyRunning says where the desk of a folder is, and opens it.
func (a *app) alreadyRunning(folder string, open bool) error {
	var address string
	text, err := os.ReadFile(filepath.Join(folder, addressFile))
	if err == nil {
		err = json.Unmarshal(text, &address)
	}
	if err != nil {
		return &usageError{msg: "another program holds " + folder, hint: "end the other desk, or give this one a folder of its own with --data"}
	}
	fmt.Fprintf(a.stdout, "The desk is running already, at %s\n", address)
	if open {
		openBrowser(address)
	}
	return nil
}

// dataFolder is where the desk keeps its data: the folder that was named, else
// halves in the folder where the system keeps the data of programs.
func dataFolder(named string) (string, error) {
	if named != "" {
		return filepath.Abs(named)
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", &usageError{msg: "the system names no home folder", hint: "name one: --data FOLDER"}
	}
	switch runtime.GOOS {
	case "windows":
		if local := os.Getenv("LOCALAPPDATA"); local != "" {
			return filepath.Join(local, "Halves"), nil
		}
	case "darwin":
		return filepath.Join(home, "Library", "Application Support", "Halves"), nil
	}
	// XDG Base Directory Specification 0.8.
	if data := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(data) {
		return filepath.Join(data, "halves"), nil
	}
	return filepath.Join(home, ".local", "share", "halves"), nil
}

// listen opens the address that was asked for, else the usual one, else any that
// is free.
func listen(address string) (net.Listener, error) {
	if address != "" {
		return net.Listen("tcp", address)
	}
	l, err := net.Listen("tcp", defaultAddress)
	if err != nil {
		l, err = net.Listen("tcp", "127.0.0.1:0")
	}
	return l, err
}

// hostsOf are the names by which a desk at an address may be asked: nil for those
// of loopback.
func hostsOf(address string) []string {
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		return nil
	}
	if ip := net.ParseIP(host); host == "localhost" || ip != nil && ip.IsLoopback() {
		return nil
	}
	hosts := []string{"localhost", "127.0.0.1", "::1", "[::1]"}
	if host != "" && host != "0.0.0.0" && host != "::" {
		return append(hosts, strings.ToLower(host))
	}
	if name, err := os.Hostname(); err == nil {
		hosts = append(hosts, strings.ToLower(name))
	}
	addresses, _ := net.InterfaceAddrs()
	for _, a := range addresses {
		if n, ok := a.(*net.IPNet); ok {
			hosts = append(hosts, n.IP.String())
		}
	}
	return hosts
}

// openBrowser opens the browser of the system, if there is one; the address stands
// on the screen too.
func openBrowser(address string) {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	cmd := exec.Command(name, args...)
	if cmd.Start() == nil {
		go cmd.Wait() //nolint:errcheck // the browser lives on by itself
	}
}
