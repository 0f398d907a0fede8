// Package line is a delay: a ring of samples, written at one end and read
// anywhere behind it.
//
//	x -> Line.Put ... -> Head -> what was put so many samples ago, also between samples
//
// A Head may move with every sample; then pitch moves as on a tape whose head
// is pushed along it. Around a line stand the things that every echo needs: a
// Cut of its tone, a Balance of the plain signal and the late one.
//
// Held by tests: at whole places samples come back unchanged; between them a
// sine up to 0.375 of the rate (18 kHz at 48 kHz) is read with an error below
// -96 dB at places of 15 samples and more (to 0.3 of the rate -80 dB from 8 on;
// nearer than that the sinc has too little room, and nearer than 2 it is little
// better than a straight line); pitch moves by 1 - dT/dt.
//
// Source: Laakso, Valimaki, Karjalainen and Laine, Splitting the unit delay,
// IEEE Signal Processing Magazine 13(1), 1996; Smith and Gossett, A flexible
// sampling-rate conversion method, ICASSP 1984 (the sinc stretched by the speed).
package line

import "math"

// Line keeps the samples put last. Make it with New. It belongs to one goroutine.
type Line struct {
	x    []float64 // a ring of a power of two, and its first samples again behind it
	at   int       // where the newest one lies
	mask int
}

// New makes a silent line that can be read up to most samples back.
func New(most float64) Line {
	n := 4 * points
	for float64(n) < most+4*points {
		n *= 2
	}
	return Line{x: make([]float64, n+points), mask: n - 1}
}

// Put takes the next sample.
func (l *Line) Put(x float64) {
	at := (l.at + 1) & l.mask
	l.at = at
	l.x[at] = x
	if at < points {
		l.x[at+l.mask+1] = x
	}
}

// Whole returns the sample put n samples before the newest one.
func (l *Line) Whole(n int) float64 { return l.x[(l.at-n)&l.mask] }

// Copy makes l what from is; both were made for the same length. It allocates
// nothing.
func (l *Line) Copy(from *Line) {
	copy(l.x, from.x)
	l.at = from.at
}

// Loudest is the size to which Safe limits, 50 dB over full scale: what is read
// between such samples is still below 1000.
const Loudest = 300

// silent is the size (-300 dB) under which a sample in a loop becomes 0.
const silent = 1e-15

// Safe returns x, limited to +-Loudest, and 0 for what is no number or smaller
// than 1e-15: so that a loop never keeps either. It tells whether it had to limit.
func Safe(x float64, clamped *bool) float64 {
	if a := math.Abs(x); a >= silent && a <= Loudest {
		return x
	}
	return unsafe(x, clamped)
}

func unsafe(x float64, clamped *bool) float64 {
	switch {
	case x > Loudest:
		*clamped = true
		return Loudest
	case x < -Loudest:
		*clamped = true
		return -Loudest
	case x != x:
		*clamped = true
	}
	return 0
}

// Balance returns the gains of the plain and the late signal for a mix of 0 to
// 1. Up to one half the plain signal stays whole and the late one comes in;
// from there on the plain one goes.
func Balance(mix float64) (plain, late float64) {
	return min(float64(2*(1-mix)), 1), min(float64(2*mix), 1)
}
