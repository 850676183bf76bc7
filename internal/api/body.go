package api

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"slices"

	"crossbin/internal/app"
	"crossbin/internal/httpserver"
)

// readBody gives the body of a request that must be JSON; its size is bounded
// by the server.
func readBody(r *http.Request) ([]byte, error) {
	if t, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || t != "application/json" {
		return nil, &app.Error{Code: httpserver.CodeUnsupported, Message: "the body must be JSON", Hint: "send it with content-type: application/json"}
	}
	body, err := io.ReadAll(io.LimitReader(r.Body, httpserver.MaxBody+1))
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &tooLarge) || len(body) > httpserver.MaxBody:
		return nil, &app.Error{Code: httpserver.CodeTooLarge, Message: fmt.Sprintf("the body is above the limit of %d bytes", httpserver.MaxBody),
			Hint: "ask for one vehicle and one part type at a time", Cause: err}
	case err != nil:
		return nil, &app.Error{Code: app.CodeInvalid, Message: "the body ended before its time", Hint: "send it again", Cause: err}
	}
	return body, nil
}

// readObject takes a JSON object apart, which encoding/json alone reads too
// kindly: it takes keys in any case, the last of two equal keys, and drops what
// it does not know.
func readObject(where string, raw []byte, known []string) (map[string]json.RawMessage, error) {
	d := json.NewDecoder(bytes.NewReader(raw))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return nil, &app.Error{Code: app.CodeInvalid, Message: where + " is no JSON object", Hint: `send {"vehicle": {...}, "type": "..."}`, Cause: err}
	}
	out := map[string]json.RawMessage{}
	for d.More() {
		t, err := d.Token()
		key, _ := t.(string)
		var value json.RawMessage
		if err == nil {
			err = checkKey(where, key, known, out)
		}
		if err == nil {
			err = d.Decode(&value)
		}
		if err != nil {
			return nil, badJSON(where, err)
		}
		out[key] = value
	}
	if _, err := d.Token(); err != nil { // the closing brace
		return nil, badJSON(where, err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, badJSON(where, err)
	}
	return out, nil
}

func checkKey(where, key string, known []string, seen map[string]json.RawMessage) error {
	if !slices.Contains(known, key) {
		return unknownName("key of "+where, key, known)
	}
	if _, twice := seen[key]; twice {
		return &app.Error{Code: app.CodeInvalid, Message: key + " stands twice in " + where, Hint: "send it once"}
	}
	return nil
}

// badJSON gives an error of ours back and wraps any other.
func badJSON(where string, err error) error {
	var e *app.Error
	if errors.As(err, &e) {
		return e
	}
	return &app.Error{Code: app.CodeInvalid, Message: where + " is no JSON that can be read", Hint: "check commas, quotes and braces", Cause: err}
}

// readValue decodes one value of an object; null counts as left out.
func readValue(object map[string]json.RawMessage, key string, into any) error {
	raw, ok := object[key]
	if !ok {
		return nil
	}
	if err := json.Unmarshal(raw, into); err != nil {
		var e *json.UnmarshalTypeError
		if errors.As(err, &e) {
			name := key
			if e.Field != "" {
				name += "." + e.Field
			}
			return &app.Error{Code: app.CodeInvalid, Message: fmt.Sprintf("%s is a JSON %s, which it cannot be", name, e.Value), Hint: "see /api", Cause: err}
		}
		return badJSON(key, err)
	}
	return nil
}
