package web

import (
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"halves/energetics"
	"halves/store/sqlite"
)

// deskOnDisk is a desk over a real store.
func deskOnDisk(b *testing.B) *Server {
	b.Helper()
	store, err := sqlite.Open(filepath.Join(b.TempDir(), "halves.db"))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { store.Close() })
	s, err := New(Options{Store: store, Tables: energetics.Shipped()})
	if err != nil {
		b.Fatal(err)
	}
	return s
}

// BenchmarkWorkPage works a question on its page: what the server needs for it,
// the history kept on the disk among it.
func BenchmarkWorkPage(b *testing.B) {
	s := deskOnDisk(b)
	for i, q := range []string{"MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid", "H2O2 + Cr(OH)4^- -> CrO4^2-, in base", "Cu + HNO3 -> Cu(NO3)2 + NO + H2O"} {
		b.Run(fmt.Sprintf("question=%d", i+1), func(b *testing.B) {
			b.ReportAllocs()
			size := 0
			for b.Loop() {
				w := httptest.NewRecorder()
				s.Handler().ServeHTTP(w, httptest.NewRequest("GET", "http://localhost/work?q="+url.QueryEscape(q), nil))
				if w.Code != http.StatusOK {
					b.Fatal(w.Code)
				}
				size = w.Body.Len()
			}
			b.ReportMetric(float64(size), "bytes/page")
		})
	}
}

// BenchmarkRead asks for live readings from 50 clients at a time, over a loopback
// connection each, with a pause of a tenth of a second between two as in typing;
// it reports the median and the 99th percentile of the answers' times.
func BenchmarkRead(b *testing.B) {
	s := deskOnDisk(b)
	server := httptest.NewServer(s.Handler())
	defer server.Close()
	const clients, rounds = 50, 30
	text := "MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid"
	var mu sync.Mutex
	var times []time.Duration
	for b.Loop() {
		var wg sync.WaitGroup
		for c := range clients {
			wg.Go(func() {
				client := &http.Client{Transport: &http.Transport{}}
				time.Sleep(time.Duration(c) * 2 * time.Millisecond)
				for k := range rounds {
					begin := time.Now()
					r, err := client.Get(server.URL + "/read?q=" + url.QueryEscape(text[:len(text)-k%len(text)]))
					if err != nil {
						b.Error(err)
						return
					}
					_, _ = io.Copy(io.Discard, r.Body)
					r.Body.Close()
					took := time.Since(begin)
					if k > 0 { // the first opens the connection
						mu.Lock()
						times = append(times, took)
						mu.Unlock()
					}
					time.Sleep(100 * time.Millisecond)
				}
			})
		}
		wg.Wait()
	}
	slices.Sort(times)
	b.ReportMetric(float64(times[len(times)/2].Microseconds())/1000, "ms/median")
	b.ReportMetric(float64(times[len(times)*99/100].Microseconds())/1000, "ms/p99")
}
