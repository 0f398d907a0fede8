//go:build !linux

package engine

import "time"

// taken returns how long f takes.
func taken(f func()) time.Duration {
	begun := time.Now()
	f()
	return time.Since(begun)
}
