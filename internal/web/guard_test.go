package web

import (
	"net/http"
	"net/http/httptest"
	"testing"
)

// The refusals follow the advice against DNS rebinding and cross-site request
// forgery of the OWASP cheat sheets (verify Host and Origin on every request).
func TestGuard(t *testing.T) {
	h := guard("127.0.0.1:7340")(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusOK) }))
	for _, c := range []struct {
		name, method, host, origin, site string
		want                             int
	}{
		{"own page", "GET", "127.0.0.1:7340", "", "", 200},
		{"localhost", "GET", "localhost:7340", "", "", 200},
		{"rebound name", "GET", "evil.example:7340", "", "", http.StatusMisdirectedRequest},
		{"no port", "GET", "127.0.0.1", "", "", http.StatusMisdirectedRequest},
		{"own form", "POST", "127.0.0.1:7340", "http://127.0.0.1:7340", "same-origin", 200},
		{"foreign form", "POST", "127.0.0.1:7340", "http://evil.example", "cross-site", http.StatusForbidden},
		{"foreign form that hides its origin", "POST", "127.0.0.1:7340", "null", "", http.StatusForbidden},
		{"foreign form without origin", "POST", "127.0.0.1:7340", "", "cross-site", http.StatusForbidden},
	} {
		r := httptest.NewRequest(c.method, "http://"+c.host+"/", nil)
		r.Host = c.host
		if c.origin != "" {
			r.Header.Set("Origin", c.origin)
		}
		if c.site != "" {
			r.Header.Set("Sec-Fetch-Site", c.site)
		}
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != c.want {
			t.Errorf("%s: %d, want %d", c.name, w.Code, c.want)
		}
	}
}
