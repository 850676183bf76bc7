// Package httpserver is what every face over HTTP needs and none should build
// twice: a listener with limits and an orderly end, the middleware around each
// request (id, log line, recovery, headers, who may ask), and the one table that
// turns an error into a status and an RFC 9457 problem. It knows no noun of the
// trade, only the codes of app.Error.
package httpserver
