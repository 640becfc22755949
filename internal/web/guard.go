package web

import (
	"net"
	"net/http"
)

// policy lets the page load nothing but its own files.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' data:; connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"

// guard answers only to this computer: a request must ask for the very host and
// port that the desk listens on (so that no foreign name can be rebound to it),
// and a change must come from one of our own pages.
func guard(host string) func(http.Handler) http.Handler {
	_, port, _ := net.SplitHostPort(host)
	allowed := map[string]bool{host: true, "localhost:" + port: true, "127.0.0.1:" + port: true, "[::1]:" + port: true}
	cross := http.NewCrossOriginProtection()
	return func(next http.Handler) http.Handler {
		checked := cross.Handler(next)
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if !allowed[r.Host] {
				http.Error(w, "Bookstead answers only at http://"+host, http.StatusMisdirectedRequest)
				return
			}
			if o := r.Header.Get("Origin"); o != "" && o != "http://"+r.Host {
				http.Error(w, "Bookstead takes changes only from its own pages.", http.StatusForbidden)
				return
			}
			h := w.Header()
			h.Set("Content-Security-Policy", policy)
			h.Set("X-Content-Type-Options", "nosniff")
			h.Set("Referrer-Policy", "same-origin")
			h.Set("Cross-Origin-Resource-Policy", "same-origin")
			h.Set("Cache-Control", "no-store")
			checked.ServeHTTP(w, r)
		})
	}
}
