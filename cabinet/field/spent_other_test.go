//go:build !unix

package field

import "time"

var began = time.Now()

// spent returns the time since the tests began: CPU time is not to be had.
func spent() time.Duration { return time.Since(began) }
