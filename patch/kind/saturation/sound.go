package saturation

import (
	"lampblack/patch/dsp/line"
	"lampblack/patch/dsp/oversample"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

const (
	factor = 8
	// pad is by how many samples of the higher rate the bent sound is kept back, so
	// that with the converter's time and the one sample of average it is late by
	// a whole number of samples. One more sample is that of lift.
	pad = 4
	// lift raises what average takes from the highest frequencies: at an angle of w a
	// sample it takes w w/3 of what was there (a straight curve), but only w w/12 of
	// what a corner makes. The middle of both is left: 0.13 dB at 20 of 48 kHz.
	lift = 5.0 / 24
	// block is the frequency in Hz under which a direct voltage is blocked.
	block = 5
)

// Latency is by how many samples the output is late: 520/8.
const Latency = 65

type sound struct {
	inverse float64 // 1 / sample rate
	begun   bool
	rates   oversample.Converter
	bent    average
	kept    [factor]float64 // the last samples of the higher rate
	y1, y2  float64         // the last ones before lift
	dc      line.Cut
	plain   line.Line
}

func newSound(s module.Setup) module.Sound {
	tanh()
	return &sound{inverse: 1 / s.Rate, rates: oversample.New(factor), plain: line.New(Latency)}
}

// Block bends.
func (s *sound) Block(b *module.Block) {
	in, out := b.In[0][:b.N], b.Out[0][:b.N]
	drive, bias := b.Controls[0].V[:b.N], b.Controls[1].V[:b.N]
	level, mix := b.Controls[3].V[:b.N], b.Controls[4].V[:b.N]
	s.bent.use(control.Number(b.Controls[2].V[0], 2))
	blocked := control.Number(b.Controls[5].V[0], 1) == 0
	if !s.begun {
		s.begin(bias[0])
	}
	for i, x := range in {
		x = line.Safe(x, &b.Clamped)
		s.plain.Put(x)
		y := s.bend(float64(x*drive[i])+bias[i]) - value(s.bent.curve, bias[i])
		if mean := s.dc.Low(y, block, s.inverse); blocked {
			y -= mean
		}
		late := s.plain.Whole(Latency)
		out[i] = late + float64(mix[i]*(float64(y*control.Gain(level[i]))-late))
	}
}

// begin fills the filters with what silence is under this bias: from zeros they
// would take Latency samples to get there, which is heard as a thump.
func (s *sound) begin(bias float64) {
	s.begun = true
	for range 2 * Latency {
		s.bend(bias)
	}
}

// bend runs a sample through the curve at the higher rate.
func (s *sound) bend(x float64) float64 {
	var high [factor]float64
	s.rates.Up(x, &high)
	for i, x := range high {
		y := s.bent.next(x)
		high[i] = s.y1 + float64(lift*(float64(2*s.y1)-y-s.y2))
		s.y1, s.y2 = y, s.y1
	}
	var late [factor]float64
	copy(late[:pad], s.kept[factor-pad:])
	copy(late[pad:], high[:factor-pad])
	s.kept = high
	return s.rates.Down(&late)
}

// Resume goes on where from stands. The plain sound's line is copied, the rest
// lies in the struct itself; tables are never written to.
func (s *sound) Resume(from module.Sound) {
	f, ok := from.(*sound)
	if !ok {
		return
	}
	plain := s.plain
	plain.Copy(&f.plain)
	*s = *f
	s.plain = plain
}
