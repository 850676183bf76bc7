package main

import "crossbin/internal/api"

// printJSON prints an answer exactly as the API would.
func (p *program) printJSON(v any) error { return api.Write(p.stdout, v) }
