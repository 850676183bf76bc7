package api

import (
	_ "embed"
	"net/http"
	"strconv"
)

// The document is written by hand; the page that shows it is made from it by a
// test of this package (go test -run Page -update), which fails when it is
// stale.
var (
	//go:embed openapi.yaml
	openAPI []byte
	//go:embed page.html
	page []byte
	//go:embed page.css
	pageStyle []byte
)

// Document gives the OpenAPI 3.1 document in YAML.
func Document() []byte { return openAPI }

// documents are the files that describe the API.
func documents() map[string]http.Handler {
	return map[string]http.Handler{
		"/api":                 file("text/html; charset=utf-8", page),
		"/api/page.css":        file("text/css; charset=utf-8", pageStyle),
		"/api/v1/openapi.yaml": file("application/yaml", openAPI), // RFC 9512
	}
}

func file(contentType string, body []byte) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", contentType)
		w.Header().Set("Content-Length", strconv.Itoa(len(body)))
		_, _ = w.Write(body) // the asker has gone; there is nobody to tell
	})
}
