package demo

import (
	"math"
	"slices"
	"strings"
	"testing"

	"lampblack/notebook"
)

// "The motor is cut off by its switch, and the glass is heard alone": in the gap
// before 3.4 s nearly nothing is left of the motor.
func TestTheGlassLandsAlone(t *testing.T) {
	b := built(t)
	all, _ := takes(t, b)
	rms := levels(t, b, all, "With glass, and it lands.")
	if motor, gap := rms(3.2, 3.38), rms(3.39, 3.399); gap > motor-20 {
		t.Errorf("the motor runs at %.1f dBFS and the gap has %.1f; want 20 dB less", motor, gap)
	}
	if gap, glass := rms(3.39, 3.399), rms(3.4, 3.42); glass < gap+10 {
		t.Errorf("the gap has %.1f dBFS and the landing %.1f; want 10 dB more", gap, glass)
	}
}

// "2.4 s (60 frames) until it runs at full speed ... It stops at 6.6 s": before
// 3 s the switch is alone, and behind the end of the run-up nothing gets louder
// or brighter any more.
func TestThePumpKeepsToThePicture(t *testing.T) {
	b := built(t)
	all, _ := takes(t, b)
	rms := levels(t, b, all, "60 frames to full speed")
	if before, started := rms(2.6, 2.95), rms(3.05, 3.3); before > -100 || started < -30 {
		t.Errorf("%.1f dBFS between the last tick and the pin, %.1f behind it; want silence and over -30", before, started)
	}
	if a, z := rms(5.5, 5.95), rms(6.05, 6.5); math.Abs(a-z) > 1.5 {
		t.Errorf("at full speed the pump goes from %.1f to %.1f dBFS; want it steady within 1.5 dB", a, z)
	}
	if full, after := rms(6.1, 6.5), rms(8.1, 8.4); after > full-20 {
		t.Errorf("%.1f dBFS at full speed and %.1f 1.5 s after the stop; want 20 dB less", full, after)
	}
}

// "Six times in 7.2 s and never in time": knocks are far louder than the steam, and
// no two pauses between them are alike.
func TestThePipeKnocksSixTimesAndNeverInTime(t *testing.T) {
	b := built(t)
	all, _ := takes(t, b)
	rms := levels(t, b, all, "Knocks well")
	var knocks []float64
	for at := 0.0; at < 7.1; at += 0.02 {
		if now, before := rms(at+0.02, at+0.04), rms(at, at+0.02); now > -26 && now > before+10 {
			knocks = append(knocks, at)
		}
	}
	if len(knocks) != 6 {
		t.Fatalf("%d knocks, at %v; want 6", len(knocks), knocks)
	}
	var pauses []float64
	for i := range knocks[1:] {
		pauses = append(pauses, knocks[i+1]-knocks[i])
	}
	slices.Sort(pauses)
	if pauses[len(pauses)-1] < 2*pauses[0] {
		t.Errorf("the pauses are %v s: that is a rhythm", pauses)
	}
}

// levels returns the rms in dBFS of the left side of a take, found by the start
// of its note, between two times in s.
func levels(t *testing.T, b *notebook.Book, all []notebook.Take, note string) func(from, to float64) float64 {
	t.Helper()
	i := slices.IndexFunc(all, func(k notebook.Take) bool { return strings.HasPrefix(k.Note, note) })
	if i < 0 {
		t.Fatalf("no note begins with %q", note)
	}
	sound, _, err := b.Audition(all[i].ID)
	if err != nil {
		t.Fatal(err)
	}
	return func(from, to float64) float64 {
		sum, span := 0.0, sound[0][int(from*rate):int(to*rate)]
		for _, x := range span {
			sum += x * x
		}
		return 10 * math.Log10(sum/float64(len(span))+1e-20)
	}
}
