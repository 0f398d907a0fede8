package pan

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// The laws, in the order of their words.
const (
	power = iota
	between
)

// sound keeps the gains of the position that was last computed, no state.
type sound struct {
	position, left, right float64
	law                   int
}

func newSound(module.Setup) module.Sound {
	s := &sound{}
	s.aim(0, power)
	return s
}

// Block multiplies by the gains.
func (s *sound) Block(b *module.Block) {
	in, position := b.In[0][:b.N], b.Controls[0].V[:b.N]
	left, right := b.Out[0][:b.N], b.Out[1][:b.N]
	law := control.Number(b.Controls[1].V[0], 2)
	for i, x := range in {
		if position[i] != s.position || law != s.law {
			s.aim(position[i], law)
		}
		left[i], right[i] = float64(x*s.left), float64(x*s.right)
	}
}

// aim computes the gains. The two sides come from one function of the distance,
// so that they are mirror images to the bit.
func (s *sound) aim(position float64, law int) {
	s.position, s.law = position, law
	s.left, s.right = gain((1-position)*0.5, law), gain((1+position)*0.5, law)
}

// gain is that of the side to which a part x, 0 to 1, of the way has been gone.
func gain(x float64, law int) float64 {
	if x <= 0 || x >= 1 {
		return min(max(x, 0), 1) // exactly
	}
	switch law {
	case power:
		return approx.Sine(float64(x * 0.25))
	case between:
		return math.Sqrt(float64(x * approx.Sine(float64(x*0.25))))
	}
	return x
}
