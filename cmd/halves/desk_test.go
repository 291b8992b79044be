package main

import (
	"bufio"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/spf13/cobra"
)

// A process is a desk that runs as a program of its own.
type process struct {
	cmd     *exec.Cmd
	address string
	out     *bufio.Reader
	ended   chan error
}

// program links the test binary under the name of the command.
func program(t *testing.T) string {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "halves")
	if runtime.GOOS == "windows" {
		t.Skip("needs links and signals")
	}
	if err := os.Symlink(self, name); err != nil {
		t.Fatal(err)
	}
	return name
}

// start runs the desk with its data in a folder, and waits until it answers.
func start(t *testing.T, program, data string) *process {
	t.Helper()
	cmd := exec.Command(program, "serve", "--data", data, "--listen", "127.0.0.1:0")
	cmd.Stderr = os.Stderr
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	p := &process{cmd: cmd, out: bufio.NewReader(pipe), ended: make(chan error, 1)}
	line, err := p.out.ReadString('\n')
	if err != nil {
		t.Fatalf("the desk says %q: %v", line, err)
	}
	m := regexp.MustCompile(`http://\S+/`).FindString(line)
	if m == "" {
		t.Fatalf("no address in %q", line)
	}
	p.address = m
	t.Cleanup(func() { p.kill() })
	return p
}

func (p *process) kill() {
	if p.cmd.ProcessState == nil {
		_ = p.cmd.Process.Kill()
		_ = p.cmd.Wait()
	}
}

// stop asks the desk to end, and waits.
func (p *process) stop(t *testing.T) string {
	t.Helper()
	if err := p.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	rest, _ := io.ReadAll(p.out)
	if err := p.cmd.Wait(); err != nil {
		t.Errorf("the desk ended with %v", err)
	}
	return string(rest)
}

func (p *process) get(t *testing.T, path string) string {
	t.Helper()
	r, err := http.Get(p.address + strings.TrimPrefix(path, "/"))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	b, err := io.ReadAll(r.Body)
	if err != nil || r.StatusCode != http.StatusOK {
		t.Fatalf("%s: status %d, %v", path, r.StatusCode, err)
	}
	return string(b)
}

// TestDoubleClick: the program that is started by a double click opens the desk, on
// Windows too.
func TestDoubleClick(t *testing.T) {
	if cobra.MousetrapHelpText != "" {
		t.Error("a double click on Windows shows a notice and ends")
	}
}

// TestDesk: a first start has the demo course, a second says where the desk is, an
// end is clean, and what was kept is there after a restart.
func TestDesk(t *testing.T) {
	halves, data := program(t), filepath.Join(t.TempDir(), "data")
	p := start(t, halves, data)
	if page := p.get(t, "/sets"); !strings.Contains(page, "Week 3") {
		t.Error("the demo course is not there")
	}
	second, err := exec.Command(halves, "serve", "--data", data).CombinedOutput()
	if err != nil || !strings.Contains(string(second), "running already, at "+p.address) {
		t.Errorf("a second desk: %v, %s", err, second)
	}
	r, err := http.PostForm(p.address+"questions", url.Values{"text": {"Zn + Cu^2+ -> Zn^2+ + Cu"}, "medium": {"neutral"}})
	if err != nil || r.StatusCode >= 400 {
		t.Fatalf("keeping a question: %v, %v", r, err)
	}
	r.Body.Close()
	if said := p.stop(t); !strings.Contains(said, "everything is kept") {
		t.Errorf("at the end it says %q", said)
	}
	p = start(t, halves, data)
	if list := p.get(t, "/api/v1/questions"); !strings.Contains(list, "Zn + Cu^2+ -") {
		t.Error("the question is gone")
	}
	p.stop(t)
}

