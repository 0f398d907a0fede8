//go:build !linux

package rig

import "time"

// Taken returns how long f takes.
func Taken(f func()) time.Duration {
	begun := time.Now()
	f()
	return time.Since(begun)
}
