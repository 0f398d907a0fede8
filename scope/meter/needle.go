package meter

import "math"

// Alignment is the level of the line-up tone, in dBFS: where the PPM shows mark 4
// and the VU meter 0 VU. Source: EBU R 68-2000.
const Alignment = -18.0

// PPMMark returns where a peak programme meter of type IIa stands at a level in
// dBFS: marks 1 to 7, 4 dB apart but for 6 dB between 1 and 2; mark 4 is alignment
// level, mark 6 the permitted maximum. Outside the scale it goes on; it is -Inf for
// silence. Source: IEC 60268-10:1991 (from memory).
func PPMMark(dBFS float64) float64 {
	over := dBFS - Alignment
	if over < -8 {
		return 2 + (over+8)/6
	}
	return 4 + over/4
}

// VU returns where a VU meter stands at a level in dBFS: 0 VU is alignment level.
func VU(dBFS float64) float64 { return dBFS - Alignment }

// The peak programme meter: two chargers that a rectifier fills, and their mean. A
// single one can't meet the standard's long and short bursts together.
const (
	ppmFast = 0.001  // s
	ppmSlow = 0.006  // s
	ppmFall = 1.0134 // s: 24 dB in 2.8 s
)

// ppm holds the chargers. It takes rectified samples.
type ppm struct {
	fast, slow         float64 // what they hold
	fillFast, fillSlow float64 // for each step
	fall, fallAll      float64 // for each step, and for all steps of a sample
	steps              int     // of a sample
	scale              float64 // brings a steady sine to its peak
	highest            float64
}

func newPPM(rate float64, steps int) ppm {
	p := ppm{steps: steps, fallAll: math.Exp(-1 / (ppmFall * rate))}
	rate *= float64(steps)
	p.fall = math.Exp(-1 / (ppmFall * rate))
	p.fillFast = 1 - math.Exp(-1/(ppmFast*rate))
	p.fillSlow = 1 - math.Exp(-1/(ppmSlow*rate))
	p.scale = 1 / (steady(ppmFast) + steady(ppmSlow))
	return p
}

// steady returns what a charger holds at a steady sine of amplitude 1, at any
// frequency: the cosine of the angle a within which it is filled. There it gains (2
// sin a - 2 a cos a)/tau in every half turn; in the rest of it, pi - 2a, it loses
// cos(a)/ppmFall.
func steady(tau float64) float64 {
	low, high := 0.0, math.Pi/2
	for range 60 {
		a := (low + high) / 2
		if 2*(math.Tan(a)-a)*ppmFall < (math.Pi-2*a)*tau {
			low = a
		} else {
			high = a
		}
	}
	return math.Cos(low)
}

// take follows the steps of len(tops) samples; tops are the largest of each sample's.
func (p *ppm) take(rectified, tops []float64) {
	fast, slow, highest := p.fast, p.slow, p.highest
	for i, top := range tops {
		if top <= fast && top <= slow { // most samples
			fast *= p.fallAll
			slow *= p.fallAll
			continue
		}
		for _, x := range rectified[i*p.steps : (i+1)*p.steps] {
			if x > fast {
				fast += float64(p.fillFast * (x - fast))
			} else {
				fast *= p.fall
			}
			if x > slow {
				slow += float64(p.fillSlow * (x - slow))
			} else {
				slow *= p.fall
			}
			if fast+slow > highest {
				highest = fast + slow
			}
		}
	}
	if slow < 1e-15 && fast < 1e-15 { // denormal numbers are slow
		fast, slow = 0, 0
	}
	p.fast, p.slow, p.highest = fast, slow, highest
}

// now returns what it shows, as a factor of full scale; most, what it showed at
// its highest.
func (p *ppm) now() float64  { return p.scale * (p.fast + p.slow) }
func (p *ppm) most() float64 { return p.scale * p.highest }

// The needle of a VU meter: of second order, 99 % in 300 ms, 1.25 % too far.
// Source: IEC 60268-17:1990.
const (
	vuOmega   = 13.512 // rad/s
	vuDamping = 0.8127
)

// vuRate is about how often the needle moves a second: often enough for a smooth
// path, seldom enough to cost nothing.
const vuRate = 6000

// vu is the needle. It takes the mean of the rectified signal.
type vu struct {
	place, speed  float64
	spring, brake float64 // for each step
	step          float64
	sum           float64 // of the means of this step's samples
	samples, each int     // in it so far, and when it is complete
	highest       float64
}

func newVU(rate float64) vu {
	each := max(1, int(rate/vuRate))
	step := float64(each) / rate
	return vu{each: each, spring: vuOmega * vuOmega * step, brake: 2 * vuDamping * vuOmega * step, step: step}
}

func (v *vu) take(means []float64) {
	sum, samples := v.sum, v.samples
	for _, x := range means {
		sum += x
		if samples++; samples == v.each {
			v.move(sum / float64(v.each))
			sum, samples = 0, 0
		}
	}
	v.sum, v.samples = sum, samples
}

func (v *vu) move(to float64) {
	v.speed += float64(v.spring*(to-v.place)) - float64(v.brake*v.speed)
	v.place += float64(v.step * v.speed)
	v.highest = max(v.highest, v.place)
	if math.Abs(v.place) < 1e-15 && math.Abs(v.speed) < 1e-15 {
		v.place, v.speed = 0, 0
	}
}

// vuScale brings the mean of a rectified sine to its peak.
const vuScale = math.Pi / 2

func (v *vu) now() float64  { return vuScale * max(v.place, 0) }
func (v *vu) most() float64 { return vuScale * v.highest }