// TestKilled: what was acknowledged is there after a kill in the middle of 200
// rounds of saving.
func TestKilled(t *testing.T) {
	halves, data := program(t), filepath.Join(t.TempDir(), "data")
	kept := map[string]bool{}
	round := 0
	for round < 200 {
		p := start(t, halves, data)
		stop := make(chan struct{})
		go func(after time.Duration) {
			time.Sleep(after)
			_ = p.cmd.Process.Kill()
			close(stop)
		}(time.Duration(15+11*(round%5)) * time.Millisecond)
		client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
		for ; round < 200; round++ {
			note := fmt.Sprintf("Cu + %d Ag^+ -> Cu^2+ + Ag", round+1)
			r, err := client.PostForm(p.address+"questions", url.Values{"text": {note}, "medium": {"neutral"}})
			if err != nil {
				break // killed: this one was not acknowledged
			}
			r.Body.Close()
			if r.StatusCode != http.StatusSeeOther {
				t.Fatalf("round %d: status %d", round, r.StatusCode)
			}
			kept[note] = true
		}
		<-stop
		_ = p.cmd.Wait()
		round++
	}
	p := start(t, halves, data)
	all := p.get(t, "/api/v1/questions")
	for note := range kept {
		if !strings.Contains(all, strings.ReplaceAll(note, ">", `\u003e`)) && !strings.Contains(all, note) {
			t.Errorf("%s was acknowledged and is gone", note)
		}
	}
	t.Logf("%d of 200 rounds were acknowledged", len(kept))
	if len(kept) < 50 {
		t.Errorf("only %d rounds were acknowledged", len(kept))
	}
	p.stop(t)
}

// BenchmarkSecondStart starts a desk whose data are there, until its first page.
func BenchmarkSecondStart(b *testing.B) {
	self, err := os.Executable()
	if err != nil {
		b.Fatal(err)
	}
	halves := filepath.Join(b.TempDir(), "halves")
	if err := os.Symlink(self, halves); err != nil {
		b.Fatal(err)
	}
	data := filepath.Join(b.TempDir(), "data")
	once := func() {
		cmd := exec.Command(halves, "serve", "--data", data, "--listen", "127.0.0.1:0")
		pipe, err := cmd.StdoutPipe()
		if err != nil {
			b.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			b.Fatal(err)
		}
		line, err := bufio.NewReader(pipe).ReadString('\n')
		if err != nil {
			b.Fatal(err)
		}
		r, err := http.Get(strings.TrimSpace(strings.TrimPrefix(line, "The desk is at ")))
		if err != nil {
			b.Fatal(err)
		}
		_, _ = io.Copy(io.Discard, r.Body)
		r.Body.Close()
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	}
	once()
	for b.Loop() {
		once()
	}
}

// TestBackupAndRestore takes a backup of a desk that runs, changes something, and
// puts the backup back; a wrong file leaves everything as it is.
func TestBackupAndRestore(t *testing.T) {
	halves, data := program(t), filepath.Join(t.TempDir(), "data")
	p := start(t, halves, data)
	r, err := http.PostForm(p.address+"settings/backup", nil)
	if err != nil {
		t.Fatal(err)
	}
	backup, err := io.ReadAll(r.Body)
	r.Body.Close()
	if err != nil || r.StatusCode != http.StatusOK || !strings.HasPrefix(string(backup), "SQLite format 3") || !strings.Contains(r.Header.Get("Content-Disposition"), ".backup") {
		t.Fatalf("a backup: status %d, %v, begins %.20q", r.StatusCode, err, backup)
	}
	before := p.get(t, "/api/v1/questions")
	r, err = http.PostForm(p.address+"questions", url.Values{"text": {"Zn + Cu^2+ -> Zn^2+ + Cu"}, "medium": {"neutral"}})
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	changed := p.get(t, "/api/v1/questions")
	if changed == before {
		t.Fatal("nothing was kept")
	}
	for _, test := range []struct {
		name, file string
		status     int
		want       string
	}{
		{"a wrong file", "this is no backup", http.StatusUnprocessableEntity, changed},
		{"half of a backup", string(backup[:len(backup)/2]), http.StatusUnprocessableEntity, changed},
		{"the backup", string(backup), http.StatusOK, before},
	} {
		var body strings.Builder
		form := multipart.NewWriter(&body)
		_ = form.WriteField("sure", "yes") // before the file, which is not kept in memory
		w, err := form.CreateFormFile("backup", "x.backup")
		if err != nil {
			t.Fatal(err)
		}
		_, _ = io.WriteString(w, test.file)
		form.Close()
		r, err := http.Post(p.address+"settings/restore", form.FormDataContentType(), strings.NewReader(body.String()))
		if err != nil {
			t.Fatal(err)
		}
		page, _ := io.ReadAll(r.Body)
		r.Body.Close()
		if r.StatusCode != test.status {
			t.Errorf("%s: status %d, want %d\n%s", test.name, r.StatusCode, test.status, page)
		}
		if got := p.get(t, "/api/v1/questions"); got != test.want {
			t.Errorf("%s: the questions are %s", test.name, got)
		}
	}
	kept, err := filepath.Glob(filepath.Join(data, "*before-restore*"))
	if err != nil || len(kept) == 0 {
		t.Errorf("what was there before is not kept beside it: %v, %v", kept, err)
	}
	p.stop(t)
}
