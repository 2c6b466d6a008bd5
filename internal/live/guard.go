package live

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"net"
	"net/http"
	"strings"
	"time"
)

// Bounds of what a request may cost.
const (
	maxBody     = 256 << 10
	readTime    = 10 * time.Second
	headerTime  = 5 * time.Second
	idleTime    = 2 * time.Minute
	maxHeader   = 16 << 10
	mostStates  = 2 // computed at a time; others wait
	mostStudies = 2
	mostTexts   = 16 // states of the file that are kept for open pages
)

// newToken returns 128 random bits: who does not know them is shown nothing.
func newToken() string {
	var b [16]byte
	rand.Read(b[:]) // never fails, see crypto/rand
	return hex.EncodeToString(b[:])
}

// policy lets the page load its own scripts, styles and data and nothing else.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// guard refuses what does not come from the page itself: a Host that is not the server's own
// address, which a foreign name led to it (DNS rebinding); requests that another site makes
// (Fetch Metadata, Origin); a path without the token.
func (s *Server) guard(next http.Handler) http.Handler {
	var crossOrigin http.CrossOriginProtection
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		if !s.ownHost(r.Host) {
			http.Error(w, "this server answers to its own address only", http.StatusMisdirectedRequest)
			return
		}
		if site := r.Header.Get("Sec-Fetch-Site"); crossOrigin.Check(r) != nil || site == "cross-site" || site == "same-site" {
			http.Error(w, "a request of another site", http.StatusForbidden)
			return
		}
		if o := r.Header.Get("Origin"); o != "" && o != "http://"+r.Host {
			http.Error(w, "a request of another origin", http.StatusForbidden)
			return
		}
		token, rest, ok := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
		if !ok || subtle.ConstantTimeCompare([]byte(token), []byte(s.token)) != 1 {
			http.Error(w, "the address needs the token that gapline live printed", http.StatusNotFound)
			return
		}
		if r.Method == http.MethodPost && !strings.HasPrefix(r.Header.Get("Content-Type"), "application/json") {
			http.Error(w, "application/json is needed", http.StatusUnsupportedMediaType)
			return
		}
		r.URL.Path = "/" + rest
		r.Body = http.MaxBytesReader(w, r.Body, maxBody)
		next.ServeHTTP(w, r)
	})
}

// ownHost reports whether a Host header names the server by its loopback address.
func (s *Server) ownHost(host string) bool {
	name, port, err := net.SplitHostPort(host)
	return err == nil && port == s.port && (name == "127.0.0.1" || name == "localhost")
}
