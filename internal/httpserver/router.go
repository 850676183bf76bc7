package httpserver

import (
	"net/http"

	"github.com/gorilla/mux"

	"crossbin/internal/app"
)

// NewRouter gathers the routes of all faces under one handler; what none of
// them knows is a problem, never an empty page.
func NewRouter(register ...func(*mux.Router)) *mux.Router {
	r := mux.NewRouter()
	r.NotFoundHandler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		Fail(w, r, &app.Error{Code: app.CodeNotFound, Message: "nothing at " + short(r.URL.Path), Hint: "begin at /"})
	})
	r.MethodNotAllowedHandler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		Fail(w, r, &app.Error{Code: CodeMethod, Message: short(r.URL.Path) + " does not take " + short(r.Method),
			Hint: "GET asks; POST sends JSON where the API says so"})
	})
	for _, f := range register {
		f(r)
	}
	return r
}
