//go:build !amd64

package lanes

var fours = false

func fill4(*float64, int, float64)                               {}
func same4(*float64, int) bool                                   { return true }
func within4(*float64, int, float64) bool                        { return true }
func add4(_, _, _ *float64, _ int)                               {}
func multiply4(_, _, _ *float64, _ int)                          {}
func addProduct4(_, _, _ *float64, _ int)                        {}
func scale4(_, _ *float64, _ int, _ float64)                     {}
func addScaled4(_, _ *float64, _ int, _ float64)                 {}
func swing4(_, _ *float64, _ int, _, _ float64)                  {}
func clamp4(*float64, int, float64, float64, *[8]float64) uint64 { return 0 }
func above4(_, _ *float64, _ int, _ float64)                     {}
func sines4(*float64, int)                                       {}
func powers4(*float64, int, float64)                             {}
func tones4(*float64, *uint64, int)                              {}
