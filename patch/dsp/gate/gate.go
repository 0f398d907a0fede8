// Package gate reads gates and triggers: a voltage above 0.5 is up.
package gate

// Up reports whether a gate is up. What is no number is down.
func Up(x float64) bool { return x > 0.5 }

// Edge remembers whether a gate was up at the last sample. The zero value was
// down.
type Edge bool

// Rises takes the next sample and reports whether the gate rises through 0.5 on it.
func (e *Edge) Rises(x float64) bool {
	up := Up(x)
	rises := up && !bool(*e)
	*e = Edge(up)
	return rises
}
