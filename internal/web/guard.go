package web

import (
	"net"
	"net/http"
	"runtime/debug"
	"strings"
)

// contentPolicy lets a page load only what this server sends: no inline
// script or style, no frame, no other site.
const contentPolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// guard wraps the routes in everything that holds for every request.
func (b *bench) guard(next http.Handler) http.Handler {
	cross := http.NewCrossOriginProtection()
	cross.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		b.trouble(w, r, http.StatusForbidden, "That form came from another site.", "Open the workbench itself and send it from there.")
	}))
	return b.recover(b.headers(b.ownHost(cross.Handler(next))))
}

func (b *bench) headers(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", contentPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "geolocation=(), microphone=()")
		next.ServeHTTP(w, r)
	})
}

// ownHost refuses requests under a name that is not this machine's own: a page
// elsewhere can point its name at 127.0.0.1, and the browser would believe it.
func (b *bench) ownHost(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !ownName(r.Host) {
			b.trouble(w, r, http.StatusMisdirectedRequest, "This workbench does not answer under that name.", "Open it as http://localhost with the port it printed at its start.")
			return
		}
		next.ServeHTTP(w, r)
	})
}

func ownName(hostport string) bool {
	host := hostport
	if h, _, err := net.SplitHostPort(hostport); err == nil {
		host = h
	}
	if strings.EqualFold(host, "localhost") {
		return true
	}
	ip := net.ParseIP(strings.Trim(host, "[]"))
	return ip != nil && ip.IsLoopback()
}

// recover answers a page, never a stack trace, when a handler panics.
func (b *bench) recover(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			v := recover()
			if v == nil {
				return
			}
			if v == http.ErrAbortHandler {
				panic(v)
			}
			b.Log.Error("a page failed", "path", r.URL.Path, "panic", v, "stack", string(debug.Stack()))
			b.trouble(w, r, http.StatusInternalServerError, "Something went wrong inside the program.", "Nothing that was recorded is lost. Go back and try again.")
		}()
		next.ServeHTTP(w, r)
	})
}
