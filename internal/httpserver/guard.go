package httpserver

import (
	"net"
	"net/http"
	"net/netip"
	"strings"

	"crossbin/internal/app"
)

// Guard refuses requests under a name that is not this computer's own. While
// the server listens on loopback, a page of another site can still reach it by
// letting its own name point at 127.0.0.1 (DNS rebinding); the browser then
// sends that name as Host, and only the Host tells.
type Guard struct{}

func (g *Guard) wrap(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !loopbackHost(r.Host) {
			Fail(w, r, &app.Error{Code: CodeForeign, Message: "this server answers under its own address only, not as " + short(r.Host),
				Hint: "open it as http://localhost or http://127.0.0.1 with its port"})
			return
		}
		next.ServeHTTP(w, r)
	})
}

// loopbackHost reports whether a Host header names this computer.
func loopbackHost(host string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	name = strings.TrimSuffix(strings.ToLower(name), ".")
	if name == "localhost" {
		return true
	}
	ip, err := netip.ParseAddr(strings.Trim(name, "[]"))
	return err == nil && ip.Unmap().IsLoopback()
}

// short keeps a name that somebody else chose at a length that can be shown.
func short(host string) string {
	const most = 60 // about one line
	if len(host) > most {
		return strings.ToValidUTF8(host[:most], "") + "…"
	}
	return host
}
