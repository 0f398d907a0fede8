package engine

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
)

// phased is a sine of carrier Hz whose phase a sine of modulator Hz moves, with
// an index in radians.
func phased(carrier, modulator, index float64) patch.Patch {
	sine := func(name string, hz float64) patch.Module {
		return patch.Module{Name: name, Kind: "oscillator", Settings: map[string]patch.Setting{"frequency": {Value: hz, Unit: "Hz"}}}
	}
	return patch.Patch{
		Modules: []patch.Module{sine("m", modulator), sine("c", carrier), {Name: "out", Kind: "output"}},
		Cords: []patch.Cord{
			{From: patch.Socket{Module: "m", Name: "out"}, To: patch.Socket{Module: "c", Name: "phase"}, Depth: patch.Setting{Value: index * 180 / math.Pi, Unit: "deg"}},
			{From: patch.Socket{Module: "c", Name: "out"}, To: patch.Socket{Module: "out", Name: "left"}},
		},
	}
}

// strange is the loudest line of the second second below 20 kHz that is none of
// the sidebands' own, in dB re the unmodulated carrier. Bins are whole Hz.
func strange(t *testing.T, p patch.Patch, fine int, carrier, modulator int) float64 {
	t.Helper()
	r, err := Render(p, memory.Memory{}, RenderOptions{Rate: 48000, Seconds: 2, Fine: fine})
	if err != nil {
		t.Fatal(err)
	}
	lines := fourier.NewFFT(48000).Coefficients(nil, r.Left[48000:])
	own := map[int]bool{}
	for n := -400; n <= 400; n++ {
		own[max(carrier+n*modulator, -carrier-n*modulator)] = true
	}
	worst := 0.0
	for hz := 1; hz < 20000; hz++ {
		if !own[hz] {
			worst = max(worst, math.Hypot(real(lines[hz]), imag(lines[hz]))/24000)
		}
	}
	return 20 * math.Log10(worst)
}

// What folds lies 120 dB under the carrier when it is computed as finely as
// FineFor says, and does not when it is not. Lines of an index of 10 and 20: J_n,
// Abramowitz and Stegun 9.1; the primes keep what folds off the sidebands' places.
func TestAFineRenderHasRoomForEverySideband(t *testing.T) {
	for _, test := range []struct{ carrier, modulator, index float64 }{
		{1999, 1453, 5}, {1999, 1453, 10}, {3001, 1453, 20}, {997, 2909, 12},
	} {
		p := phased(test.carrier, test.modulator, test.index)
		factor := FineFor(p, memory.Memory{}, 48000, nil)
		plain := strange(t, p, 1, int(test.carrier), int(test.modulator))
		fine := strange(t, p, factor, int(test.carrier), int(test.modulator))
		t.Logf("%g Hz by %g Hz, index %g: %d times the rate; worst false line %.1f dB instead of %.1f", test.carrier, test.modulator, test.index, factor, fine, plain)
		if fine > -120 {
			t.Errorf("a false line is at %.1f dB", fine)
		}
		if (factor > 1) != (plain > -120) {
			t.Errorf("computed plainly the worst false line is at %.1f dB, and the factor is %d", plain, factor)
		}
	}
}

// A fine render begins on the same sample, is as long, and where nothing folds is
// the same sound: a sine of 1 kHz within 1e-5 (the filters are flat within 0.0001
// dB).
func TestAFineRenderIsInStep(t *testing.T) {
	p := phased(1000, 500, 0)
	plain, err := Render(p, memory.Memory{}, RenderOptions{Rate: 48000, Seconds: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	for _, factor := range []int{2, 4, 8} {
		for _, block := range []int{0, 7, 1000} {
			r, err := Render(p, memory.Memory{}, RenderOptions{Rate: 48000, Seconds: 0.5, Fine: factor, block: block})
			if err != nil {
				t.Fatal(err)
			}
			if len(r.Left) != len(plain.Left) {
				t.Fatalf("%d times: %d samples, want %d", factor, len(r.Left), len(plain.Left))
			}
			worst := 0.0
			for i := 100; i < len(r.Left); i++ { // behind the onset, which is band-limited
				worst = max(worst, math.Abs(r.Left[i]-plain.Left[i]))
			}
			if worst > 1.2e-5 {
				t.Errorf("%d times the rate, blocks of %d: it differs by %g", factor, block, worst)
			}
		}
	}
	if _, err := Begin(p, memory.Memory{}, RenderOptions{Rate: 96000, Fine: 8}); err == nil {
		t.Error("768 kHz were accepted")
	}
	if _, err := Begin(p, memory.Memory{}, RenderOptions{Rate: 48000, Fine: 3}); err == nil {
		t.Error("3 times the rate was accepted")
	}
}

// The factor follows from what is written: notes, depths, feedback.
func TestFineForReadsThePatch(t *testing.T) {
	high := memory.Memory{Length: 1, Notes: []memory.Note{{At: 0, For: 1, Pitch: 3}}}
	note := phased(440, 440, 6)
	note.Modules = append(note.Modules, patch.Module{Name: "keys", Kind: "memory"})
	for _, to := range []string{"c", "m"} {
		note.Cords = append(note.Cords, patch.Cord{From: patch.Socket{Module: "keys", Name: "pitch"}, To: patch.Socket{Module: to, Name: "frequency"}, Depth: patch.Setting{Value: 1, Unit: "oct"}})
	}
	fed := phased(3000, 500, 0)
	fed.Module("c").Settings["feedback"] = patch.Setting{Value: 60, Unit: "%"}
	loop := phased(3000, 500, 1)
	loop.Cords = append(loop.Cords, patch.Cord{From: patch.Socket{Module: "c", Name: "out"}, To: patch.Socket{Module: "m", Name: "frequency"}, Depth: patch.Setting{Value: 1, Unit: "oct"}})
	for name, test := range map[string]struct {
		p    patch.Patch
		m    memory.Memory
		want int
	}{
		"low":                    {note, memory.Memory{}, 1},
		"three octaves up":       {note, high, 2},
		"plain":                  {phased(19000, 500, 0), memory.Memory{}, 1},
		"feedback":               {fed, memory.Memory{}, 2},
		"in a loop":              {loop, memory.Memory{}, 1},
		"at the highest index":   {phased(5000, 5000, 125), memory.Memory{}, 8},
		"nothing that modulates": {patch.Patch{}, memory.Memory{}, 1},
	} {
		if got := FineFor(test.p, test.m, 48000, kind.Catalogue); got != test.want {
			t.Errorf("%s: %d, want %d", name, got, test.want)
		}
	}
}
