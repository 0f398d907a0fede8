package oscillator

// A place is a phase as a whole number: 1 << digits is a cycle. Counted so, a phase
// never drifts, a cord that moves it by cycles takes nothing from it, and which
// corners it has passed is plain from its upper digits. It wraps after 64 cycles.
const (
	digits = 58
	cycle  = 1 << digits
	half   = cycle / 2
)

// fixed turns cycles, -32 to 32, into a place.
func fixed(cycles float64) int64 { return int64(float64(cycles * cycle)) }

// cycles turns a place, less than 32 cycles from 0, into cycles.
func cycles(place int64) float64 { return float64(float64(place) * (1.0 / cycle)) }

// turn is the part of a place within its cycle, in 1/2^64 of a cycle.
func turn(place int64) uint64 { return uint64(place) << (64 - digits) }

// more is by how many cycles a place lies in another one than the other.
func more(place, other int64) int64 {
	return (place>>digits - other>>digits) << digits >> digits
}

// differ is 1 if two places lie in different cycles, and else 0.
func differ(a, b int64) int {
	if uint64(a^b) >= cycle {
		return 1
	}
	return 0
}
