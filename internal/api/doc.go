// Package api is JSON over HTTP, one file a resource, as openapi.yaml says: the
// document is written by hand, served, and every answer is held to it in the
// tests. The same JSON is what the command line prints, so the shapes and the
// functions that make them are exported. Part numbers hold slashes and blanks
// and therefore stand in query parameters, never in a path.
package api
