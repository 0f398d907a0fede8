// Package sound brings samples to a loudspeaker without hurting anyone.
//
//	source + audition -> listening level -> limiter -> fade -> meter -> dither -> device
//
// Without a device the same chain runs on a clock, so that the meters still
// move. It knows no patch, no notebook and no screen.
//
// Held by tests: no sample leaves the chain above the ceiling, no jump of level
// is sudden, a stop fades, 16-bit words carry triangular dither, nothing is
// allocated while sounding.
package sound
