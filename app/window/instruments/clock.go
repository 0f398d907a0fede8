package instruments

import "time"

var started = time.Now()

// clock is the time by which pictures wait; tests have another.
var clock = func() time.Duration { return time.Since(started) }
