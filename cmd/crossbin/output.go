package main

import "io"

// output remembers whether an answer could not be written: half an answer that
// looks whole is worse than none.
type output struct {
	to  io.Writer
	err error
}

// Write passes on and keeps the first error.
func (o *output) Write(b []byte) (int, error) {
	n, err := o.to.Write(b)
	if err != nil && o.err == nil {
		o.err = err
	}
	return n, err
}
