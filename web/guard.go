package web

import (
	"net"
	"net/http"
	"slices"
	"strings"
)

// maxBody is how many bytes a request may have; the routes of uploads set more.
const maxBody = 1 << 20

// policy is the Content-Security-Policy: everything from the program itself, and
// no inline script or style.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// loopback are the names of this machine.
var loopback = []string{"localhost", "127.0.0.1", "::1", "[::1]"}

// guard is what every request passes: the host by which the desk was asked, where
// the request comes from, how large it is, and the headers of every answer.
func (s *Server) guard(next http.Handler) http.Handler {
	hosts := s.o.Hosts
	if hosts == nil {
		hosts = loopback
	}
	// Requests that change something must come from a page of the desk itself.
	origin := http.NewCrossOriginProtection()
	origin.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		refuse(w, r, http.StatusForbidden, "This was sent from another site, so nothing was done.")
	}))
	inner := origin.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		// A name that someone else's server gave to this machine is not answered.
		if !slices.Contains(hosts, hostOf(r.Host)) {
			refuse(w, r, http.StatusMisdirectedRequest, "The desk is not known by this name.")
			return
		}
		if r.URL.Path != restorePath && r.URL.Path != importPath {
			r.Body = http.MaxBytesReader(w, r.Body, maxBody)
		}
		inner.ServeHTTP(w, r)
	})
}

// Paths of uploads, which may be larger than other requests.
const (
	restorePath = "/settings/restore"
	importPath  = "/questions/import"
)

func hostOf(host string) string {
	if h, port, err := net.SplitHostPort(host); err == nil {
		if strings.Trim(port, "0123456789") != "" {
			return ""
		}
		host = h
	}
	return strings.ToLower(strings.TrimSuffix(host, "."))
}
