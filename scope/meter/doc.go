// Package meter reads a signal as the trade's meters do.
//
//	samples -> Channel      -> sample peak, true peak, PPM, VU, RMS, offset, silence
//	channels -> Loudness    -> momentary, short-term, integrated, range (LUFS, LU)
//	channels -> Correlation -> how alike left and right are, -1 to +1
//	channels -> Tone        -> frequency, note and cents, THD+N
//	channels -> Envelope    -> fluctuation and roughness: rate (Hz) and depth (%)
//	channels -> Meters      -> all of it
//
// Full scale is +-1.0, rates are 8 to 384 kHz. A sine's dBFS is its peak: PPM, VU
// and peaks of a full-scale sine read 0, its RMS -3.01. Nothing allocates while
// samples are written, how long the blocks are changes no reading, and what is no
// number, or more than 60 dB above full scale, is counted and taken for silence.
// A value is used by one goroutine.
//
// It knows no patch, no file, no screen. Held by tests: the signals of EBU Tech
// 3341 and 3342, the bursts of IEC 60268-10, the needle of IEC 60268-17, and a
// second program that measures loudness.
package meter

import "math"

// db returns 20 log10 x, -Inf for 0.
func db(x float64) float64 { return 20 * math.Log10(x) }

// powerDB returns 10 log10 x, -Inf for 0.
func powerDB(x float64) float64 { return 10 * math.Log10(x) }
