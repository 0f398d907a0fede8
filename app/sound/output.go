package sound

import (
	"errors"
	"math"
	"sync"
	"time"

	"lampblack/app/timing"

	"github.com/gopxl/beep/v2"
	"github.com/gopxl/beep/v2/speaker"
)

// Options say how an Output is opened. The zero value is a device at 48 kHz
// with a buffer of 50 ms.
type Options struct {
	Rate   int           // samples a second; 0 is 48,000
	Buffer time.Duration // between the source and the ear, 1,024 frames to 1 s; 0 is 50 ms
	Silent bool          // open no device, run on a clock

	// Timings counts how long the blocks take; nil is nobody.
	Timings *timing.Counts
}

// leastRing is how many frames at least lie between the goroutine that renders
// and the one that writes to the device: half of the buffer, as beep divides it.
// The device takes from that ring at its own pace, and what it has taken is
// rendered anew; no timer is involved. Below this, the garbage collector's work
// can be heard as drop-outs.
const leastRing = 512

// State is what there is to show of an Output.
type State struct {
	Silent      bool          // no device: the chain runs on a clock
	Reason      string        // why it is silent, a sentence for people; empty otherwise
	Latency     time.Duration // of the buffer
	LevelDB     float64       // listening level; MinLevel is silence
	PeakDB      float64       // highest sample since the last State, dBFS
	RMSDB       float64       // over 0.3 s, dBFS; a full-scale sine on both sides reads -3.01
	LimiterDB   float64       // lowest gain of the limiter since the last State, 0 or negative
	LimitedRuns int64         // blocks that were limited since the start
	Faded       bool          // faded out by Mute
}

// Output is an open loudspeaker or the clock that stands in for it. Its methods
// may be called from any goroutine.
type Output struct {
	chain   *chain
	options Options

	mu     sync.Mutex
	reason string // why there is no device
	level  float64
	close  chan struct{}
	closed sync.WaitGroup
}

// Open starts to play source. It never fails: where there is no device the
// Output is silent, runs on a clock, and its State tells why.
func Open(source Source, o Options) *Output {
	if o.Rate == 0 {
		o.Rate = 48000
	}
	if o.Buffer == 0 {
		o.Buffer = 50 * time.Millisecond
	}
	o.Buffer = min(max(o.Buffer, 2*beep.SampleRate(o.Rate).D(leastRing)), time.Second)
	out := &Output{chain: newChain(source, o.Rate), options: o, level: SafeStart, close: make(chan struct{})}
	out.closed.Add(1)
	go out.run()
	return out
}

// run opens the device, outside the window's way, and watches over it.
func (o *Output) run() {
	defer o.closed.Done()
	if o.options.Silent {
		o.fail("sound is switched off: the meters run on a clock")
		o.clock()
		return
	}
	if err := startDevice(o); err != nil {
		o.fail("no sound device can be opened: silent, the meters run on a clock")
		o.clock()
		return
	}
	if o.watch() {
		o.fail("the sound device went away: silent until the next start, the meters run on a clock")
		o.clock()
	}
}

// device is the one speaker that a process can open (beep keeps it for ever).
var device struct {
	sync.Mutex
	opened bool
	err    error
}

func startDevice(o *Output) error {
	device.Lock()
	defer device.Unlock()
	if !device.opened {
		device.opened = true
		quietDriver()
		rate := beep.SampleRate(o.options.Rate)
		device.err = speaker.Init(rate, rate.N(o.options.Buffer))
	}
	if device.err == nil {
		device.err = speaker.Resume() // tells the driver's own error, which Init does not wait for
	}
	if device.err != nil {
		return device.err
	}
	speaker.Clear()
	speaker.Play(&stream{chain: o.chain, timings: o.options.Timings, begin: raise})
	return nil
}

// watch returns true when the device fails, false when the Output is closed.
func (o *Output) watch() bool {
	ticker := time.NewTicker(time.Second)
	defer ticker.Stop()
	for {
		select {
		case <-o.close:
			speaker.Clear()
			return false
		case <-ticker.C:
			if speaker.Resume() != nil {
				return true
			}
		}
	}
}

func (o *Output) fail(reason string) {
	o.mu.Lock()
	o.reason = reason
	o.mu.Unlock()
}

var errClosed = errors.New("sound: this output was closed before")

// Close fades out, waits for the fade, and lets the device go.
func (o *Output) Close() error {
	select {
	case <-o.close:
		return errClosed
	default:
	}
	o.Mute(true)
	time.Sleep(o.options.Buffer + time.Duration(fadeSeconds*float64(time.Second)))
	close(o.close)
	o.closed.Wait()
	return nil
}

// SetLevel sets the listening level in dB, MinLevel (silence) to MaxLevel. The
// change is gradual. It is not part of a take: a take sounds the same at every
// listening level.
func (o *Output) SetLevel(db float64) {
	db = min(max(db, MinLevel), MaxLevel)
	o.mu.Lock()
	o.level = db
	o.mu.Unlock()
	o.chain.setLevel(db)
}

// Mute fades everything out, or in again.
func (o *Output) Mute(on bool) { o.chain.silent.Store(on) }

// Frames returns how many samples have been rendered since the start.
func (o *Output) Frames() int64 { return o.chain.frames.Load() }

// Play plays an audition beside the source from its start. right may be nil
// for one channel. The slices are not copied and must not change.
func (o *Output) Play(left, right []float64) {
	if right == nil {
		right = left
	}
	o.chain.audition.Store(&audition{left: left, right: right, gain: 1})
}

// StopAudition fades the audition out.
func (o *Output) StopAudition() {
	if a := o.chain.audition.Load(); a != nil {
		a.stop.Store(true)
	}
}

// Auditioning tells whether an audition is sounding.
func (o *Output) Auditioning() bool {
	a := o.chain.audition.Load()
	return a != nil && !a.ended.Load()
}

// State reads the meters. Peak and limiter readings are since the last State,
// so one reader should call it.
func (o *Output) State() State {
	o.mu.Lock()
	reason, level := o.reason, o.level
	o.mu.Unlock()
	c := o.chain
	return State{
		Silent:      reason != "",
		Reason:      reason,
		Latency:     o.options.Buffer,
		LevelDB:     level,
		PeakDB:      decibels(math.Float64frombits(c.peak.Swap(0))),
		RMSDB:       decibels(math.Float64frombits(c.rms.Load())),
		LimiterDB:   decibels(math.Float64frombits(c.reduction.Swap(math.Float64bits(1)))),
		LimitedRuns: c.clips.Load(),
		Faded:       c.silent.Load(),
	}
}

func decibels(x float64) float64 {
	if x <= 0 {
		return math.Inf(-1)
	}
	return 20 * math.Log10(x)
}
