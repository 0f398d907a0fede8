// Package predict works out what a patch should show before it sounds.
//
//	patch + settings + note -> lines, noise, movements of a socket, and what can't be said
//
// A signal that has settled is a sum of lines, each with frequency, level and
// phase counted from the first sample, and of noises seen through responses.
// Modules turn such sums into others by the formulas of the handbooks: Fourier
// series, products of sines, Bessel's series of modulation, transfer functions.
// The sums are those of sampled signals: a modulation index is that of a running
// sum of samples, and what passes half the rate folds where the module folds it.
//
// It reads a patch as a value and runs no sound: no engine, no module. What it
// can't work out it names, with the module and the reason.
//
// Behind a filter that moves, what it still remembers counts: the kind filter is
// worked out as the loops it is made of, within 0.1 dB down to 60 dB under the
// strongest line. Of other kinds only the response of each moment is known; then no
// more is claimed than what that leaves out allows.
//
// Held by tests against the sound itself, line by line, and against the tables of
// Abramowitz and Stegun: within 0.01 dB and 0.01 Hz in a still sound.
package predict
