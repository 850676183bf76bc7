//go:build !linux

package numbers

import "time"

var began = time.Now()

// spent is the time on the wall where the processor time of a thread cannot be
// asked.
func spent() time.Duration { return time.Since(began) }
