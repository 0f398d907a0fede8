package probing

import (
	"errors"
	"fmt"
	"math"

	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/patch/kind"
	"lampblack/patch/module"
	"lampblack/scope/sounding"
)

// Impulse is how high the impulse is that is sent: -80 dB re full scale, so that
// what saturates does not, and what flushes to silence is still 200 dB below it.
const Impulse = 1e-4

// How long an answer is waited for.
const (
	quiet       = 1e-13 // what counts as silence: 180 dB under the impulse
	waitSeconds = 0.25  // for which it has to be silent
	mostSeconds = 40.0
	rings       = 0.1 // of its highest, that is still there then: it does not end
)

// run is an engine with a test signal, and what was heard at its end.
type run struct {
	engine *engine.Engine
	heard  []float64
	none   []float64 // where the sound of the output goes
}

// kinds are the catalogue with a sender and a listener.
type kinds struct {
	kind.Set
	own map[string]*module.Kind
}

func (k kinds) Kind(name string) (*patch.Kind, bool) {
	if own := k.own[name]; own != nil {
		return &own.Kind, true
	}
	return k.Set.Kind(name)
}

func (k kinds) Module(name string) (*module.Kind, bool) {
	if own := k.own[name]; own != nil {
		return own, true
	}
	return k.Set.Module(name)
}

// sending gives the samples of a test signal, and then its last value.
type sending struct {
	signal []float64
	at     int
}

func (s *sending) Block(b *module.Block) {
	for i := range b.N {
		switch {
		case s.at < len(s.signal):
			b.Out[0][i] = s.signal[s.at]
		case len(s.signal) > 0:
			b.Out[0][i] = s.signal[len(s.signal)-1]
		default:
			b.Out[0][i] = 0
		}
		s.at++
	}
}

// hearing keeps what comes in.
type hearing struct{ run *run }

func (h hearing) Block(b *module.Block) { h.run.heard = append(h.run.heard, b.In[0][:b.N]...) }

const (
	sendKind = "sending"
	hearKind = "hearing"
	hearer   = "what comes out"
)

// start makes an engine that plays the way with a test signal; signal is nil for
// silence.
func (w Way) start(signal []float64) (*run, error) {
	r := &run{engine: engine.New(w.Rate), none: make([]float64, 4096)}
	all := kinds{kind.Catalogue, map[string]*module.Kind{
		sendKind: {Kind: patch.Kind{Name: sendKind, Outputs: []patch.Output{{Name: "out"}}}, New: func(module.Setup) module.Sound { return &sending{signal: signal} }},
		hearKind: {Kind: patch.Kind{Name: hearKind, Inputs: []patch.Input{{Name: "in"}}}, New: func(module.Setup) module.Sound { return hearing{r} }},
	}}
	p := w.Patch.Clone()
	for i := range p.Modules {
		if p.Modules[i].Name == sender {
			p.Modules[i].Kind = sendKind
		}
	}
	p.Modules = append(p.Modules, patch.Module{Name: hearer, Kind: hearKind})
	p.Cords = append(p.Cords, patch.Cord{From: w.To, To: patch.Socket{Module: hearer, Name: "in"}})
	g, err := engine.Compile(p, engine.Settings{Rate: w.Rate, Kinds: all})
	if err != nil {
		return nil, fmt.Errorf("the way can't be run by itself: %w", err)
	}
	r.engine.Swap(g)
	return r, nil
}

// on runs n samples more.
func (r *run) on(n int) {
	for n > 0 {
		k := min(n, len(r.none))
		r.engine.Block(r.none[:k], r.none[:k])
		n -= k
	}
}

// pair is a way with and without the test signal.
type pair struct{ with, without *run }

func (w Way) pair(signal []float64) (pair, error) {
	with, err := w.start(signal)
	if err != nil {
		return pair{}, err
	}
	without, err := w.start(nil)
	if err != nil {
		return pair{}, err
	}
	with.engine.NoteOn(0, 1)
	without.engine.NoteOn(0, 1)
	return pair{with, without}, nil
}

// on runs both, and returns the largest difference among the new samples.
func (p pair) on(n int) (most float64) {
	from := len(p.with.heard)
	p.with.on(n)
	p.without.on(n)
	for i := from; i < len(p.with.heard); i++ {
		p.with.heard[i] -= p.without.heard[i]
		most = math.Max(most, math.Abs(p.with.heard[i]))
	}
	return most
}

// errRings says that an answer does not end.
var errRings = errors.New("what comes out does not die away: there is no response to be measured")

// rest runs on until it is silent: no sound lasts longer than the longest delay
// without being heard.
func (p pair) rest(w Way) error {
	rate := float64(w.Rate)
	wait := int((waitSeconds + w.delays()) * rate)
	step, still := int(0.05*rate), 0
	most, last := 0.0, 0.0 // of all, and of the last part
	for still < wait {
		m := p.on(step)
		most = math.Max(most, m)
		still += step
		if m > quiet {
			still = 0
		}
		if float64(len(p.with.heard)) > 0.7*mostSeconds*rate {
			last = math.Max(last, m)
		}
		if float64(len(p.with.heard)) > mostSeconds*rate {
			if last > rings*most {
				return errRings
			}
			return nil
		}
	}
	return nil
}

// delays is how long the modules of the way may keep silent, in s: what their
// delays are set to.
func (w Way) delays() float64 {
	sum := 0.0
	for i := range w.Patch.Modules {
		m := &w.Patch.Modules[i]
		_, k := moduleOf(&w.Patch, m.Name)
		if k.Family != patch.Space {
			continue
		}
		for _, c := range k.Controls {
			s, ok := m.Settings[c.Name]
			if !ok {
				s = c.Default()
			}
			if s.Unit == "s" {
				sum += s.Value
			}
		}
	}
	return math.Min(sum, mostSeconds/2)
}

// Impulse sends an impulse and returns the answer for one of height 1.
func (w Way) Impulse() (sounding.Answer, error) {
	p, err := w.pair([]float64{Impulse, 0})
	if err != nil {
		return sounding.Answer{}, err
	}
	if err := p.rest(w); err != nil {
		return sounding.Answer{}, err
	}
	x := p.with.heard
	for len(x) > 1 && math.Abs(x[len(x)-1]) < quiet/100 {
		x = x[:len(x)-1]
	}
	for i := range x {
		x[i] /= Impulse
	}
	return sounding.Answer{Samples: x, Rate: float64(w.Rate)}, nil
}

// The sweep: it begins far below what is shown, and lasts so long that the
// harmonics of a system that does not ring for more than a tenth of a second are
// parted.
const (
	sweepLow     = 2.0 // Hz
	sweepHigh    = 0.49
	sweepSeconds = 3.0
)

// Sweep sends a sine that rises from 2 Hz to nearly half the rate, at a level in
// dB re full scale, and returns the answer of the straight part and those of the
// harmonics 2 to orders.
func (w Way) Sweep(level float64, orders int) ([]sounding.Answer, error) {
	rate := float64(w.Rate)
	s := sounding.NewSweep(sweepLow, sweepHigh*rate, sweepSeconds, rate)
	a := math.Pow(10, level/20)
	signal := make([]float64, len(s.Samples)+1)
	for i, v := range s.Samples {
		signal[i] = a * v
	}
	p, err := w.pair(signal)
	if err != nil {
		return nil, err
	}
	p.on(len(signal))
	if err := p.rest(w); err != nil {
		return nil, err
	}
	return s.Separate(p.with.heard, a, orders), nil
}
